import type { VNode } from 'preact';
import { KEYS } from './keys.ts';

/** All keys, and what each does. */
export function Help(): VNode {
  return (
    <section class="help" aria-label="Keys">
      <dl>
        {Object.entries(KEYS).map(([name, { key, says }]) => (
          <div key={name}>
            <dt>
              <kbd>{key}</kbd>
            </dt>
            <dd>{says}</dd>
          </div>
        ))}
        <div>
          <dt>
            <kbd>Esc</kbd>
          </dt>
          <dd>stop the sound, close what is open</dd>
        </div>
      </dl>
      <p>Keys do nothing while you type in a field. They can be switched off above.</p>
    </section>
  );
}
