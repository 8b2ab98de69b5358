import type { VNode } from 'preact';
import { AMOUNT_ACTIONS, AMOUNT_UNITS } from '../../../basics/terms.ts';
import type { Fields } from '../../../corrections/corrections.ts';
import type { Amount, Note } from '../../../notes/note.ts';
import { Choose, NumberBox } from './field.tsx';

/** The frames of a note: one number is one frame, none is none. */
export function FrameFields({
  frames,
  onSet,
}: {
  frames: Note['frames'];
  onSet: (frames: NonNullable<Fields['frames']> | null) => void;
}): VNode {
  const first = frames && Math.round(frames.first);
  const last = frames && Math.round(frames.last);
  return (
    <>
      <NumberBox
        label="First frame"
        value={first}
        onSet={(value) =>
          onSet(
            value === null
              ? null
              : { first: Math.round(value), last: Math.max(Math.round(value), last ?? value) },
          )
        }
      />
      <span> to </span>
      <NumberBox
        label="Last frame"
        value={last}
        onSet={(value) => {
          if (value !== null) onSet({ first: first ?? Math.round(value), last: Math.round(value) });
          else onSet(first === null ? null : { first, last: first });
        }}
      />
    </>
  );
}

const PLAIN: Amount = { min: 1, max: 1, unit: 'frames', what: 'add' };

/** The amount of a note: how much, of what, and what it does. */
export function AmountFields({
  amount,
  onSet,
}: {
  amount: Note['amount'];
  onSet: (amount: Amount | null) => void;
}): VNode {
  if (!amount) {
    return (
      <button type="button" onClick={() => onSet(PLAIN)}>
        Add an amount
      </button>
    );
  }
  return (
    <>
      <Choose
        label="What to do"
        value={amount.what}
        values={AMOUNT_ACTIONS}
        none="no amount"
        onChoose={(what) => onSet(what && { ...amount, what })}
      />
      <NumberBox
        label="At least"
        value={amount.min}
        step="any"
        onSet={(min) => min !== null && onSet({ ...amount, min, max: Math.max(min, amount.max) })}
      />
      <span> to </span>
      <NumberBox
        label="At most"
        value={amount.max}
        step="any"
        onSet={(max) => max !== null && onSet({ ...amount, max, min: Math.min(max, amount.min) })}
      />
      <Choose
        label="Unit"
        value={amount.unit}
        values={AMOUNT_UNITS}
        onChoose={(unit) => unit && onSet({ ...amount, unit })}
      />
    </>
  );
}
