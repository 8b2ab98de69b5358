import nlp from 'compromise';

/** Words that this talk uses as names of things where everyday English uses them as verbs. */
const NAMES_OF_THINGS = Object.fromEntries(
  ['frame', 'frames', 'pose', 'poses', 'hold', 'blink', 'shot', 'key', 'keys', 'arc', 'breakdown'].map(
    (word) => [word, 'Noun'],
  ),
);

/** What the grammar of a stretch of talk can be asked: a name and compromise's own pattern for it. */
const QUESTIONS: readonly (readonly [name: string, pattern: string])[] = [
  ['opens-with-verb', '^(#Adverb|please|and|so|then|just)? #Infinitive'],
  ['imperative', '#Imperative'],
  ['past', '#PastTense'],
  ['modal', '#Modal'],
  ['negative', '#Negative'],
  ['gerund', '#Gerund'],
  ['comparative', '#Comparative'],
  ['superlative', '#Superlative'],
  ['asks', '#QuestionWord'],
];

const MOST_REMEMBERED = 20_000;
const remembered = new Map<string, readonly string[]>();

/** The grammatical marks of a short text. Call it a statement at a time: on one long string it is slow. */
export function grammarOf(text: string): readonly string[] {
  let marks = remembered.get(text);
  if (!marks) {
    const read = nlp(text, NAMES_OF_THINGS);
    marks = QUESTIONS.filter(([, pattern]) => read.has(pattern)).map(([name]) => name);
    if (remembered.size >= MOST_REMEMBERED) remembered.clear();
    remembered.set(text, marks);
  }
  return marks;
}
