import type { Sheet } from '../../sheet.ts';
import type { Beside } from './beside.ts';

/** What the page's script is given; the schema of ticks (src/sheet/ticks.ts) is written from it. */
export interface PageData {
  readonly recording: { readonly file: string; readonly sha256: string };
  readonly shot: string;
  /** For each word its start and end in whole milliseconds, one after the other. */
  readonly times: readonly number[];
  readonly sound:
    | { readonly kind: 'clips'; readonly mime: string; readonly clips: readonly ClipPlace[] }
    | { readonly kind: 'link'; readonly address: string }
    | { readonly kind: 'none' };
}

/** Where a clip lies in the recording; its sound is in the element `clipN`. */
export interface ClipPlace {
  readonly start: number;
  readonly end: number;
  readonly lead: number;
}

export function pageData(sheet: Sheet, { sound }: Beside): PageData {
  const { recording, shot, words } = sheet;
  return {
    recording: { file: recording.file, sha256: recording.sha256 },
    shot: shot.name,
    times:
      sound.kind === 'none'
        ? []
        : words.flatMap(({ start, end }) => [Math.round(start * 1000), Math.round(end * 1000)]),
    sound:
      sound.kind === 'clips'
        ? { ...sound, clips: sound.clips.map(({ start, end, lead }) => ({ start, end, lead })) }
        : sound.kind === 'link'
          ? sound
          : { kind: 'none' },
  };
}

/** JSON that can stand inside a script element: nothing in it can close the element or open a comment. */
export function scriptJson(value: unknown): string {
  return JSON.stringify(value)
    .replaceAll('<', '\\u003c')
    .replaceAll('\u2028', '\\u2028')
    .replaceAll('\u2029', '\\u2029');
}
