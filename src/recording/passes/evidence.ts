import { BINS, lagsOf, type Powers, responseOf, turnOf, WINDOW_SAMPLES } from './frames.ts';

/** Windows, the end not included. */
export interface Windows {
  readonly from: number;
  readonly to: number;
}

/** A response over the compared bins. */
export interface Response {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** Where the phase-transformed correlation peaks, in samples, and its height over the root mean square of the lags far from 0. */
export interface Peak {
  readonly lag: number;
  readonly peak: number;
  readonly height: number;
}

/** Lags beyond these (8 ms) tell what the correlation does by chance. */
const FAR_LAGS = 128;
/** Taps of a path that are looked at: 1 ms before the direct sound, 8 ms after it. */
const TAPS_BEFORE = 16;
const TAPS_AFTER = 128;
/** A tap stands out when it is so many times what far lags do by chance. */
const TAP_HEIGHT = 3;
/** No single bin of a window may say more, in nats. */
const MOST_NATS = 4;
/** No single window may say more against the shot: a door bangs, a packet is lost. */
const MOST_AGAINST = 8;
/** Windows overlap by three quarters, neighbouring bins by half: so much of each is news. */
const INDEPENDENT = 0.3;
/** When a path is tried on other windows than it was found on, they are dealt out in blocks of 96 ms. */
const BLOCK_WINDOWS = 12;
const FOLDS = 4;

/** The recording and the shot's sound window by window, one laid on the other. */
export class Evidence {
  readonly #recording: Powers;
  readonly #shot: Powers;

  /** @param recording as many windows as `shot` has, each laid on the one of the same number */
  constructor(recording: Powers, shot: Powers) {
    this.#recording = recording;
    this.#shot = shot;
  }

  /** The peak of the generalised correlation with the phase transform (Knapp and Carter, 1976) over these windows. */
  peak(windows: Windows, reachLags: number): Peak {
    const { re, im } = this.crossSpectrum(windows);
    return peakOf(lagsOf(re, im), reachLags);
  }

