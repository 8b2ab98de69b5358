import type { Decision, Step } from '../../../corrections/corrections.ts';
import type { CheckState, DecideAnswer, DecideRequest } from '../../check-api.ts';

/** Asks the server; its answers are of this program's own version. @throws Error with a sentence for a person. */
async function ask<T>(address: string, body?: unknown): Promise<T> {
  const answer = await fetch(address, {
    method: body === undefined ? 'GET' : 'POST',
    ...(body !== undefined && {
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(body),
    }),
  }).catch(() => {
    throw new Error(
      'critsheet is not running any more, so this was not saved. Start "critsheet check" again.',
    );
  });
  if (answer.ok) return answer.json();
  const said: { error?: string } = await answer.json().catch(() => ({}));
  throw new Error(said.error ?? 'critsheet refused this.');
}

export const loadState = (): Promise<CheckState> => ask('/state');

export const sendDecisions = (request: DecideRequest): Promise<DecideAnswer> => ask('/decisions', request);

export const endChecking = (): Promise<unknown> => ask('/stop', {});

/** A step as a decision, with an id that no other page gives. */
export function decisionOf(step: Step): Decision {
  return { id: crypto.randomUUID(), at: new Date().toISOString(), ...step };
}

/** Listens for what other pages save, and for the end. */
export function listen(onSaved: (revision: number) => void, onEnded: () => void): void {
  const events = new EventSource('/events');
  events.addEventListener('saved', ({ data }) => onSaved(Number(data)));
  events.addEventListener('ended', () => {
    events.close();
    onEnded();
  });
}

/** Where a stretch of the recording is heard. */
export function soundAddress(from: number, to: number): string {
  return `/sound?from=${from.toFixed(3)}&to=${to.toFixed(3)}`;
}
