import type { Pass } from '../../basics/pass.ts';
import type { Box } from '../picture/picture.ts';
import type { ShotRange, Shows } from './meaning.ts';
import type { SettledCounter } from './settle.ts';

const SHOWN_AS: Readonly<Record<Shows, string>> = {
  frames: 'frame numbers of the shot',
  'from one': 'frames counted from 1',
  'from zero': 'frames counted from 0',
  timecode: "timecode from the shot's first frame",
  'timecode of the frame number': 'timecode of the frame number',
};

/** One sentence: where the counter is, what its numbers were taken for, what it told, how well its readings agree. */
export function describeCounter(
  box: Box,
  { meaning, looks, orElse }: SettledCounter,
  passes: readonly Pass[],
  shot: ShotRange,
): string {
  const lowest = looks.reduce((least, { frame }) => Math.min(least, frame), Number.POSITIVE_INFINITY);
  const highest = looks.reduce((most, { frame }) => Math.max(most, frame), Number.NEGATIVE_INFINITY);
  const read = looks.filter(({ exact }) => exact !== null);
  const percent = Math.round((100 * read.filter(({ exact }) => exact).length) / read.length);
  const range =
    shot.last === null ? `a shot that starts at ${shot.first}` : `a shot of ${shot.first} to ${shot.last}`;
  return (
    `A counter was read at ${box.x},${box.y} (${box.width} by ${box.height} pixels), taken for ${SHOWN_AS[meaning.shows]} in ${range}` +
    `${orElse.map((shows) => `, though they may be ${SHOWN_AS[shows]}`).join('')}: ` +
    `frames ${lowest} to ${highest}, ${passes.length} ${passes.length === 1 ? 'stretch' : 'stretches'}; ` +
    `${percent} % of ${read.length} readings agree with the way it runs.`
  );
}
