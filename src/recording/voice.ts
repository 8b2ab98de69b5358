import { readFile } from 'node:fs/promises';
import { InferenceSession, Tensor } from 'onnxruntime-node';
import { messageOf, PersonError } from '../basics/problem.ts';
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
  options: Watch = {},
): Promise<VoiceTrack> {
  options.signal?.throwIfAborted();
  const session = await load(model);
  try {
    const probabilities = new Float32Array(Math.ceil(samples.length / STEP_SAMPLES));
    const rate = new Tensor('int64', BigInt64Array.of(BigInt(SAMPLE_RATE)), []);
    let state = new Tensor('float32', new Float32Array(STATE_VALUES), STATE_SHAPE);
    for (let step = 0; step < probabilities.length; step++) {
      if (step % STEPS_A_TURN === 0) {
        options.signal?.throwIfAborted();
        options.onProgress?.(step / probabilities.length);
      }
      const input = new Tensor('float32', stepWithContext(samples, step), [
        1,
        CONTEXT_SAMPLES + STEP_SAMPLES,
      ]);
      const { output, stateN } = await session.run({ input, state, sr: rate });
      probabilities[step] = numbersOf(output)[0] ?? 0;
      state = new Tensor('float32', numbersOf(stateN), STATE_SHAPE);
    }
    options.onProgress?.(1);
    return { stepSeconds: STEP_SAMPLES / SAMPLE_RATE, probabilities };
  } finally {
    await session.release();
  }
}

/** One thread: the model is so small that more only wait for each other (2.6 times slower with the default). */
async function load(model: string | Uint8Array): Promise<InferenceSession> {
  try {
    const bytes = typeof model === 'string' ? await readFile(model) : model;
    return await InferenceSession.create(bytes, {
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
