import type { Watch } from '../recording.ts';
import type { SoundFile } from '../sound-file.ts';

/** A rectangle of a picture in whole pixels, from its upper left corner. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/**
 * What is taken of a colour: its brightness, or the least of its red, green and blue, in which colours as bright as the
 * grey around them stand out dark.
 */
export type Plane = 'brightness' | 'whiteness';

/** One plane of a picture, row by row, 0 to 255. */
export interface Grey {
  readonly width: number;
  readonly height: number;
  readonly pixels: Uint8Array;
}

/** One picture of a recording and when it appears, in seconds of the recording as its sound is timed. */
export interface TimedPicture {
  readonly startSeconds: number;
  readonly grey: Grey;
}

/** Which pictures, and what of them. */
export interface PictureRequest {
  /** Only this part. */
  readonly crop?: Box;
  /** The brightness where not given. */
  readonly plane?: Plane;
  /** Only pictures that stand alone in the file (key pictures): a few of many, quick to get. */
  readonly keyOnly?: boolean;
  readonly watch?: Watch;
}

/** The picture track of a recording, opened. */
export interface PictureTrack {
  readonly width: number;
  readonly height: number;
  /** What the file says it lasts; 0 where it does not say. */
  readonly durationSeconds: number;
  /** The pictures in the order of their times; the damaged are left out. */
  pictures(request: PictureRequest): AsyncGenerator<TimedPicture>;
}

/** Why there are no pictures: absent: the reader is not on this machine; blind: no pictures in the file; damaged. */
export interface PictureRefusal {
  readonly refused: 'absent' | 'blind' | 'damaged';
  readonly because: string;
}

/** One way to get at the pictures of a file. */
export interface PictureReader {
  readonly name: string;
  open(file: SoundFile): Promise<PictureTrack | PictureRefusal>;
}
