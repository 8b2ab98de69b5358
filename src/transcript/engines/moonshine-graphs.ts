import { join } from 'node:path';
import { InferenceSession, Tensor } from 'onnxruntime-node';
import type { Head } from '../alignment/attention.ts';
import { sessionOptions } from './library.ts';

/** What the decoder remembers of what it has written: one row for each text it is writing at once. */
export interface DecoderMemory {
  readonly rows: number;
  /** By the names of the graph's inputs. */
  readonly own: ReadonlyMap<string, Tensor>;
  /** The sound as the decoder sees it; the same for all rows. */
  readonly sound: ReadonlyMap<string, Tensor>;
}

/** What one step of the decoder gives. */
export interface DecoderStep {
  readonly memory: DecoderMemory;
  /** For each row, one value for each token of the vocabulary; valid until the next step. */
  logits(row: number): Float32Array;
  /** For each row, for each head asked for, its weights over the encoder's frames. */
  attention(row: number): Float32Array[];
}

/** The two graphs of a Moonshine folder, loaded. Texts that begin alike are written side by side, as rows of a batch. */
export interface MoonshineGraphs {
  /** The encoder's answer to 16 kHz sound. */
  encode(samples: Float32Array): Promise<Tensor>;
  /** The decoder's first step, of one row. */
  begin(encoded: Tensor, token: number): Promise<DecoderStep>;
  /** One more token for each row. */
  step(memory: DecoderMemory, tokens: readonly number[]): Promise<DecoderStep>;
  close(): Promise<void>;
}

const ENCODER_KEY = /\.encoder\.key$/;
const ENCODER = /\.encoder\./;

/**
 * Opens the graphs of a folder that `buildMoonshine` made.
 *
 * @param heads The attention that is wanted of each step.
 */
export async function openGraphs(folder: string, heads: readonly Head[]): Promise<MoonshineGraphs> {
  const open = (name: string) =>
    InferenceSession.create(join(folder, 'onnx', name), { ...sessionOptions(), logSeverityLevel: 3 });
  const encoder = await open('encoder_model_quantized.onnx');
  const decoder = await open('decoder_model_merged_quantized.onnx');
  const pasts = decoder.inputNames.filter((name) => name.startsWith('past_key_values.'));
  const [headCount, size] = headShape(decoder, pasts[0] ?? '');
  const layers = [...new Set(heads.map(({ layer }) => `cross_attentions.${layer}`))];
  const firstOutputs = ['logits', ...pasts.map(presentOf), ...layers];
  const laterOutputs = firstOutputs.filter((name) => !ENCODER.test(name));
  const nothing = new Map(
    pasts.map((name) => {
      const dims = ENCODER_KEY.test(name) ? [1, headCount, size, 0] : [1, headCount, 0, size];
      return [name, new Tensor('float32', new Float32Array(0), dims)] as const;
    }),
  );
  const no = new Tensor('bool', Uint8Array.of(0), [1]);
  const yes = new Tensor('bool', Uint8Array.of(1), [1]);
  let unheard: Tensor | undefined;

  const run = async (
    inputs: Record<string, Tensor>,
    tokens: readonly number[],
    outputs: readonly string[],
    sound: ReadonlyMap<string, Tensor> | null,
  ): Promise<DecoderStep> => {
    const ids = new Tensor('int64', BigInt64Array.from(tokens, BigInt), [tokens.length, 1]);
    const given = await decoder.run({ ...inputs, input_ids: ids }, outputs);
    const take = (name: string): Tensor => {
      const tensor = given[name];
      if (!tensor) throw new Error(`the decoder gives no ${name}: its folder was not made by critsheet`);
      return tensor;
    };
    const kept = (wanted: (name: string) => boolean) =>
      new Map(pasts.filter(wanted).map((name) => [name, take(presentOf(name))]));
    const logits = take('logits');
    const vocabulary = logits.dims[2] ?? 0;
    return {
      memory: {
        rows: tokens.length,
        own: kept((name) => !ENCODER.test(name)),
        sound: sound ?? kept((name) => ENCODER.test(name)),
      },
      logits: (row) => (logits.data as Float32Array).subarray(row * vocabulary, (row + 1) * vocabulary),
      attention: (row) =>
        heads.map(({ layer, head }) => headRow(take(`cross_attentions.${layer}`), row, head)),
    };
  };

  return {
    async encode(samples) {
      const { last_hidden_state } = await encoder.run({
        input_values: new Tensor('float32', samples, [1, samples.length]),
      });
      if (!last_hidden_state) throw new Error('the encoder gives no hidden state');
      return last_hidden_state;
    },
    begin(encoded, token) {
      // The later steps do not look at the sound itself, but the graph wants something of that shape.
      const width = encoded.dims[2] ?? 0;
      unheard ??= new Tensor('float32', new Float32Array(width), [1, 1, width]);
      return run(
        { ...Object.fromEntries(nothing), encoder_hidden_states: encoded, use_cache_branch: no },
        [token],
        firstOutputs,
        null,
      );
    },
    step(memory, tokens) {
      if (!unheard) throw new Error('a decoder begins before it goes on');
      return run(
        {
          ...Object.fromEntries(memory.own),
          ...Object.fromEntries(memory.sound),
          encoder_hidden_states: unheard,
          use_cache_branch: yes,
        },
        tokens,
        laterOutputs,
        memory.sound,
      );
    },
    async close() {
      await encoder.release();
      await decoder.release();
    },
  };
}

/**
 * The memory with other rows: one may be left out, or taken several times. Where nothing changes, nothing is copied.
 *
 * @param rows For each row of the new memory, which row of the old one it goes on from.
 */
export function withRows(memory: DecoderMemory, rows: readonly number[]): DecoderMemory {
  if (rows.length === memory.rows && rows.every((row, index) => row === index)) return memory;
  const own = new Map(
    [...memory.own].map(([name, tensor]) => {
      const values = tensor.data as Float32Array;
      const length = values.length / memory.rows;
      const picked = new Float32Array(length * rows.length);
      rows.forEach((row, index) => {
        picked.set(values.subarray(row * length, (row + 1) * length), index * length);
      });
      return [name, new Tensor('float32', picked, [rows.length, ...tensor.dims.slice(1)])] as const;
    }),
  );
  return { rows: rows.length, own, sound: memory.sound };
}

function presentOf(past: string): string {
  return past.replace('past_key_values', 'present');
}

/** How many heads a decoder has, and their size. */
function headShape(decoder: InferenceSession, past: string): [heads: number, size: number] {
  const input = decoder.inputMetadata.find(({ name }) => name === past);
  const shape = input?.isTensor ? input.shape : [];
  const [, heads, , size] = shape;
  if (typeof heads !== 'number' || typeof size !== 'number') {
    throw new Error('the decoder does not say how its memory is laid out');
  }
  return [heads, size];
}

function headRow(layer: Tensor, row: number, head: number): Float32Array {
  const [, heads = 0, , frames = 0] = layer.dims;
  const from = (row * heads + head) * frames;
  return (layer.data as Float32Array).slice(from, from + frames);
}
