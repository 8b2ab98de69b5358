import { copyFile, mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { PersonError } from '../../basics/problem.ts';
import type { ModelEntry } from './catalogue.ts';
import { exposeCrossAttention } from './cross-attention.ts';
import { embeddedPath } from './embedded-files.ts';
import { sha256OfFile } from './manifest.ts';
import { editDecoder } from './merged-decoder.ts';
import { type MoonshineSize, moonshineFiles } from './moonshine-files.ts';
import { quickenDecoder } from './quick-decoder.ts';

const SIZES: Readonly<Record<string, MoonshineSize>> = {
  'moonshine-base': { hidden: 416, intermediate: 1664, layers: 8 },
  'moonshine-tiny': { hidden: 288, intermediate: 1152, layers: 6 },
};

/**
 * Fills an empty folder with what the transformers library loads as a Moonshine model: the encoder as it is, the decoder
 * quicker and with its cross-attention exposed, the small configuration files and the tokenizer.
 *
 * @throws PersonError where the files of this installation are missing or not the ones the catalogue knows.
 */
export async function buildMoonshine(model: ModelEntry, folder: string): Promise<void> {
  const size = SIZES[model.id];
  if (!size) throw new Error(`no sizes are known for ${model.id}`);
  const source = embeddedPath(model.id);
  for (const { path, sha256 } of model.files) {
    if ((await sha256OfFile(join(source, path))) !== sha256) {
      throw new PersonError(
        `The model file ${path} of ${model.id} in this installation is damaged: install critsheet again.`,
      );
    }
  }
  await mkdir(join(folder, 'onnx'));
  // The names are those the library looks for when it is asked for 8-bit weights.
  await copyFile(join(source, 'encoder_model.onnx'), join(folder, 'onnx', 'encoder_model_quantized.onnx'));
  const exported = await readFile(join(source, 'decoder_model_merged.onnx'));
  const decoder = editDecoder(exported, [exposeCrossAttention, quickenDecoder]);
  await writeFile(join(folder, 'onnx', 'decoder_model_merged_quantized.onnx'), decoder);
  for (const [name, text] of Object.entries(moonshineFiles(size))) await writeFile(join(folder, name), text);
}
