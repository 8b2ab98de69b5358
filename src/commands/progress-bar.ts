import cliProgress from 'cli-progress';
import { lengthStamp } from '../basics/time.ts';
import type { Screen } from './screen.ts';

const REDRAW_MILLISECONDS = 250;
/** Before this much is done, the time left would be a guess. */
const KNOWN_FROM = 0.04;
const KNOWN_AFTER_SECONDS = 1;

/** Shows a person how far some work is. */
export interface Bar {
  /**
   * @param says What is being done.
   * @param done How much of all the work is done, 0 to 1.
   */
  readonly show: (says: string, done: number) => void;
  /** Takes the bar away; may be called twice. */
  readonly stop: () => void;
}

/** A bar on a terminal; with `verbose` and no terminal, plain lines; otherwise nothing. */
export function startBar(screen: Screen, verbose: boolean, says: string): Bar {
  if (screen.terminal) return barOn(screen.terminal, says);
  return verbose ? linesOn(screen) : { show: () => undefined, stop: () => undefined };
}

function barOn(terminal: NodeJS.WriteStream, firstSays: string): Bar {
  const started = performance.now();
  let says = firstSays;
  let done = 0;
  const bar = new cliProgress.SingleBar(
    {
      stream: terminal,
      format: '{says} [{bar}] {percentage} %{left}',
      barsize: 24,
      hideCursor: true,
      clearOnComplete: true,
    },
    cliProgress.Presets.shades_classic,
  );
  const payload = () => ({ says, left: timeLeft(done, (performance.now() - started) / 1000) });
  bar.start(1, 0, payload());
  // Drawn by the clock and not by what is told, so that the time left goes on while one long step is under way.
  const redraw = setInterval(() => bar.update(done, payload()), REDRAW_MILLISECONDS);
  redraw.unref();
  return {
    show: (nowSays, nowDone) => {
      says = nowSays;
      done = nowDone;
    },
    stop: () => {
      clearInterval(redraw);
      bar.stop();
    },
  };
}

function linesOn(screen: Screen): Bar {
  let last = '';
  return {
    show: (says, done) => {
      const line = `${says}: ${Math.floor(done * 10) * 10} %`;
      if (line !== last) screen.tell(line);
      last = line;
    },
    stop: () => undefined,
  };
}

/** ", about 1:20 left", or nothing while it cannot be known. */
export function timeLeft(done: number, elapsedSeconds: number): string {
  if (done < KNOWN_FROM || elapsedSeconds < KNOWN_AFTER_SECONDS) return '';
  return `, about ${lengthStamp((elapsedSeconds * (1 - done)) / done)} left`;
}
