import { untilAborted } from '../../basics/abort.ts';
import type { Engine } from './engine.ts';

/**
 * Gives an engine that nobody has to wait for: loading a model and recognising a region cannot be stopped half-way, so when
 * the signal is aborted they are left to end by themselves, and only then is the model's memory given back.
 *
 * @throws the signal's reason as soon as it is aborted, here and from `recognise`
 */
export async function stoppableEngine(
  opening: Promise<Engine>,
  signal: AbortSignal | undefined,
): Promise<Engine> {
  const opened = await untilAborted(opening, signal).catch((error: unknown) => {
    if (signal?.aborted) void opening.then((late) => late.close()).catch(() => undefined);
    throw error;
  });
  let underWay: Promise<unknown> = Promise.resolve();
  return {
    model: opened.model,
    recognise(...sound) {
      const work = opened.recognise(...sound);
      underWay = work;
      return untilAborted(work, signal);
    },
    async close() {
      const closed = Promise.allSettled([underWay]).then(() => opened.close());
      if (signal?.aborted) closed.catch(() => undefined);
      else await closed;
    },
  };
}
