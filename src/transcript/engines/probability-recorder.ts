import type { LogitsProcessorList, Tensor } from '@xenova/transformers';
import type { Library } from './library.ts';

/** Of 32,768 tokens so far below the best one, all together weigh less than half a percent of it. */
const NEGLIGIBLE = -16;

/** Looks on while tokens are chosen. */
export interface ProbabilityRecorder {
  /** To be given to `generate`. */
  readonly list: LogitsProcessorList;
  /** One for each token chosen so far. */
  readonly probabilities: readonly number[];
}

/** Notes the probability of each token that greedy decoding is about to choose: the softmax of the greatest logit. */
export function probabilityRecorder(library: Library): ProbabilityRecorder {
  const probabilities: number[] = [];
  class Recorder extends library.LogitsProcessor {
    override _call(_ids: bigint[][], logits: Tensor): Tensor {
      const values = logits.data as Float32Array;
      let greatest = Number.NEGATIVE_INFINITY;
      for (const value of values) if (value > greatest) greatest = value;
      let sum = 0;
      for (const value of values) {
        const below = value - greatest;
        if (below > NEGLIGIBLE) sum += Math.exp(below);
      }
      probabilities.push(1 / sum);
      return logits;
    }
  }
  const list = new library.LogitsProcessorList();
  list.push(new Recorder());
  return { list, probabilities };
}

/** The mean natural logarithm of probabilities: 0 where all are certain; null where there are none. */
export function meanLog(probabilities: readonly number[]): number | null {
  if (probabilities.length === 0) return null;
  const logs = probabilities.map((probability) => Math.log(Math.max(probability, 1e-9)));
  return logs.reduce((sum, log) => sum + log, 0) / logs.length;
}
