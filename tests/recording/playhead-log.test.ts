import { describe, expect, it } from 'vitest';
import { parsePlayheadLog, readPlayheadLog } from '../../src/recording/playhead-log.ts';
import { ownFolder } from './sounds.ts';

const shot = { fps: 24, first: 1001, last: 1168 };
const { write } = ownFolder();

function passesOf(text: string) {
  const { passes, problems } = parsePlayheadLog(text, 'log.csv', shot);
  return {
    problems: problems.map(({ message }) => message),
    lines: passes.map(({ start, end, first, last }) => [start, end, first, last]),
    passes,
  };
}

describe('a log of a playhead', () => {
  it('is a line where the shot plays, and a level one where it stands', () => {
    const rows = ['time,frame'];
    // From 2 s on the shot plays from its first frame, written ten times a second in whole frames; at 5 s it stops.
    for (let i = 0; i <= 30; i++) rows.push(`${(2 + i / 10).toFixed(1)},${1001 + Math.floor(2.4 * i)}`);
    rows.push('8,1073');
    const { lines, problems, passes } = passesOf(rows.join('\n'));
    expect(problems).toEqual([]);
    expect(lines).toEqual([
      [2, 5, 1001, 1073],
      [5, 8, 1073, 1073],
    ]);
    expect(passes.every(({ source, confidence }) => source === 'log' && confidence === 1)).toBe(true);
  });

  it('may be written only when something happens', () => {
    const { lines } = passesOf('time,frame\n3,1001\n8,1121\n20,1121\n20.04,1010\n26,1010');
    expect(lines).toEqual([
      [3, 8, 1001, 1121],
      [8, 20, 1121, 1121],
      [20.04, 26, 1010, 1010],
    ]);
  });

  it('stands between two rows that are far apart and hardly differ', () => {
    const { lines } = passesOf('time,frame\n3,1040\n63,1100\n64,1100');
    expect(lines).toEqual([
      [3, 63, 1040, 1040],
      [63, 64, 1100, 1100],
    ]);
  });

  it('stands through a silence where each frame of a playing is written, whatever speed would fit the next frame', () => {
    const playing = Array.from({ length: 25 }, (_, i) => `${(1 + i / 24).toFixed(3)},${1001 + i}`);
    // 96 frames on in 4 s is just the shot's own speed.
    const { lines } = passesOf(['time,frame', ...playing, '6,1121', '9,1121'].join('\n'));
    expect(lines).toContainEqual([2, 6, 1025, 1025]);
  });

  it('stands through a silence after which it is further back', () => {
    // 96 frames back in 8 s is half the shot's speed, backwards.
    expect(passesOf('time,frame\n1,1121\n9,1025\n12,1025').lines[0]).toEqual([1, 9, 1121, 1121]);
  });

  it('believes the column playing', () => {
    const { lines } = passesOf(
      'time,frame,playing\n1,1001,1\n3,1049,0\n4,1053,0\n9,1053,1\n10,1077,0\n12,1077,0',
    );
    expect(lines).toEqual([
      [1, 3, 1001, 1049],
      [3, 4, 1049, 1049],
      [4, 9, 1053, 1053],
      [9, 10, 1053, 1077],
      [10, 12, 1077, 1077],
    ]);
  });

  it('follows steps back and forth', () => {
    const { lines } = passesOf('time,frame\n1,1040\n1.5,1042\n2,1044\n2.5,1042\n3,1040');
    expect(lines).toEqual([
      [1, 2, 1040, 1044],
      [2, 3, 1044, 1040],
    ]);
  });

  it('may have a byte order mark, semicolons, decimal commas and more columns', () => {
    const { lines, problems } = passesOf('\uFEFFFrame;Time;what\r\n1001;1,5;a\r\n1025;2,5;b\r\n');
    expect(problems).toEqual([]);
    expect(lines).toEqual([[1.5, 2.5, 1001, 1025]]);
  });
});

describe('what is wrong with a log is said in one sentence, and the rest is used', () => {
  it('out of order', () => {
    const { lines, problems } = passesOf('time,frame\n2,1025\n1,1001\n3,1049');
    expect(problems).toEqual([
      'log.csv goes back in time on line 3, from 2 s to 1 s: its rows were put in order.',
    ]);
    expect(lines).toEqual([[1, 3, 1001, 1049]]);
  });

  it('frames outside the shot', () => {
    const { lines, problems } = passesOf('time,frame\n1,1001\n2,1025\n3,1300\n4,12');
    expect(problems).toEqual([
      'log.csv has 2 rows outside the shot, the first with frame 1300 on line 4; the shot has frames 1001 to 1168: left out.',
    ]);
    expect(lines).toEqual([[1, 2, 1001, 1025]]);
  });

  it('text in cells', () => {
    const { lines, problems } = passesOf('time,frame\n1,1001\n2,here\nsoon,1030\n,\n3,1049');
    expect(problems).toEqual([
      'log.csv has 3 rows that cannot be read, the first with "here" for a frame on line 3: left out.',
    ]);
    expect(lines).toEqual([[1, 3, 1001, 1049]]);
  });

  it('only rows that cannot be used', () => {
    const { lines, problems } = passesOf('time,frame\n1,12\nsoon,1001');
    expect(lines).toEqual([]);
    expect(problems.at(-1)).toBe('log.csv has no other rows, so it was not used.');
  });

  it('no such columns, no rows, nothing at all', () => {
    expect(passesOf('seconds,picture\n1,2').problems).toEqual([
      'log.csv does not begin with the columns time and frame: it was not used. Its first line must be "time,frame".',
    ]);
    expect(passesOf('time,frame\n').problems).toEqual([
      'log.csv holds a heading and no rows: it was not used.',
    ]);
    expect(passesOf('').problems).toHaveLength(1);
  });

  it('no such file', async () => {
    await expect(readPlayheadLog('/nowhere/log.csv', shot)).rejects.toThrow(
      'There is no file /nowhere/log.csv',
    );
    const path = write('log.csv', 'time,frame\n1,1001\n2,1025\n');
    expect((await readPlayheadLog(path, shot)).passes).toHaveLength(1);
  });
});