  /**
   * For each window, how well its phases agree with the shot's at a lag of few samples, in standard deviations of what chance does.
   * Nothing is weighed by level, so that windows in which only a quiet room is heard do not drown the others.
   */
  agreements(lag = 0): Float64Array {
    const out = new Float64Array(this.#recording.windows);
    const [x, s] = [this.#recording, this.#shot];
    const cos = Float64Array.from({ length: BINS }, (_, bin) => Math.cos(turnOf(bin) * lag));
    const sin = Float64Array.from({ length: BINS }, (_, bin) => Math.sin(turnOf(bin) * lag));
    for (let k = 0, i = 0; k < out.length; k++) {
      let sum = 0;
      for (let bin = 0; bin < BINS; bin++, i++) {
        const [xr, xi, sr, si] = [x.re[i] as number, x.im[i] as number, s.re[i] as number, s.im[i] as number];
        const met = (xr * sr + xi * si) * (cos[bin] as number) + (xi * sr - xr * si) * (sin[bin] as number);
        sum += met / Math.sqrt((x.power[i] as number) * (s.power[i] as number));
      }
      out[k] = sum / Math.sqrt(BINS / 2);
    }
    return out;
  }

  /** The phase-transformed cross-spectrum of recording and shot, summed over these windows. */
  crossSpectrum({ from, to }: Windows): Response {
    const re = new Float64Array(BINS);
    const im = new Float64Array(BINS);
    const [x, s] = [this.#recording, this.#shot];
    const [noise, power] = [x.power, s.power];
    for (let k = from; k < to; k++) {
      for (let bin = 0, i = k * BINS; bin < BINS; bin++, i++) {
        const weight = 1 / Math.sqrt((noise[i] as number) * (power[i] as number));
        const xr = (x.re[i] as number) * weight;
        const xi = (x.im[i] as number) * weight;
        const sr = s.re[i] as number;
        const si = s.im[i] as number;
        re[bin] = (re[bin] as number) + xr * sr + xi * si;
        im[bin] = (im[bin] as number) + xi * sr - xr * si;
      }
    }
    return { re, im };
  }

  /**
   * For each window, how much likelier its sound is with the shot heard than without, in nats: the path H from the shot's
   * sound S to the recording X is found by least squares over `over`, then each bin gives (2 Re(X* H S) - |H S|^2) / N, with N
   * the power of the recording there.
   */
  likelihoods(over: Windows): Float64Array {
    const nats = new Float64Array(this.#recording.windows);
    const path = pathOf([this.#fit(over, () => true)]);
    this.#judge(path, { from: 0, to: nats.length }, () => true, nats);
    return nats;
  }

  /**
   * The sum over these windows, each judged by a path that was found on other ones: what merely fits by chance gains nothing.
   */
  tried(windows: Windows): number {
    const nats = new Float64Array(this.#recording.windows);
    const folds = Array.from({ length: FOLDS }, (_, fold) => this.#fit(windows, (k) => foldOf(k) === fold));
    for (let fold = 0; fold < FOLDS; fold++) {
      const others = folds.filter((_, other) => other !== fold);
      this.#judge(pathOf(others), windows, (k) => foldOf(k) === fold, nats);
    }
    return nats.reduce((sum, value) => sum + value, 0);
  }

  /** What these windows tell of the path, bin by bin, each weighed by one over the power that is heard in it. */
  #fit({ from, to }: Windows, use: (k: number) => boolean): Fit {
    const re = new Float64Array(BINS);
    const im = new Float64Array(BINS);
    const weights = new Float64Array(BINS);
    const [x, s] = [this.#recording, this.#shot];
    const noise = x.power;
    for (let k = from; k < to; k++) {
      if (!use(k)) continue;
      for (let bin = 0, i = k * BINS; bin < BINS; bin++, i++) {
        const weight = 1 / (noise[i] as number);
        const xr = (x.re[i] as number) * weight;
        const xi = (x.im[i] as number) * weight;
        const sr = s.re[i] as number;
        const si = s.im[i] as number;
        re[bin] = (re[bin] as number) + xr * sr + xi * si;
        im[bin] = (im[bin] as number) + xi * sr - xr * si;
        weights[bin] = (weights[bin] as number) + weight * (sr * sr + si * si);
      }
    }
    return { re, im, weights };
  }

  #judge(path: Response, { from, to }: Windows, use: (k: number) => boolean, nats: Float64Array): void {
    const [x, s] = [this.#recording, this.#shot];
    const noise = x.power;
    for (let k = from; k < to; k++) {
      if (!use(k)) continue;
      let sum = 0;
      for (let bin = 0, i = k * BINS; bin < BINS; bin++, i++) {
        const hr = path.re[bin] as number;
        const hi = path.im[bin] as number;
        const sr = s.re[i] as number;
        const si = s.im[i] as number;
        const heardRe = hr * sr - hi * si;
        const heardIm = hr * si + hi * sr;
        const met = 2 * ((x.re[i] as number) * heardRe + (x.im[i] as number) * heardIm);
        const gain = (met - heardRe * heardRe - heardIm * heardIm) / (noise[i] as number);
        sum += Math.max(-MOST_NATS, Math.min(MOST_NATS, gain));
      }
      nats[k] = Math.max(-MOST_AGAINST, INDEPENDENT * sum);
    }
  }
}

interface Fit extends Response {
  readonly weights: Float64Array;
}

/** The path by least squares. Taps that do not stand out of those far from the direct sound are left out: they would fit noise. */
function pathOf(fits: readonly Fit[]): Response {
  const added = (part: keyof Fit) =>
    Float64Array.from({ length: BINS }, (_, bin) =>
      fits.reduce((sum, fit) => sum + (fit[part][bin] ?? 0), 0),
    );
  const [re, im, weights] = [added('re'), added('im'), added('weights')];
  const least = (0.02 * weights.reduce((sum, weight) => sum + weight, 0)) / BINS + 1e-30;
  for (let bin = 0; bin < BINS; bin++) {
    re[bin] = (re[bin] as number) / ((weights[bin] as number) + least);
    im[bin] = (im[bin] as number) / ((weights[bin] as number) + least);
  }
  return trusted(responseOf(standingOut(lagsOf(re, im))), weights);
}

/** Blocks fall to folds without a pattern (Knuth's multiplicative hashing), so that no shot's beat can fall in with them. */
function foldOf(window: number): number {
  return Math.imul(Math.floor(window / BLOCK_WINDOWS) + 1, 0x9e3779b1) >>> 30;
}

export function peakOf(correlation: Float64Array, reachLags: number): Peak {
  let lag = 0;
  let peak = 0;
  let far = 0;
  for (let i = -WINDOW_SAMPLES / 2; i < WINDOW_SAMPLES / 2; i++) {
    const value = Math.abs(correlation[(i + WINDOW_SAMPLES) % WINDOW_SAMPLES] as number);
    if (Math.abs(i) <= reachLags && value > peak) [peak, lag] = [value, i];
    if (Math.abs(i) >= FAR_LAGS) far += value ** 2;
  }
  return { lag, peak, height: peak / Math.sqrt(far / (WINDOW_SAMPLES - 2 * FAR_LAGS) + 1e-30) };
}

/**
 * Turns a path down in bins where the shot was too weak to tell it (Wiener's rule): else the first sound at a new pitch would be expected
 * as loud as the path's smoothness makes it, and speak against the shot.
 */
function trusted(path: Response, weights: Float64Array): Response {
  const share = (bin: number) => {
    let nats = 0;
    for (let near = Math.max(0, bin - 2); near <= Math.min(BINS - 1, bin + 2); near++) {
      nats += INDEPENDENT * (weights[near] as number);
    }
    nats *= (path.re[bin] as number) ** 2 + (path.im[bin] as number) ** 2;
    return nats / (nats + DOUBT_NATS);
  };
  return { re: path.re.map((x, bin) => x * share(bin)), im: path.im.map((x, bin) => x * share(bin)) };
}

/** A bin that told this much of the path is believed by half. */
const DOUBT_NATS = 4;

function standingOut(lags: Float64Array): Float64Array {
  let far = 0;
  for (let i = FAR_LAGS; i < WINDOW_SAMPLES - FAR_LAGS; i++) far += (lags[i] as number) ** 2;
  const least = TAP_HEIGHT * Math.sqrt(far / (WINDOW_SAMPLES - 2 * FAR_LAGS));
  return lags.map((value, i) => {
    const near = i <= TAPS_AFTER || i >= WINDOW_SAMPLES - TAPS_BEFORE;
    return near && Math.abs(value) > least ? value : 0;
  });
}
