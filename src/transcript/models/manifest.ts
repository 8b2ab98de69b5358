import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join, relative, sep } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { z } from 'zod';

const NAME = 'manifest.json';

const manifestSchema = z.strictObject({
  schema: z.literal('critsheet-model/1'),
  id: z.string(),
  files: z.array(z.strictObject({ path: z.string(), sha256: z.string() })).min(1),
});
export type Manifest = z.infer<typeof manifestSchema>;

/** SHA-256 of a file in hex, read in pieces. */
export async function sha256OfFile(path: string): Promise<string> {
  const hash = createHash('sha256');
  await pipeline(createReadStream(path, { highWaterMark: 1 << 20 }), hash);
  return hash.digest('hex');
}

/** Lists every file of a model folder with its checksum, in `manifest.json` beside them. Call it last. */
export async function writeManifest(folder: string, id: string): Promise<void> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const paths = entries
    .filter((entry) => entry.isFile() && entry.name !== NAME)
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join('/'))
    .sort();
  const files: Manifest['files'] = [];
  for (const path of paths) files.push({ path, sha256: await sha256OfFile(join(folder, path)) });
  const manifest: Manifest = { schema: 'critsheet-model/1', id, files };
  await writeFile(join(folder, NAME), `${JSON.stringify(manifest, null, 2)}\n`);
}

/** The manifest of a model folder, or null where there is none that can be read. */
export async function readManifest(folder: string): Promise<Manifest | null> {
  try {
    return manifestSchema.parse(JSON.parse(await readFile(join(folder, NAME), 'utf8')));
  } catch {
    return null;
  }
}

/**
 * Looks whether a model folder is whole: the manifest is there, of this model, and each file has its checksum.
 *
 * @returns 'sound', 'damaged', or 'absent' where the folder has no readable manifest.
 */
export async function checkFolder(folder: string, id: string): Promise<'sound' | 'damaged' | 'absent'> {
  const manifest = await readManifest(folder);
  if (!manifest) return 'absent';
  if (manifest.id !== id) return 'damaged';
  for (const { path, sha256 } of manifest.files) {
    const found = await sha256OfFile(join(folder, path)).catch(() => null);
    if (found !== sha256) return 'damaged';
  }
  return 'sound';
}

/** One checksum for a whole model: SHA-256 over its files' paths and checksums; null without a manifest. */
export async function modelChecksum(folder: string): Promise<string | null> {
  const manifest = await readManifest(folder);
  if (!manifest) return null;
  const hash = createHash('sha256');
  for (const { path, sha256 } of manifest.files) hash.update(`${sha256}  ${path}\n`);
  return hash.digest('hex');
}
