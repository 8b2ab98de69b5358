import type { ComponentChildren, RefObject, VNode } from 'preact';
import { useEffect, useRef } from 'preact/hooks';

/** Below this a tag is called unsure in the page. */
const SURE = 0.85;

/** A field of the note with how surely it was understood. */
export function Field({
  label,
  sure,
  byHand,
  asked,
  children,
}: {
  label: string;
  /** 0 to 1; left out where a field has no such figure. */
  sure?: number | undefined;
  byHand: boolean;
  asked: boolean;
  children: ComponentChildren;
}): VNode {
  return (
    <div class={`field${asked ? ' asked' : ''}`}>
      <span class="label">{label}</span>
      <div class="control">{children}</div>
      <span class="sure">{byHand ? 'set by hand' : sureWords(sure)}</span>
    </div>
  );
}

function sureWords(sure: number | undefined): string {
  if (sure === undefined) return '';
  return sure >= SURE ? `sure, ${Math.round(sure * 100)} %` : `unsure, ${Math.round(sure * 100)} %`;
}

/** A choice of one among some. */
export function Choose<T extends string>({
  label,
  value,
  values,
  says,
  none,
  onChoose,
}: {
  label: string;
  value: T | null;
  values: readonly T[];
  says?: Readonly<Partial<Record<T, string>>>;
  /** What choosing nothing is called; it cannot be chosen where this is left out. */
  none?: string;
  onChoose: (value: T | null) => void;
}): VNode {
  return (
    <select
      aria-label={label}
      value={value ?? ''}
      onChange={({ currentTarget }) => onChoose(values.find((one) => one === currentTarget.value) ?? null)}
    >
      {none !== undefined && <option value="">{none}</option>}
      {values.map((one) => (
        <option key={one} value={one}>
          {says?.[one] ? `${one}: ${says[one]}` : one}
        </option>
      ))}
    </select>
  );
}

/** A number that is saved when it is left or Enter is pressed. */
export function NumberBox({
  label,
  value,
  step = 1,
  onSet,
}: {
  label: string;
  value: number | null;
  step?: number | 'any';
  onSet: (value: number | null) => void;
}): VNode {
  const box = useShown<HTMLInputElement>(value === null ? '' : String(value));
  return (
    <input
      type="number"
      class="number"
      ref={box}
      step={step}
      aria-label={label}
      onChange={({ currentTarget: { value: typed, valueAsNumber } }) =>
        onSet(typed === '' || !Number.isFinite(valueAsNumber) ? null : valueAsNumber)
      }
    />
  );
}

/** A text that is saved when it is left or, on one line, Enter is pressed. */
export function TextBox({
  label,
  value,
  lines,
  onSet,
}: {
  label: string;
  value: string;
  /** How many lines to show, where there may be more than one. */
  lines?: number;
  onSet: (value: string) => void;
}): VNode {
  const line = useShown<HTMLInputElement>(value);
  const area = useShown<HTMLTextAreaElement>(value);
  if (lines === undefined) {
    return (
      <input
        type="text"
        class="wide"
        ref={line}
        aria-label={label}
        maxLength={300}
        onChange={({ currentTarget }) => onSet(currentTarget.value)}
      />
    );
  }
  return (
    <textarea
      class="wide"
      ref={area}
      aria-label={label}
      rows={lines}
      onChange={({ currentTarget }) => onSet(currentTarget.value)}
    />
  );
}

/** Shows a value in a field whenever the value changes; what a person is typing stays until it does, and so does the focus. */
function useShown<T extends HTMLInputElement | HTMLTextAreaElement>(value: string): RefObject<T | null> {
  const field = useRef<T>(null);
  useEffect(() => {
    if (field.current) field.current.value = value;
  }, [value]);
  return field;
}
