import { openEngine } from '../../../src/transcript/engines/open-engine.ts';
import type { ListenFor } from '../../../src/transcript/glossary/listen-for.ts';
import { heardInTwo, heardWhole } from './cut-in-two.ts';
import { AROUND_SECONDS, type CutSound, foundCuts, randomCuts } from './cuts.ts';
import { addFaults, type JoinFaults, noFaults } from './join-faults.ts';

const OVERLAP_SECONDS = 1;

export interface JoinsOptions {
  readonly cuts: number;
  readonly seed: number;
  /** Shows as well what a cutter does whose sides hear nothing past the cut. */
  readonly withBare: boolean;
  /** Cuts as `findRegions` makes them, instead of random ones. */
  readonly found: boolean;
  readonly listenFor: ListenFor;
}

/**
 * Cuts talks in the middle of speech, hears both sides and joins them as `transcribe` does, and compares with the same
 * stretch heard whole: words near the cut that were right there and are now lost or changed, and words that now stand there
 * twice.
 */
export async function printJoins(model: string, options: JoinsOptions): Promise<void> {
  const { cuts, seed, withBare, found, listenFor } = options;
  const engine = await openEngine(model, { listenFor });
  const [joined, bare] = [noFaults(), noFaults()];
  let done = 0;
  const hear = async ({ samples, voice, truth }: CutSound) => {
    const whole = await heardWhole(engine, samples, voice);
    const ways = withBare
      ? ([
          [joined, OVERLAP_SECONDS],
          [bare, 0],
        ] as const)
      : ([[joined, OVERLAP_SECONDS]] as const);
    for (const [faults, past] of ways) {
      const { joined: words, before, after } = await heardInTwo(engine, samples, voice, AROUND_SECONDS, past);
      addFaults(faults, { truth, whole, joined: words, sides: [before.words, after.words] });
    }
    done++;
  };
  for await (const sound of found ? foundCuts(cuts) : randomCuts(cuts, seed)) await hear(sound);
  await engine.close();
  console.log(`\n${model}: ${done} cuts in speech, ${found ? 'as regions are cut' : 'at random moments'}`);
  console.log('how | lost by joining | doubled | changed by joining | lost, misheard by both sides');
  print('joined', joined);
  if (withBare) print('cut bare', bare);
  for (const [fault, words] of Object.entries(joined)) console.log(`${fault}: ${words.join('; ')}`);
}

function print(how: string, { lost, doubled, changed, missed, misheard }: JoinFaults): void {
  console.log(
    [how, lost.length, doubled.length, changed.length, `${missed.length}, ${misheard.length}`].join(' | '),
  );
}
