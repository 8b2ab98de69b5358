import { messageOf } from '../basics/problem.ts';
import { type Entry, type Hit, Lexicon, MEANS_NOTHING } from './lexicon.ts';
import { compilePhrase, type IsNumber } from './phrase.ts';
import { formsOf, tokensOfText } from './tokens.ts';

/** The entries of one lexicon file. */
export interface LexiconEntries {
  readonly name: string;
  readonly entries: readonly Entry[];
}

/** Something in a lexicon that does not hold. */
export interface LexiconFault {
  readonly lexicon: string;
  /** What the entry says first. */
  readonly entry: string;
  /** The line of the entry that does not hold; `phrase` is says or also. */
  readonly line: 'yes' | 'no' | 'phrase';
  /** The sentence or the phrase. */
  readonly text: string;
  readonly message: string;
}

/**
 * Tries the entries of a lexicon: every phrase can be found somewhere, `yes` holds what the entry means and `no` does
 * not. Where an entry means nothing, its phrase must stand in `yes` and no shorter one may be found there; `no`, in which the
 * words of such a phrase may well mean something, is not looked into.
 */
export function checkLexicon({ name, entries }: LexiconEntries, isNumber: IsNumber): LexiconFault[] {
  const faults: LexiconFault[] = [];
  const sound = entries.map((entry): Entry => {
    const good: string[] = [];
    for (const phrase of phrasesOf(entry)) {
      const message = phraseFault(phrase);
      if (message === null) good.push(phrase);
      else faults.push({ lexicon: name, entry: entry.says, line: 'phrase', text: phrase, message });
    }
    const [says = entry.says, ...also] = good;
    return { ...entry, says, also, means: good.length === 0 ? NEVER : entry.means };
  });
  // The sentences are tried with the phrases that can be used, so that one bad phrase does not hide other faults.
  const lexicon = new Lexicon(
    name,
    sound.filter(({ means }) => means !== NEVER),
    isNumber,
  );
  for (const entry of entries) {
    const fault = (line: 'yes' | 'no', message: string | null): void => {
      if (message !== null)
        faults.push({ lexicon: name, entry: entry.says, line, text: entry[line], message });
    };
    fault(
      'yes',
      entry.means === MEANS_NOTHING
        ? silentFault(entry, lexicon, isNumber)
        : yesFault(entry, hitsOf(lexicon, entry.yes)),
    );
    fault('no', noFault(entry, hitsOf(lexicon, entry.no)));
  }
  return faults;
}

/** All phrases of an entry. */
export function phrasesOf({ says, also }: Entry): string[] {
  return [says, ...also];
}

/** Stands for the meaning of an entry none of whose phrases can be used. */
const NEVER = '';

function phraseFault(phrase: string): string | null {
  try {
    for (const { tests } of compilePhrase(phrase).elements) {
      for (const test of tests) {
        if (!('value' in test)) continue;
        const forms = formsOf(test.value);
        if (forms.length !== 1 || forms[0] !== test.value)
          return `"${test.value}" is no word that talk can hold: leave out signs`;
      }
    }
    return null;
  } catch (error) {
    return messageOf(error);
  }
}

/** A place where a lexicon's phrase was found in a sentence, and the words there. */
interface Place extends Hit {
  readonly words: string;
}

/** Where the phrases of an entry that means nothing stand in its own sentence. */
function placesOf(entry: Entry, name: string, isNumber: IsNumber): Place[] {
  const usable = phrasesOf(entry).filter((phrase) => phraseFault(phrase) === null);
  const [says, ...also] = usable;
  return says === undefined
    ? []
    : hitsOf(new Lexicon(name, [{ ...entry, says, also, means: 'found' }], isNumber), entry.yes);
}

function hitsOf(lexicon: Lexicon, sentence: string): Place[] {
  const tokens = tokensOfText(sentence);
  return lexicon.find(tokens).map((hit) => ({
    ...hit,
    words: tokens
      .slice(hit.first, hit.last + 1)
      .map(({ form }) => form)
      .join(' '),
  }));
}

function yesFault({ means }: Entry, hits: readonly Place[]): string | null {
  if (hits.some((hit) => hit.means === means)) return null;
  return `${means} is not found in it${hits.length === 0 ? '' : `, only ${listOf(hits)}`}`;
}

/** What is wrong with an entry that means nothing: its phrase is not in its sentence, or a shorter one is found in it. */
function silentFault(entry: Entry, lexicon: Lexicon, isNumber: IsNumber): string | null {
  const places = placesOf(entry, lexicon.name, isNumber);
  if (places.length === 0) return 'its phrase does not stand in it';
  const heard = hitsOf(lexicon, entry.yes).filter((hit) => places.some((place) => liesInside(hit, place)));
  return heard.length === 0 ? null : `nothing should be found in it, but ${listOf(heard)}`;
}

function liesInside(hit: Place, place: Place): boolean {
  return (
    hit.first >= place.first && hit.last <= place.last && hit.last - hit.first < place.last - place.first
  );
}

function noFault({ means }: Entry, hits: readonly Place[]): string | null {
  const wrong = hits.filter((hit) => hit.means === means);
  return means === MEANS_NOTHING || wrong.length === 0
    ? null
    : `it should not be found in it, but ${listOf(wrong)}`;
}

function listOf(hits: readonly Place[]): string {
  return hits.map(({ words, means, phrase }) => `"${words}" is ${means} (phrase "${phrase}")`).join(', ');
}
