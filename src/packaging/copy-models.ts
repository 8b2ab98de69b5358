import { cpSync, mkdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/**
 * Puts the models into dist, so that a published critsheet carries them. They come from two development packages whose
 * own code and dependencies (half a gigabyte) nobody who installs critsheet needs.
 */
const project = fileURLToPath(new URL('../..', import.meta.url));
const models = join(project, 'dist', 'models');

const COPIES = [
  [
    '@usefulsensors/moonshine-js/dist/model/base/quantized/encoder_model.onnx',
    'moonshine-base/encoder_model.onnx',
  ],
  [
    '@usefulsensors/moonshine-js/dist/model/base/quantized/decoder_model_merged.onnx',
    'moonshine-base/decoder_model_merged.onnx',
  ],
  [
    '@usefulsensors/moonshine-js/dist/model/tiny/quantized/encoder_model.onnx',
    'moonshine-tiny/encoder_model.onnx',
  ],
  [
    '@usefulsensors/moonshine-js/dist/model/tiny/quantized/decoder_model_merged.onnx',
    'moonshine-tiny/decoder_model_merged.onnx',
  ],
  ['@ricky0123/vad-web/dist/silero_vad_v5.onnx', 'silero_vad_v5.onnx'],
] as const;

for (const [from, to] of COPIES) {
  const path = join(models, to);
  mkdirSync(dirname(path), { recursive: true });
  cpSync(join(project, 'node_modules', from), path);
}
cpSync(join(project, 'src', 'packaging', 'model-licences.txt'), join(models, 'LICENCES.txt'));
