import { PassThrough } from 'node:stream';
import { describe, expect, it } from 'vitest';
import { timeLeft } from '../../src/commands/progress-bar.ts';
import { partDone, showProgress } from '../../src/commands/show-progress.ts';

describe('the time left', () => {
  it('goes by the time spent so far', () => {
    expect(timeLeft(0.25, 30)).toBe(', about 1:30 left');
    expect(timeLeft(1, 30)).toBe(', about 0:00 left');
  });

  it('is not guessed at the start', () => {
    expect(timeLeft(0.01, 30)).toBe('');
    expect(timeLeft(0.5, 0.2)).toBe('');
  });
});

describe('the stages', () => {
  it('follow each other without a gap and never go back', () => {
    const steps = (['recording', 'model', 'voice', 'words', 'notes'] as const).flatMap((stage) =>
      [0, 0.5, 1].map((done) => partDone({ stage, done })),
    );
    expect(steps).toEqual([...steps].sort((a, b) => a - b));
    expect([steps[0], steps.at(-1)]).toEqual([0, 1]);
    expect(partDone({ stage: 'words', done: 7 })).toBe(partDone({ stage: 'words', done: 1 }));
  });
});

describe('the bar', () => {
  it('is drawn on a terminal at once, with the stage', async () => {
    const stream = new PassThrough();
    let drawn = '';
    stream.on('data', (piece) => {
      drawn += piece;
    });
    const terminal = Object.assign(stream, {
      isTTY: true,
      columns: 100,
      cursorTo: () => true,
      clearLine: () => true,
      moveCursor: () => true,
    }) as unknown as NodeJS.WriteStream;
    const progress = showProgress({ print: () => undefined, tell: () => undefined, terminal }, false);
    await new Promise((later) => setTimeout(later, 20));
    expect(drawn).toContain('reading the sound');
    progress.onProgress({ stage: 'words', done: 0.5 });
    await expect.poll(() => drawn, { timeout: 5000 }).toContain('hearing the words');
    progress.stop();
    progress.stop();
  });
});
