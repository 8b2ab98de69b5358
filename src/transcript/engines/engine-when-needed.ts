import type { ModelRef } from '../transcript.ts';
import type { Engine } from './engine.ts';

/**
 * A recogniser that is loaded for the first region that has to be recognised: never, where all were before.
 *
 * @param model Which model that is.
 * @param open Loads it.
 */
export function engineWhenNeeded(model: ModelRef, open: () => Promise<Engine>): Engine {
  let opening: Promise<Engine> | undefined;
  return {
    model,
    async recognise(...region) {
      opening ??= open();
      return (await opening).recognise(...region);
    },
    async close() {
      // Whoever recognised has been told already why it could not be opened.
      await opening?.then(
        (engine) => engine.close(),
        () => undefined,
      );
    },
  };
}
