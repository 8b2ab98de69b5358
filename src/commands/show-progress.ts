import type { Progress } from '../pipeline.ts';
import { startBar } from './progress-bar.ts';
import type { Screen } from './screen.ts';

type Stage = Progress['stage'];

/** What the stages are called, and the part of all the work that each is, as measured on long recordings. */
const STAGES: Readonly<Record<Stage, { readonly says: string; readonly from: number; readonly to: number }>> =
  {
    recording: { says: 'reading the sound', from: 0, to: 0.08 },
    model: { says: 'getting the model ready', from: 0.08, to: 0.1 },
    voice: { says: 'looking for speech', from: 0.1, to: 0.16 },
    words: { says: 'hearing the words', from: 0.16, to: 0.9 },
    playing: { says: 'looking where the shot plays', from: 0.9, to: 0.97 },
    notes: { says: 'finding the notes', from: 0.97, to: 1 },
  };

export interface ShownProgress {
  readonly onProgress: (progress: Progress) => void;
  readonly stop: () => void;
  /** Says what part of the time each stage took, to whoever asked for more to be said. */
  readonly tellTimes: () => void;
}

/** Shows how far the path from a recording to its sheet is. */
export function showProgress(screen: Screen, verbose: boolean): ShownProgress {
  const bar = startBar(screen, verbose, STAGES.recording.says);
  const clock = new StageClock('recording');
  return {
    onProgress: (progress) => {
      clock.enter(progress.stage);
      bar.show(STAGES[progress.stage].says, partDone(progress));
    },
    stop: bar.stop,
    tellTimes: () => {
      if (verbose) screen.tell(`critsheet: ${clock.shares()}`);
    },
  };
}

/** How long each stage takes. */
class StageClock {
  private readonly spent = new Map<Stage, number>();
  private since = performance.now();
  private stage: Stage;

  constructor(first: Stage) {
    this.stage = first;
  }

  enter(stage: Stage): void {
    const now = performance.now();
    this.spent.set(this.stage, (this.spent.get(this.stage) ?? 0) + now - this.since);
    [this.stage, this.since] = [stage, now];
  }

  /** "12.3 s: hearing the words 90 %, …", in the order in which they were done. */
  shares(): string {
    this.enter(this.stage);
    const all = [...this.spent.values()].reduce((sum, time) => sum + time, 0);
    const parts = [...this.spent].map(
      ([stage, time]) => `${STAGES[stage].says} ${Math.round((100 * time) / Math.max(1, all))} %`,
    );
    return `${(all / 1000).toFixed(1)} s: ${parts.join(', ')}`;
  }
}

/** How much of all the work is done, 0 to 1. */
export function partDone({ stage, done }: Progress): number {
  const { from, to } = STAGES[stage];
  return from + (to - from) * Math.min(1, Math.max(0, done));
}
