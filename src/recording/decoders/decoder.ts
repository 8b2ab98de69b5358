import type { Watch } from '../recording.ts';
import type { SoundFile } from '../sound-file.ts';

/** Sound as the next stages want it, 16 kHz mono, and one sentence for each thing noticed on the way. */
export interface Decoded {
  readonly samples: Float32Array;
  readonly messages: readonly string[];
}

/**
 * Why a decoder gave nothing:
 * absent: it is not on this machine; foreign: it does not know this kind of file or sound;
 * silent: the file has no sound in it; damaged: it should have worked.
 */
export interface Refusal {
  readonly refused: 'absent' | 'foreign' | 'silent' | 'damaged';
  /** What the decoder said, or the name of the unknown codec: words for the middle of a sentence. */
  readonly because: string;
}

/** One way to turn a file into sound. */
export interface Decoder {
  readonly name: string;
  /** @throws PersonError where no other decoder could do better; the signal's reason when it is stopped */
  decode(file: SoundFile, watch: Watch): Promise<Decoded | Refusal>;
}
