import { dirname, isAbsolute, relative, resolve, sep } from 'node:path';
import { pathToFileURL } from 'node:url';
import { SAMPLE_RATE } from '../../recording/recording.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import type { Clip, Sound } from '../../sheet/writers/html/beside.ts';
import { cutClips } from './cut-clips.ts';
import { encodeMp3, MP3, MP3_LEAD_SECONDS } from './encode-mp3.ts';
import type { FoundRecording } from './find-recording.ts';

/** The voice for a page: the stretches that notes quote, as compressed clips. */
export async function soundInside(sheet: Sheet, found: FoundRecording): Promise<Sound> {
  if ('why' in found) return { kind: 'none', why: found.why };
  const { samples } = found.recording;
  const clips: Clip[] = [];
  for (const { start, end } of cutClips(sheet)) {
    const first = Math.round(start * SAMPLE_RATE);
    const bytes = await encodeMp3(samples.subarray(first, Math.round(end * SAMPLE_RATE)));
    clips.push({ start, end, lead: MP3_LEAD_SECONDS, base64: Buffer.from(bytes).toString('base64') });
  }
  return { kind: 'clips', mime: MP3, clips };
}

/** The voice for a page that plays the recording itself, from where it lies. */
export function soundBeside(found: FoundRecording, pageFolder: string): Sound {
  if ('why' in found) return { kind: 'none', why: found.why };
  return { kind: 'link', address: addressFrom(pageFolder, found.path) };
}

/** A file's address as seen from a folder; absolute where no way leads there, as between two drives. */
function addressFrom(folder: string, file: string): string {
  const way = relative(resolve(folder), resolve(file));
  if (isAbsolute(way)) return pathToFileURL(file).href;
  const names = way.split(sep).map(encodeURIComponent);
  return dirname(way) === '.' ? `./${names.join('/')}` : names.join('/');
}
