import type { VNode } from 'preact';
import type { Note } from '../../../notes/note.ts';
import { FAULTS } from '../wording.ts';

/** What the list can be narrowed by and put in order by. The script shows it: without one nothing here would work. */
export function Filters({ notes }: { notes: readonly Note[] }): VNode {
  const characters = listed(notes.map((note) => note.character));
  const parts = listed(notes.flatMap((note) => note.body.map(({ part }) => part)));
  const kinds = listed(notes.map((note) => note.issue));
  return (
    <form class="filters" aria-label="Which notes, in which order" hidden>
      <Choice name="character" label="Character" all="everybody" values={characters} />
      <Choice name="part" label="Part" all="every part" values={parts} />
      <Choice name="kind" label="Kind" all="every kind" values={kinds} says={FAULTS} />
      <fieldset>
        <legend>Order</legend>
        <label>
          <input type="radio" name="order" value="rank" checked /> by rank
        </label>
        <label>
          <input type="radio" name="order" value="frame" /> by frame
        </label>
      </fieldset>
      <label>
        <input type="checkbox" name="open" /> only what is not done
      </label>
      <p class="shown" role="status" />
    </form>
  );
}

function Choice({
  name,
  label,
  all,
  values,
  says = {},
}: {
  name: string;
  label: string;
  all: string;
  values: readonly string[];
  says?: Readonly<Record<string, string>>;
}): VNode | null {
  if (values.length === 0) return null;
  return (
    <label>
      {label}
      <select name={name}>
        <option value="">{all}</option>
        {values.map((value) => (
          <option key={value} value={value}>
            {says[value] ? `${value}: ${says[value]}` : value}
          </option>
        ))}
      </select>
    </label>
  );
}

function listed(values: readonly (string | null)[]): string[] {
  return [...new Set(values.filter((value) => value !== null))].sort();
}
