import { create } from '@bufbuild/protobuf';
import {
  type AttributeProto,
  AttributeProtoSchema,
  type GraphProto,
  type NodeProto,
  NodeProtoSchema,
  TensorProtoSchema,
} from 'onnx-buf';
import type { MergedDecoder } from './merged-decoder.ts';

const EMBEDDING = 'model.decoder.embed_tokens.weight_merged_0';
const PROJECTION = 'projection_weight_quantized';
const HIDDEN = '/model/decoder/norm/Mul_output_0';
const KEYS = /^past_key_values\.(\d+)\.encoder\.key$/;
const FLOAT = 1;
const UINT8 = 2;

/**
 * Takes two pieces of work out of every step of a decoder that need doing only once. It is changed in place.
 *
 * The projection onto the vocabulary turned its 8-bit weights over and unpacked them to floating point at each token,
 * which was a third of its time. The weights are now stored turned over, and multiplied in 8 bits like every other
 * matrix of the model. The encoder's keys were turned over and scaled at each token, in each layer; now the first step
 * gives them so, and they are kept. The first changes the results by rounding alone, the second not at all.
 *
 * @throws Error where the graph is not of the make that is expected.
 */
export function quickenDecoder({ graph, branches }: MergedDecoder): void {
  storeProjection(graph);
  for (const branch of branches) {
    projectInEightBits(branch);
    keepKeysReady(branch);
    // Shapes that were worked out for the graph as it was.
    branch.valueInfo = [];
  }
  for (const { name, type } of [...graph.input, ...graph.output]) {
    if (!/\.encoder\.key$/.test(name) || type?.value.case !== 'tensorType') continue;
    const dims = type.value.value.shape?.dim ?? [];
    const [size, frames] = [dims[2]?.value, dims[3]?.value];
    if (dims[2] && dims[3] && size && frames) [dims[2].value, dims[3].value] = [frames, size];
  }
}

/** Adds the embedding's table turned over: [tokens, hidden] becomes [hidden, tokens]. */
function storeProjection(graph: GraphProto): void {
  const table = graph.initializer.find(({ name }) => name === `${EMBEDDING}_quantized`);
  const [rows, columns] = (table?.dims ?? []).map(Number);
  const bytes = table?.rawData;
  if (!rows || !columns || bytes?.length !== rows * columns) {
    throw new Error('the decoder has no 8-bit embedding where it is expected');
  }
  const turned = new Uint8Array(rows * columns);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      turned[column * rows + row] = bytes[row * columns + column] ?? 0;
    }
  }
  graph.initializer.push(
    create(TensorProtoSchema, {
      name: PROJECTION,
      dims: [BigInt(columns), BigInt(rows)],
      dataType: UINT8,
      rawData: turned,
    }),
  );
}

function projectInEightBits(branch: GraphProto): void {
  const last = branch.node.find((node) => node.opType === 'MatMul' && node.output[0] === 'logits');
  if (last?.input[0] !== HIDDEN) throw new Error('the decoder has no projection where it is expected');
  const unpacked = last.input[1] ?? '';
  const unpack = branch.node.find((node) => node.output[0] === unpacked);
  const turn = branch.node.find((node) => node.output[0] === unpack?.input[0]);
  const quantized = ['quantized', 'scale', 'zero_point'].map((part) => `${HIDDEN}_${part}`);
  const [values = '', scale = '', zero = ''] = quantized;
  const [sum, exact, factor] = ['logits_sum', 'logits_exact', 'logits_factor'];
  const to = create(AttributeProtoSchema, { name: 'to', i: BigInt(FLOAT), type: 2 });
  branch.node = [
    ...branch.node.filter((node) => node !== last && node !== unpack && node !== turn),
    step('DynamicQuantizeLinear', [HIDDEN], quantized),
    step('MatMulInteger', [values, PROJECTION, zero, `${EMBEDDING}_zero_point`], [sum]),
    step('Mul', [scale, `${EMBEDDING}_scale`], [factor]),
    step('Cast', [sum], [exact], [to]),
    step('Mul', [exact, factor], ['logits']),
  ];
}

function step(
  opType: string,
  input: string[],
  output: string[],
  attribute: AttributeProto[] = [],
): NodeProto {
  return create(NodeProtoSchema, { name: `quick_${output[0]}`, opType, input, output, attribute });
}

/** In the later steps the keys come ready; in the first they are given away ready. */
function keepKeysReady(branch: GraphProto): void {
  const scaled = (layer: string) => `/model/decoder/layers.${layer}/encoder_attn/Mul_1_output_0`;
  const idle = new Set<NodeProto>();
  for (const turn of branch.node.filter((node) => KEYS.test(node.input[0] ?? ''))) {
    const keys = turn.input[0] ?? '';
    const name = scaled(KEYS.exec(keys)?.[1] ?? '');
    const scale = branch.node.find((node) => node.output[0] === name);
    if (turn.opType !== 'Transpose' || !scale || scale.input[0] !== turn.output[0]) {
      throw new Error('the decoder does not use its keys as expected');
    }
    for (const node of branch.node) node.input = node.input.map((input) => (input === name ? keys : input));
    idle.add(turn).add(scale);
  }
  branch.node = branch.node.filter((node) => !idle.has(node));
  if (idle.size === 0) giveScaledKeys(branch, scaled);
}

function giveScaledKeys(branch: GraphProto, scaled: (layer: string) => string): void {
  for (const output of branch.output) {
    const layer = /^present\.(\d+)\.encoder\.key$/.exec(output.name)?.[1];
    if (layer === undefined) continue;
    const [ready, given] = [scaled(layer), output.name];
    for (const node of branch.node) {
      node.output = node.output.map((name) =>
        name === given ? `${given}_plain` : name === ready ? given : name,
      );
      node.input = node.input.map((name) =>
        name === given ? `${given}_plain` : name === ready ? given : name,
      );
    }
    if (output.type?.value.case === 'tensorType') delete output.type.value.value.shape;
  }
}
