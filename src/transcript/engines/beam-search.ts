/** One token of a text that is being written; texts that begin alike share their beginning. */
export interface Written {
  readonly token: number;
  readonly probability: number;
  readonly attention: readonly Float32Array[];
  readonly before: Written | null;
}

/** A text that is being written. */
interface Hypothesis<State> {
  readonly last: Written | null;
  /** Sum of the natural logarithms of its tokens' probabilities. */
  readonly logProbability: number;
  readonly length: number;
  readonly bias: State;
  readonly biasScore: number;
  /** The row of the decoder's memory that it goes on from. */
  readonly row: number;
}

/** What one step of a decoder says of one text: how likely each token is next. */
export interface NextTokens {
  readonly logits: Float32Array;
  readonly attention: readonly Float32Array[];
}

/** A decoder that writes several texts at once, one row for each. */
export interface Stepper {
  /** For each text: the row it goes on from, and the token it goes on with. The first step has one text and no token. */
  step(rows: readonly { readonly row: number; readonly token: number }[]): Promise<readonly NextTokens[]>;
}

/** What pulls a search toward some texts, beside their probability. */
export interface Bias<State> {
  readonly start: State;
  /** Tokens that a text in this state is pulled toward; they are tried even where they are not the likeliest. */
  wanted(state: State): Iterable<number>;
  /** The state after one more token, whose probability is given as a natural logarithm. */
  after(state: State, token: number, logProbability: number): State;
  /** What the text is worth so far beside its probability, in natural logarithms. */
  score(state: State): number;
}

export interface SearchOptions {
  /** Most texts that are written side by side. */
  readonly width: number;
  /** A token is tried where it is at most this much less likely than the likeliest, in natural logarithms. */
  readonly reach: number;
  /** A token that the bias wants is tried where it is at least this likely, as a natural logarithm. */
  readonly leastWanted: number;
  /** A text that lies this far behind the best is given up. */
  readonly behind: number;
  readonly startToken: number;
  readonly endToken: number;
  /** So many are written before the text may end: recognisers sometimes give up a clear voice at once. */
  readonly leastTokens: number;
  readonly maxTokens: number;
}

/** The text that was found, token by token, the closing one included. */
export interface Found {
  readonly tokens: readonly Written[];
  readonly finished: boolean;
}

interface Candidate<State> {
  readonly hypothesis: Hypothesis<State>;
  readonly score: number;
}

/** Texts that agree in so many last tokens will go on alike: the better one stands for both. */
const SAME_ENDING = 3;
/** Of 32,768 tokens so far below the best one, all together weigh less than half a percent of it. */
const NEGLIGIBLE = -16;

/**
 * Writes the likeliest text, counting in what the bias says of it. Several texts are written side by side only where the
 * next token is in doubt or the bias wants another one than the likeliest, so that plain speech costs what it costs greedy
 * decoding.
 */
export async function beamSearch<State>(
  stepper: Stepper,
  bias: Bias<State>,
  options: SearchOptions,
): Promise<Found> {
  const { width, behind, endToken, maxTokens, startToken } = options;
  let texts: Hypothesis<State>[] = [
    { last: null, logProbability: 0, length: 0, bias: bias.start, biasScore: 0, row: 0 },
  ];
  let done: Hypothesis<State> | undefined;
  for (let length = 0; length < maxTokens && texts.length > 0; length++) {
    const next = await stepper.step(
      texts.map(({ row, last }) => ({ row, token: last?.token ?? startToken })),
    );
    const candidates = texts.flatMap((text, row) => extended(text, row, next[row], bias, options));
    candidates.sort((a, b) => b.score - a.score);
    const best = Math.max(candidates[0]?.score ?? Number.NEGATIVE_INFINITY, done ? scoreOf(done) : -1e9);
    texts = [];
    for (const { hypothesis, score } of candidates) {
      if (score < best - behind || texts.length >= width) break;
      if (hypothesis.last?.token === endToken) {
        if (!done || score > scoreOf(done)) done = hypothesis;
      } else if (!texts.some((text) => endAlike(text, hypothesis))) texts.push(hypothesis);
    }
    // A text only gets less likely as it goes on.
    const reached = done ? scoreOf(done) : Number.NEGATIVE_INFINITY;
    texts = texts.filter((text) => scoreOf(text) > reached);
  }
  const found =
    done && !texts.some((text) => scoreOf(text) > scoreOf(done as Hypothesis<State>)) ? done : texts[0];
  return { tokens: writtenOut(found?.last ?? null), finished: found === done && done !== undefined };
}

function scoreOf<State>({ logProbability, biasScore }: Hypothesis<State>): number {
  return logProbability + biasScore;
}

/** A text with each token that is worth trying next. */
function extended<State>(
  text: Hypothesis<State>,
  row: number,
  next: NextTokens | undefined,
  bias: Bias<State>,
  { width, reach, leastWanted, endToken, leastTokens }: SearchOptions,
): Candidate<State>[] {
  if (!next) throw new Error('the decoder gave fewer answers than it was asked for');
  const { logits, attention } = next;
  if (text.length < leastTokens) logits[endToken] = Number.NEGATIVE_INFINITY;
  let likeliest = 0;
  let greatest = Number.NEGATIVE_INFINITY;
  for (let token = 0; token < logits.length; token++) {
    const logit = logits[token] as number;
    if (logit > greatest) [likeliest, greatest] = [token, logit];
  }
  const tried = new Set([likeliest]);
  let sum = 0;
  for (let token = 0; token < logits.length; token++) {
    const below = (logits[token] as number) - greatest;
    if (below > NEGLIGIBLE) sum += Math.exp(below);
    if (width > 1 && below > -reach) tried.add(token);
  }
  const whole = greatest + Math.log(sum);
  if (width > 1) {
    for (const token of bias.wanted(text.bias)) {
      if ((logits[token] as number) - whole >= leastWanted) tried.add(token);
    }
  }
  return [...tried].map((token) => {
    const logProbability = (logits[token] as number) - whole;
    const state = bias.after(text.bias, token, logProbability);
    const hypothesis: Hypothesis<State> = {
      last: { token, probability: Math.exp(logProbability), attention, before: text.last },
      logProbability: text.logProbability + logProbability,
      length: text.length + 1,
      bias: state,
      biasScore: bias.score(state),
      row,
    };
    return { hypothesis, score: scoreOf(hypothesis) };
  });
}

function endAlike<State>(one: Hypothesis<State>, other: Hypothesis<State>): boolean {
  let [a, b] = [one.last, other.last];
  for (let back = 0; back < SAME_ENDING; back++) {
    if (!a || !b) return a === b;
    if (a === b) return true;
    if (a.token !== b.token) return false;
    [a, b] = [a.before, b.before];
  }
  return true;
}

function writtenOut(last: Written | null): Written[] {
  const tokens: Written[] = [];
  for (let at = last; at; at = at.before) tokens.push(at);
  return tokens.reverse();
}
