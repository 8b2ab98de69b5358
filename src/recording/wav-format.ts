import wavefile from 'wavefile';
import { z } from 'zod';
import { PersonError } from '../basics/problem.ts';

/** How the samples of a WAV are written. */
export interface WavFormat {
  readonly encoding: 'integer' | 'float' | 'a-law' | 'mu-law';
  readonly bytesPerSample: number;
  readonly channels: number;
  /** Samples a second. */
  readonly rate: number;
  readonly bigEndian: boolean;
  /** The channel of low-frequency effects, which holds no speech; null where there is none. */
  readonly lfeChannel: number | null;
}

/** A WAV around sound that only the larger decoders know, by the name of its codec. */
export interface ForeignFormat {
  readonly foreign: string;
}

/** The part of wavefile's `fmt` that is used here. */
const fmtSchema = z.object({
  audioFormat: z.number(),
  numChannels: z.number(),
  sampleRate: z.number(),
  blockAlign: z.number(),
  bitsPerSample: z.number(),
  dwChannelMask: z.number(),
  subformat: z.array(z.number()),
});

/** Format tags, RFC 2361 appendix A. */
const FOREIGN_TAGS: Readonly<Record<number, string>> = {
  2: 'Microsoft ADPCM',
  17: 'IMA ADPCM',
  49: 'GSM 6.10',
  80: 'MPEG',
  85: 'MP3',
  255: 'AAC',
  8192: 'AC-3',
};
const EXTENSIBLE = 0xfffe;
/** KSDATAFORMAT_SUBTYPE_*, {0000tttt-0000-0010-8000-00AA00389B71}: a tag in front, this behind (Microsoft, WAVEFORMATEXTENSIBLE). */
const SUBFORMAT_REST = [0x00100000, 0xaa000080, 0x719b3800];
const SPEAKER_LOW_FREQUENCY = 0x8;

const RATES_HZ = { lowest: 4000, highest: 768000 };
const MOST_CHANNELS = 64;

/**
 * Reads the format chunk, by wavefile, from a WAV that has nothing else in it.
 * @param format the body of the 'fmt ' chunk
 * @throws PersonError where no sound can have such a format: no channel, no rate
 */
export function readWavFormat(
  format: Uint8Array,
  bigEndian: boolean,
  name: string,
): WavFormat | ForeignFormat {
  const wav = new wavefile.WaveFile(soundlessWav(format, bigEndian));
  const fmt = fmtSchema.parse(wav.fmt);
  const { numChannels: channels, sampleRate: rate } = fmt;
  if (channels < 1 || channels > MOST_CHANNELS) {
    throw new PersonError(
      `${name} is a damaged WAV: its header says ${channels} channels. Export or copy it again.`,
    );
  }
  if (rate < RATES_HZ.lowest || rate > RATES_HZ.highest) {
    throw new PersonError(
      `${name} is a damaged WAV: its header says ${rate} samples a second. Export or copy it again.`,
    );
  }
  const tag = fmt.audioFormat === EXTENSIBLE ? tagOfSubformat(fmt.subformat) : fmt.audioFormat;
  const bytesPerSample = bytesOfSample(fmt.blockAlign / channels, fmt.bitsPerSample);
  const encoding = encodingOf(tag, bytesPerSample);
  if (!encoding) return { foreign: FOREIGN_TAGS[tag] ?? `${fmt.bitsPerSample}-bit sound of kind ${tag}` };
  return { encoding, bytesPerSample, channels, rate, bigEndian, lfeChannel: lfeOf(fmt) };
}

/** A WAV of the format chunk alone. wavefile holds whole files in memory, so it is never given the sound. */
function soundlessWav(format: Uint8Array, bigEndian: boolean): Uint8Array {
  const size = format.length + (format.length % 2);
  const wav = new Uint8Array(12 + 8 + size + 8);
  const view = new DataView(wav.buffer);
  const write = (at: number, text: string) => wav.set(new TextEncoder().encode(text), at);
  write(0, bigEndian ? 'RIFX' : 'RIFF');
  view.setUint32(4, wav.length - 8, !bigEndian);
  write(8, 'WAVEfmt ');
  view.setUint32(16, format.length, !bigEndian);
  wav.set(format, 20);
  write(20 + size, 'data');
  return wav;
}

function tagOfSubformat([tag = 0, ...rest]: readonly number[]): number {
  return SUBFORMAT_REST.every((word, at) => rest[at] === word) ? tag : -1;
}

/** The bytes a sample takes. Fewer valid bits lie in its upper part, so they need no other treatment. */
function bytesOfSample(bytesInBlock: number, bits: number): number {
  const bytesForBits = Math.ceil(bits / 8);
  return Number.isInteger(bytesInBlock) && bytesInBlock >= bytesForBits ? bytesInBlock : bytesForBits;
}

function encodingOf(tag: number, bytesPerSample: number): WavFormat['encoding'] | null {
  if (tag === 1 && bytesPerSample >= 1 && bytesPerSample <= 4) return 'integer';
  if (tag === 3 && (bytesPerSample === 4 || bytesPerSample === 8)) return 'float';
  if (tag === 6 && bytesPerSample === 1) return 'a-law';
  if (tag === 7 && bytesPerSample === 1) return 'mu-law';
  return null;
}

/** Channels stand in the order of their bits in the mask; plain WAVs of 6 and 8 channels have the usual 5.1 and 7.1 order. */
function lfeOf(fmt: z.infer<typeof fmtSchema>): number | null {
  const mask =
    fmt.audioFormat === EXTENSIBLE
      ? fmt.dwChannelMask
      : fmt.numChannels === 6 || fmt.numChannels === 8
        ? 0x3f
        : 0;
  if (!(mask & SPEAKER_LOW_FREQUENCY)) return null;
  const before = [1, 2, 4].filter((bit) => mask & bit).length;
  return before < fmt.numChannels && fmt.numChannels > 1 ? before : null;
}
