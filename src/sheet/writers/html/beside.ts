import type { Span } from '../../../basics/span.ts';

/** A stretch of the recording as compressed sound, in base64. */
export interface Clip extends Span {
  /** Seconds of the clip's own sound that come before `start`: what the encoder puts in front. */
  readonly lead: number;
  readonly base64: string;
}

/** The mentor's voice: inside the page, beside it, or nowhere, and then why. */
export type Sound =
  | { readonly kind: 'clips'; readonly mime: string; readonly clips: readonly Clip[] }
  | { readonly kind: 'link'; readonly address: string }
  | { readonly kind: 'none'; readonly why: string };

/** What the page holds that is not in a sheet. All of it was made outside of the writer, which opens no file. */
export interface Beside {
  readonly sound: Sound;
  /** For a note's id, the picture of its first frame as a data address. */
  readonly pictures: ReadonlyMap<string, string>;
  readonly script: string;
  readonly style: string;
  /** What the page may do, as a Content-Security-Policy; it must allow the script and the style, and should nothing else. */
  readonly policy: string;
}

/** A page with the words alone: readable and printable, without sound, ticks and filters. */
export const NOTHING_BESIDE: Beside = {
  sound: { kind: 'none', why: 'This page was made without sound.' },
  pictures: new Map(),
  script: '',
  style: '',
  policy: "default-src 'none'",
};
