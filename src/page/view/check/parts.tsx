import type { VNode } from 'preact';
import { PARTS, SIDES } from '../../../basics/terms.ts';
import type { BodyPart } from '../../../notes/note.ts';
import { Choose } from './field.tsx';

/** The parts of a note, each with its side; choosing nothing takes a part out. */
export function PartFields({
  body,
  onSet,
}: {
  body: readonly BodyPart[];
  onSet: (body: BodyPart[]) => void;
}): VNode {
  const replace = (at: number, part: BodyPart | null): void =>
    onSet(body.flatMap((one, i) => (i === at ? (part ? [part] : []) : [one])));
  return (
    <div class="parts">
      {body.map((one, at) => (
        // The same part may be there twice, told apart by its place alone.
        <span class="part" key={at}>
          <Choose
            label={`Side of part ${at + 1}`}
            value={one.side}
            values={SIDES}
            none="no side"
            onChoose={(side) => replace(at, { ...one, side })}
          />
          <Choose
            label={`Part ${at + 1}`}
            value={one.part}
            values={PARTS}
            none="(take out)"
            onChoose={(part) => replace(at, part && { ...one, part })}
          />
        </span>
      ))}
      <Choose
        label="Add a part"
        value={null}
        values={PARTS}
        none="add a part…"
        onChoose={(part) => part && onSet([...body, { part, side: null }])}
      />
    </div>
  );
}
