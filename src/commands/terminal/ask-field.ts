import { isCancel, multiselect, select, text } from '@clack/prompts';
import { BASES, ISSUES, PARTS, SIDES, STRENGTHS } from '../../basics/terms.ts';
import type { Fields } from '../../corrections/corrections.ts';
import type { Note } from '../../notes/note.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import { FAULTS } from '../../sheet/writers/wording.ts';

type Ask = (note: Note, sheet: Sheet, signal: AbortSignal) => Promise<Fields | null>;

const NONE = '';

/** Asks which field to set and to what; null where the person thought better of it. */
export async function askField(note: Note, sheet: Sheet, signal: AbortSignal): Promise<Fields | null> {
  const name = await select({
    message: 'Which field?',
    options: Object.keys(FIELDS).map((field) => ({ value: field, label: field })),
    maxItems: 12,
    signal,
  });
  return isCancel(name) ? null : ((await FIELDS[name]?.(note, sheet, signal)) ?? null);
}

const FIELDS: Readonly<Record<string, Ask>> = {
  title: async (note, _sheet, signal) => {
    const title = await text({ message: 'Title', initialValue: note.title, signal });
    return isCancel(title) || !title.trim() ? null : { title: title.trim().slice(0, 300) };
  },
  role: async (note, _sheet, signal) =>
    one('Role', ['fix', 'keep'] as const, note.role, signal, (role) => ({ role })),
  'taken back': async (note) => ({ withdrawn: !note.withdrawn }),
  kind: async (note, _sheet, signal) => {
    const options = [
      ...ISSUES.map((issue) => ({ value: issue as string, label: `${issue}: ${FAULTS[issue]}` })),
      { value: NONE, label: 'not known' },
    ];
    const chosen = await select({
      message: 'Kind',
      options,
      initialValue: note.issue ?? NONE,
      maxItems: 12,
      signal,
    });
    return isCancel(chosen) ? null : { issue: ISSUES.find((issue) => issue === chosen) ?? null };
  },
  character: async (note, { shot }, signal) => {
    const options = [
      ...shot.characters.map(({ name }) => ({ value: name })),
      { value: NONE, label: 'not said' },
    ];
    const chosen = await select({
      message: 'Character',
      options,
      initialValue: note.character ?? NONE,
      signal,
    });
    return isCancel(chosen) ? null : { character: chosen || null };
  },
  parts: async (note, _sheet, signal) => {
    const parts = await multiselect<string>({
      message: 'Parts (space chooses)',
      options: PARTS.map((part) => ({ value: part })),
      initialValues: note.body.map(({ part }) => part),
      required: false,
      maxItems: 12,
      signal,
    });
    if (isCancel(parts)) return null;
    const side = await select({
      message: 'Side',
      options: [...SIDES.map((value) => ({ value: value as string })), { value: NONE, label: 'no side' }],
      initialValue: note.body[0]?.side ?? NONE,
      signal,
    });
    if (isCancel(side)) return null;
    const chosen = SIDES.find((one) => one === side) ?? null;
    return { body: PARTS.filter((part) => parts.includes(part)).map((part) => ({ part, side: chosen })) };
  },
  frames: async (note, _sheet, signal) => {
    const typed = await text({
      message: 'Frames, as in "1042" or "1042 to 1044"; nothing for none',
      initialValue: note.frames ? `${note.frames.first} to ${note.frames.last}` : '',
      signal,
    });
    if (isCancel(typed)) return null;
    const numbers = (typed.match(/\d+/g) ?? []).map(Number);
    const [first, last = first] = numbers;
    return { frames: first === undefined || last === undefined ? null : { first, last } };
  },
  strength: async (note, _sheet, signal) =>
    one('Strength', STRENGTHS, note.strength, signal, (strength) => ({ strength })),
  basis: async (note, _sheet, signal) => one('Basis', BASES, note.basis, signal, (basis) => ({ basis })),
};

async function one<T extends string>(
  message: string,
  values: readonly T[],
  now: T,
  signal: AbortSignal,
  fields: (value: T) => Fields,
): Promise<Fields | null> {
  const options = values.map((value) => ({ value: value as string }));
  const chosen = await select({ message, options, initialValue: now as string, signal });
  const value = isCancel(chosen) ? undefined : values.find((candidate) => candidate === chosen);
  return value === undefined ? null : fields(value);
}
