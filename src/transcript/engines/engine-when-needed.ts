import type { ModelRef } from '../transcript.ts';
import type { Engine } from './engine.ts';
import { openEngine } from './open-engine.ts';

/**
 * A recogniser that is loaded for the first region that has to be recognised: never, where all were before.
 *
 * @param model As `openEngine` takes it.
 * @param ref Which model that is.
 */
export function engineWhenNeeded(model: string, ref: ModelRef): Engine {
  let opening: Promise<Engine> | undefined;
  return {
    model: ref,
    async recognise(...region) {
      opening ??= openEngine(model);
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
