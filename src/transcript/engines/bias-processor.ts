import type { LogitsProcessor, Tensor } from '@xenova/transformers';
import type { Bias } from './beam-search.ts';
import type { Library } from './library.ts';

/** A token that is in no phrase and begins a word: what other tokens are held against. */
const NO_TOKEN = -1;
/** What was chosen is not asked again how likely it was. */
const CERTAIN = 0;

/**
 * The pull of a bias for the library's own decoding, which writes one text: what a token would add to the text's score, against
 * a token that no phrase holds, is added to its logit. So a phrase that has begun is gone on with more gladly, and leaving it
 * costs what it had earned.
 */
export function biasProcessor<State>(library: Library, bias: Bias<State>): LogitsProcessor {
  class Pull extends library.LogitsProcessor {
    private state = bias.start;
    private written = 0;

    override _call(ids: bigint[][], logits: Tensor): Tensor {
      const text = ids[0] ?? [];
      if (text.length <= this.written) [this.state, this.written] = [bias.start, 0];
      for (const token of text.slice(this.written))
        this.state = bias.after(this.state, Number(token), CERTAIN);
      this.written = text.length;
      const values = logits.data as Float32Array;
      const whole = logOfSum(values);
      const left = bias.score(bias.after(this.state, NO_TOKEN, CERTAIN));
      for (const token of new Set(bias.wanted(this.state))) {
        const logit = values[token] ?? Number.NEGATIVE_INFINITY;
        values[token] = logit + bias.score(bias.after(this.state, token, logit - whole)) - left;
      }
      return logits;
    }
  }
  return new Pull();
}

function logOfSum(values: Float32Array): number {
  const greatest = values.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY);
  return greatest + Math.log(values.reduce((sum, value) => sum + Math.exp(value - greatest), 0));
}
