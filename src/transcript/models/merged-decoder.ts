import { fromBinary, toBinary } from '@bufbuild/protobuf';
import { type GraphProto, ModelProtoSchema, type NodeProto } from 'onnx-buf';

/** An exported decoder whose top is one `If` with two branches: the first step, and the later ones with their memory. */
export interface MergedDecoder {
  readonly graph: GraphProto;
  readonly choice: NodeProto;
  readonly branches: readonly GraphProto[];
}

/**
 * Changes an exported decoder.
 *
 * @param bytes Those of `decoder_model_merged.onnx`.
 * @param edits What is done to it, in order; each changes it in place.
 * @returns The bytes of the changed model.
 * @throws Error where the model is not of that make.
 */
export function editDecoder(
  bytes: Uint8Array,
  edits: readonly ((decoder: MergedDecoder) => void)[],
): Uint8Array {
  const model = fromBinary(ModelProtoSchema, bytes);
  const { graph } = model;
  const choice = graph?.node.find((node) => node.opType === 'If');
  const branches = choice?.attribute.flatMap((attribute) => (attribute.g ? [attribute.g] : [])) ?? [];
  if (!graph || !choice || branches.length !== 2) throw new Error('the decoder has no two branches');
  for (const edit of edits) edit({ graph, choice, branches });
  return toBinary(ModelProtoSchema, model);
}
