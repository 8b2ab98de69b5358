import { create } from '@bufbuild/protobuf';
import { type GraphProto, type ValueInfoProto, ValueInfoProtoSchema } from 'onnx-buf';
import type { MergedDecoder } from './merged-decoder.ts';

const ATTENTION = /^\/model\/decoder\/layers\.(\d+)\/encoder_attn\/Softmax_output_0$/;
const FLOAT = 1;

/**
 * Makes a decoder tell which part of the sound each token was read from.
 *
 * The exported graph computes its cross-attention (tokens by encoder frames, for each head) and throws it away. Here
 * those inner values become outputs named `cross_attentions.N`, N being the layer. The graph's top is one `If` whose
 * branches are the first step and the later steps: a value has to be an output of both branches, of the `If` and of the
 * graph, in the same order. No number of the model changes.
 *
 * @param decoder Is changed in place: it gets one more output for each layer.
 * @throws Error where the graph is not of that make.
 */
export function exposeCrossAttention({ graph, choice, branches }: MergedDecoder): void {
  const layers = branches[0] ? attentionLayers(branches[0]) : [];
  if (layers.length === 0) throw new Error('the decoder has no cross-attention where it is expected');
  for (const { layer, name } of layers) {
    for (const branch of branches) branch.output.push(fourDimensions(name));
    choice.output.push(`cross_attentions.${layer}`);
    graph.output.push(fourDimensions(`cross_attentions.${layer}`));
  }
}

function attentionLayers(branch: GraphProto): { layer: number; name: string }[] {
  const found = branch.node.flatMap((node) =>
    node.output.flatMap((name) => {
      const layer = ATTENTION.exec(name)?.[1];
      return layer === undefined ? [] : [{ layer: Number(layer), name }];
    }),
  );
  return found.sort((a, b) => a.layer - b.layer);
}

function fourDimensions(name: string): ValueInfoProto {
  const dim = ['batch', 'heads', 'tokens', 'frames'].map((axis) => ({
    value: { case: 'dimParam' as const, value: `attention_${axis}` },
  }));
  return create(ValueInfoProtoSchema, {
    name,
    type: { value: { case: 'tensorType', value: { elemType: FLOAT, shape: { dim } } } },
  });
}
