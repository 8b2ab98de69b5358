import type { Note } from '../../notes/note.ts';
import { askedField } from '../asked-fields.ts';
import type { Reading } from '../correctable.ts';
import type { Fields } from '../corrections.ts';

type Sure = keyof Note['confidence'];

/** Fields whose sureness a note tells. */
const TAGS: readonly Sure[] = ['role', 'issue', 'body', 'basis', 'strength', 'frames'];
/** A title is made of these; it is made anew where one changes, until a person writes a title. */
const IN_TITLE: readonly (keyof Fields)[] = ['role', 'issue', 'body', 'amount', 'character'];

/** Sets fields of a note. What a person set is sure, and nobody need look at it again. */
export function setFields(note: Note, fields: Fields, { retitle }: Pick<Reading, 'retitle'>): Note {
  const names = Object.entries(fields).flatMap(([name, value]) => (value === undefined ? [] : [name]));
  const set: Note = {
    ...note,
    title: fields.title ?? note.title,
    role: fields.role ?? note.role,
    basis: fields.basis ?? note.basis,
    strength: fields.strength ?? note.strength,
    character: fields.character === undefined ? note.character : fields.character,
    body: fields.body ?? note.body,
    issue: fields.issue === undefined ? note.issue : fields.issue,
    frames: fields.frames === undefined ? note.frames : fields.frames && framesByHand(note, fields.frames),
    amount: fields.amount === undefined ? note.amount : fields.amount,
    options: fields.options ?? note.options,
    withdrawn: fields.withdrawn ?? note.withdrawn,
    confidence: { ...note.confidence },
    check: note.check.filter((entry) => !names.includes(askedField(entry))),
    corrected: [...new Set([...correctedFields(note), ...names])],
  };
  for (const tag of TAGS) if (names.includes(tag)) set.confidence[tag] = 1;
  if (fields.issue !== undefined) {
    set.issueAlternatives = note.issueAlternatives.filter((issue) => issue !== fields.issue);
  }
  if (fields.strength ?? fields.basis) set.priority = { ...set.priority, reasons: reasonsOf(set) };
  const isOwnTitle = correctedFields(set).includes('title');
  if (!isOwnTitle && IN_TITLE.some((name) => names.includes(name))) set.title = retitle(set);
  return set;
}

/** The fields of a note that a person set. */
export function correctedFields(note: Note): string[] {
  const { corrected } = note;
  return Array.isArray(corrected) ? corrected.filter((name) => typeof name === 'string') : [];
}

/** Where frames came from stays told; that a person set them stands beside it. */
function framesByHand(note: Note, { first, last }: { first: number; last: number }): Note['frames'] {
  return {
    first: Math.min(first, last),
    last: Math.max(first, last),
    source: note.frames?.source ?? 'spoken',
    confidence: 1,
    setBy: 'person',
  };
}

/** Reasons that say how a note was meant; they must not go on saying it where a person decided otherwise. */
const OF_WEIGHT = ['has to be done', 'technical', 'a matter of taste', 'optional'];

function reasonsOf({ priority, strength, basis }: Note): string[] {
  return [
    ...priority.reasons.filter((reason) => !OF_WEIGHT.includes(reason)),
    ...(strength === 'must' ? ['has to be done'] : []),
    basis === 'technical' ? 'technical' : 'a matter of taste',
    ...(strength === 'could' ? ['optional'] : []),
  ];
}
