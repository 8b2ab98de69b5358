import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { PersonError } from '../../basics/problem.ts';

/**
 * The ONNX files that come with critsheet, as paths under `dist/models` of an installed package. In a checkout the same
 * files lie in two development packages, of which nothing is ever imported: only these files are read.
 */
const CHECKOUT_PLACES: Readonly<Record<string, string>> = {
  'moonshine-base': '@usefulsensors/moonshine-js/dist/model/base/quantized',
  'moonshine-tiny': '@usefulsensors/moonshine-js/dist/model/tiny/quantized',
  'silero_vad_v5.onnx': '@ricky0123/vad-web/dist/silero_vad_v5.onnx',
};

/** Folders from this file up to the root; the package's own folder is among them, wherever it is installed. */
function foldersAbove(): string[] {
  const folders: string[] = [];
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!folders.includes(folder)) {
    folders.push(folder);
    folder = dirname(folder);
  }
  return folders;
}

/**
 * Finds a file or folder of the embedded models by its name under `dist/models` ('moonshine-base', 'silero_vad_v5.onnx').
 *
 * @throws PersonError where this installation does not have it.
 */
export function embeddedPath(name: string): string {
  const checkout = CHECKOUT_PLACES[name];
  for (const folder of foldersAbove()) {
    const packed = join(folder, 'dist', 'models', name);
    if (existsSync(packed)) return packed;
    const developed = checkout && join(folder, 'node_modules', checkout);
    if (developed && existsSync(developed)) return developed;
  }
  throw new PersonError(`The model file ${name} is missing from this installation: install critsheet again.`);
}

/** The voice activity model, Silero v5 (MIT), as a path. */
export function sileroPath(): string {
  return embeddedPath('silero_vad_v5.onnx');
}
