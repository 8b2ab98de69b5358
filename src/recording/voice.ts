import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { InferenceSession, Tensor } from 'onnxruntime-node';
import { z } from 'zod';
import { type Kept, type KeptKind, keptOr } from '../basics/kept.ts';
import { messageOf, PersonError } from '../basics/problem.ts';
import { digestOfFloats, floatsOfText, textOfFloats } from './float-bytes.ts';
import { SAMPLE_RATE, type Watch } from './recording.ts';

/** How likely it is that somebody speaks, 0 to 1, for each step of the recording. */
export interface VoiceTrack {
  readonly stepSeconds: number;
  readonly probabilities: Float32Array;
}

/** Silero VAD, versions 5 and 6, at 16 kHz: so many samples a step, with the last ones of the step before it in front. */
const STEP_SAMPLES = 512;
const CONTEXT_SAMPLES = 64;
const STATE_SHAPE = [2, 1, 128];
const STATE_VALUES = 256;

/** Steps between two looks at the signal: about half a minute of sound. */
const STEPS_A_TURN = 1000;
/** Steps of a piece, two minutes of sound: so much is lost at most where a run is killed. */
const STEPS_A_PIECE = 4 * STEPS_A_TURN;

/** Raise it when the same sound may get other probabilities. */
export const VOICE_VERSION = 1;

const pieceSchema = z.object({ probabilities: z.base64(), state: z.base64() });
const KEPT_PIECE: KeptKind<z.infer<typeof pieceSchema>> = {
  name: 'voice',
  version: VOICE_VERSION,
  schema: pieceSchema,
};

export interface VoiceOptions extends Watch {
  /** Where finished pieces are kept between runs, if anywhere. */
  readonly kept?: Kept | undefined;
}

/**
 * Finds where somebody speaks, with the Silero voice activity model, version 5 or 6: their inputs are the same.
 * @param samples 16 kHz mono
 * @param model the ONNX file's path, or its bytes
 * @returns one probability for each 512 samples; the last step is filled up with silence
 * @throws PersonError where the model cannot be loaded; the signal's reason when it is stopped
 */
export async function findVoice(
  samples: Float32Array,
  model: string | Uint8Array,
  options: VoiceOptions = {},
): Promise<VoiceTrack> {
  const { signal, onProgress, kept } = options;
  signal?.throwIfAborted();
  const probabilities = new Float32Array(Math.ceil(samples.length / STEP_SAMPLES));
  const checksum = kept
    ? createHash('sha256')
        .update(await bytesOf(model))
        .digest('hex')
    : '';
  let state: Float32Array = new Float32Array(STATE_VALUES);
  let session: InferenceSession | undefined;
  try {
    for (let first = 0; first < probabilities.length; first += STEPS_A_PIECE) {
      const end = Math.min(probabilities.length, first + STEPS_A_PIECE);
      const context = Math.max(0, first * STEP_SAMPLES - CONTEXT_SAMPLES);
      const sound = samples.subarray(context, end * STEP_SAMPLES);
      const piece = await keptOr(
        kept,
        KEPT_PIECE,
        () => ({
          model: checksum,
          sound: digestOfFloats(sound),
          state: digestOfFloats(state),
          first: first === 0,
        }),
        async () => {
          session ??= await load(model);
          return hearPiece(session, samples, state, first, end, {
            signal,
            onProgress: (step) => onProgress?.(step / probabilities.length),
          });
        },
      );
      probabilities.set(floatsOfText(piece.probabilities).subarray(0, end - first), first);
      state = floatsOfText(piece.state);
    }
  } finally {
    await session?.release();
  }
  onProgress?.(1);
  return { stepSeconds: STEP_SAMPLES / SAMPLE_RATE, probabilities };
}

/** `onProgress` is told the step. */
async function hearPiece(
  session: InferenceSession,
  samples: Float32Array,
  before: Float32Array,
  first: number,
  end: number,
  { signal, onProgress }: Watch,
): Promise<z.infer<typeof pieceSchema>> {
  const probabilities = new Float32Array(end - first);
  const rate = new Tensor('int64', BigInt64Array.of(BigInt(SAMPLE_RATE)), []);
  let state = new Tensor('float32', before, STATE_SHAPE);
  for (let step = first; step < end; step++) {
    if (step % STEPS_A_TURN === 0) {
      signal?.throwIfAborted();
      onProgress?.(step);
    }
    const input = new Tensor('float32', stepWithContext(samples, step), [1, CONTEXT_SAMPLES + STEP_SAMPLES]);
    const { output, stateN } = await session.run({ input, state, sr: rate });
    probabilities[step - first] = numbersOf(output)[0] ?? 0;
    state = new Tensor('float32', numbersOf(stateN), STATE_SHAPE);
  }
  return { probabilities: textOfFloats(probabilities), state: textOfFloats(numbersOf(state)) };
}

/** One thread: the model is so small that more only wait for each other (2.6 times slower with the default). */
async function load(model: string | Uint8Array): Promise<InferenceSession> {
  try {
    return await InferenceSession.create(await bytesOf(model), {
      intraOpNumThreads: 1,
      interOpNumThreads: 1,
      executionMode: 'sequential',
      logSeverityLevel: 3,
    });
  } catch (error) {
    const which = typeof model === 'string' ? ` ${model}` : '';
    throw new PersonError(
      `The voice model${which} cannot be loaded (${messageOf(error)}): install critsheet again.`,
    );
  }
}

async function bytesOf(model: string | Uint8Array): Promise<Uint8Array> {
  return typeof model === 'string' ? readFile(model) : model;
}

/** The samples of a step behind the context, with silence before the beginning and after the end. */
function stepWithContext(samples: Float32Array, step: number): Float32Array {
  const framed = new Float32Array(CONTEXT_SAMPLES + STEP_SAMPLES);
  const start = step * STEP_SAMPLES;
  const from = Math.max(0, start - CONTEXT_SAMPLES);
  framed.set(samples.subarray(from, start + STEP_SAMPLES), CONTEXT_SAMPLES - (start - from));
  return framed;
}

function numbersOf(tensor: Tensor | undefined): Float32Array {
  if (tensor?.data instanceof Float32Array) return tensor.data;
  throw new PersonError('The voice model is not Silero version 5 or 6: install critsheet again.');
}
