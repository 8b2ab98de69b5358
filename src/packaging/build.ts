import { spawnSync } from 'node:child_process';
import { cpSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { bundlePages } from './bundle-pages.ts';
import { writeSheetSchema } from './write-schema.ts';

const project = fileURLToPath(new URL('../..', import.meta.url));
const built = join(project, 'dist');

// What an earlier build left behind must not be packed.
rmSync(built, { recursive: true, force: true });
const require = createRequire(import.meta.url);
const compiler = join(dirname(require.resolve('typescript/package.json')), 'bin', 'tsc');
const { status } = spawnSync(process.execPath, [compiler, '-p', join(project, '.tsconfig.build.json')], {
  stdio: 'inherit',
});
if (status !== 0) process.exit(1);
await bundlePages(built);
cpSync(join(project, 'src', 'lexicons'), join(built, 'lexicons'), { recursive: true });
writeSheetSchema(built);
