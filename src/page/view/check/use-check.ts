import { useCallback, useEffect, useRef, useState } from 'preact/hooks';
import type { Decision, Step } from '../../../corrections/corrections.ts';
import { standing } from '../../../corrections/decisions.ts';
import { describeDecision } from '../../../corrections/describe.ts';
import { findNote } from '../../../corrections/find-note.ts';
import { setFields } from '../../../corrections/steps/set.ts';
import type { CheckState } from '../../check-api.ts';
import { decisionOf, listen, loadState, sendDecisions } from './server.ts';

/** A state with fields already as decisions will set them, so that the next one begins from there. */
function withFields(state: CheckState, decisions: readonly Decision[]): CheckState {
  let { notes } = state.sheet;
  for (const decision of decisions) {
    if (decision.do !== 'set') continue;
    const meant = findNote(notes, decision.note);
    notes = notes.map((note) =>
      note === meant ? setFields(note, decision.fields, { retitle: ({ title }) => title }) : note,
    );
  }
  return { ...state, sheet: { ...state.sheet, notes } };
}

/** How the saving is. */
export type Saving =
  | { readonly kind: 'saved' | 'saving' | 'ended' }
  | { readonly kind: 'fault'; readonly why: string };

export interface Check {
  readonly state: CheckState | null;
  readonly saving: Saving;
  /** What was done last, for the line that everybody sees and screen readers say. */
  readonly said: string;
  readonly say: (text: string) => void;
  readonly decide: (...steps: Step[]) => Promise<CheckState | null>;
  /** Undoes the last decision that stands. */
  readonly undo: () => Promise<void>;
  readonly undoAll: () => Promise<void>;
}

const SLOW_MILLISECONDS = 400;

/** The state of the sheet as the server has it, and what a person can do to it. Every decision is saved at once. */
export function useCheck(): Check {
  const [state, setState] = useState<CheckState | null>(null);
  const [saving, setSaving] = useState<Saving>({ kind: 'saved' });
  const [said, say] = useState('');
  const newest = useRef<CheckState | null>(null);
  /** One after another: two saves of one page must not overtake each other. */
  const last = useRef<Promise<unknown>>(Promise.resolve());

  /** What is on its way to the server, and is shown as if it had been there. */
  const sending = useRef<Decision[]>([]);

  const show = useCallback((): void => {
    if (newest.current) setState(withFields(newest.current, sending.current));
  }, []);
  const take = useCallback(
    (fresh: CheckState): void => {
      if (newest.current && fresh.revision < newest.current.revision) return;
      newest.current = fresh;
      show();
    },
    [show],
  );

  const load = useCallback((): void => {
    loadState().then(take, (error: Error) => setSaving({ kind: 'fault', why: error.message }));
  }, [take]);

  useEffect(() => {
    load();
    listen(
      () => void last.current.then(load),
      () => setSaving({ kind: 'ended' }),
    );
  }, [load]);

  const send = useCallback(
    (decisions: readonly Decision[], words: string): Promise<CheckState | null> => {
      // Told only where it takes long: a page that blinks at each key tires.
      const slow = setTimeout(() => setSaving({ kind: 'saving' }), SLOW_MILLISECONDS);
      sending.current = [...sending.current, ...decisions];
      show();
      const arrived = (): void => {
        sending.current = sending.current.filter((one) => !decisions.includes(one));
      };
      const sent = last.current.then(async () => {
        try {
          const answer = await sendDecisions({ seen: newest.current?.revision ?? 0, decisions });
          arrived();
          take(answer.state);
          setSaving({ kind: 'saved' });
          const others = answer.meanwhile.length
            ? ` Meanwhile another page decided: ${answer.meanwhile.join('; ')}. Both are kept, and yours stands where they differ.`
            : '';
          say(`${words}.${others}`);
          return answer.state;
        } catch (error) {
          arrived();
          show();
          setSaving({ kind: 'fault', why: error instanceof Error ? error.message : String(error) });
          return null;
        } finally {
          clearTimeout(slow);
        }
      });
      last.current = sent;
      return sent;
    },
    [take, show],
  );

  const decide = useCallback(
    (...steps: Step[]) => {
      const decisions = steps.map(decisionOf);
      return send(decisions, decisions.map(describeDecision).join('; '));
    },
    [send],
  );
  const undo = useCallback(async () => {
    await last.current;
    const decision = standing(newest.current?.decisions ?? []).at(-1);
    if (!decision) say('There is nothing to undo.');
    else
      await send(
        [decisionOf({ do: 'undo', decision: decision.id })],
        `Undone: ${describeDecision(decision)}`,
      );
  }, [send]);
  const undoAll = useCallback(async () => {
    await last.current;
    const decisions = standing(newest.current?.decisions ?? []).reverse();
    const undoing = decisions.map(({ id }) => decisionOf({ do: 'undo', decision: id }));
    if (undoing.length > 0) await send(undoing, 'Everything is undone');
  }, [send]);
  return { state, saving, said, say, decide, undo, undoAll };
}
