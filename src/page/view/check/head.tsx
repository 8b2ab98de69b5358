import type { VNode } from 'preact';
import { standing } from '../../../corrections/decisions.ts';
import type { CheckState } from '../../check-api.ts';
import { Key } from './key.tsx';
import { endChecking } from './server.ts';
import type { PageActions } from './use-actions.ts';
import type { Check } from './use-check.ts';

const SAVING = {
  saved: 'Everything is saved.',
  saving: 'Saving…',
  ended: 'critsheet has stopped. Everything is saved; this page can be closed.',
};

/** The shot, how far the checking is, and what was done last. */
export function Head({
  check,
  state,
  keysOn,
  onKeys,
  actions,
}: {
  check: Check;
  state: CheckState;
  keysOn: boolean;
  onKeys: (on: boolean) => void;
  actions: PageActions;
}): VNode {
  const { saving, said } = check;
  const { shot, recording } = state.sheet;
  const made = standing(state.decisions).length;
  const left = state.queue.filter((id) => !actions.done.has(id)).length;
  return (
    <header>
      <div class="slate">
        <h1>{shot.name}</h1>
        <dl>
          <div>
            <dt>Recording</dt>
            <dd>{recording.file}</dd>
          </div>
          <div>
            <dt>To look at</dt>
            <dd>{left}</dd>
          </div>
          <div>
            <dt>Decided</dt>
            <dd>{made}</dd>
          </div>
        </dl>
      </div>
      <div class="bar">
        <button type="button" onClick={actions.byKey.undo} disabled={made === 0}>
          Undo {keysOn && <Key name="undo" />}
        </button>
        <button
          type="button"
          disabled={made === 0}
          onClick={() => confirm(`Undo all ${made} decisions?`) && void check.undoAll()}
        >
          Undo everything
        </button>
        <label class="switch">
          <input
            type="checkbox"
            checked={keysOn}
            onChange={({ currentTarget }) => onKeys(currentTarget.checked)}
          />{' '}
          keys act
        </label>
        <button type="button" onClick={actions.byKey.help} aria-expanded={actions.helping}>
          Keys {keysOn && <Key name="help" />}
        </button>
        <button type="button" onClick={() => void endChecking()} disabled={saving.kind === 'ended'}>
          Finish
        </button>
      </div>
      <p class={`saving ${saving.kind}`} role={saving.kind === 'fault' ? 'alert' : undefined}>
        {saving.kind === 'fault' ? `Not saved: ${saving.why}` : SAVING[saving.kind]}
        {state.silent && ` No sound. ${state.silent}`}
      </p>
      <p class="last" role="status">
        {said}
      </p>
      {state.unfit.length > 0 && (
        <details class="unfit">
          <summary>{state.unfit.length} earlier decisions no longer fit this sheet</summary>
          <ul>
            {state.unfit.map((one) => (
              <li key={one}>{one}</li>
            ))}
          </ul>
        </details>
      )}
    </header>
  );
}
