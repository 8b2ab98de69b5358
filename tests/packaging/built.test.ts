import { execFile } from 'node:child_process';
import { cpSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { bundlePages } from '../../src/packaging/bundle-pages.ts';
import { writeSheetSchema } from '../../src/packaging/write-schema.ts';
import { sheetSchema } from '../../src/sheet/sheet.ts';
import { inFolder } from '../commands/run-command.ts';
import { putTranscript } from '../commands/saved-transcript.ts';

const runFile = promisify(execFile);
const project = fileURLToPath(new URL('../..', import.meta.url));
/** Inside the project, so that the compiled files find the same packages. */
const built = join(project, 'node_modules', '.cache', 'critsheet-built');
const main = join(built, 'dist', 'main.js');

/** Runs the compiled program by Node alone, as it is when installed: no loader that mends imports on the way. */
async function program(...args: string[]): Promise<string> {
  return (await runFile(process.execPath, [main, ...args], { maxBuffer: 1 << 26 })).stdout;
}

describe('the compiled program', () => {
  beforeAll(async () => {
    rmSync(built, { recursive: true, force: true });
    mkdirSync(built, { recursive: true });
    cpSync(join(project, 'package.json'), join(built, 'package.json'));
    const compiler = join(project, 'node_modules', 'typescript', 'bin', 'tsc');
    const config = join(project, '.tsconfig.build.json');
    await runFile(process.execPath, [compiler, '-p', config, '--outDir', join(built, 'dist')]);
    await bundlePages(join(built, 'dist'));
    writeSheetSchema(join(built, 'dist'));
    cpSync(join(project, 'src', 'lexicons'), join(built, 'dist', 'lexicons'), { recursive: true });
  });
  afterAll(() => rmSync(built, { recursive: true, force: true }));

  it('shows its help', async () => {
    expect(await program('--help')).toContain('Usage: critsheet');
  });

  it('reads a saved transcript', () =>
    inFolder(async (folder) => {
      const out = await program('read', await putTranscript(folder), '--json');
      expect(sheetSchema.parse(JSON.parse(out)).words.length).toBeGreaterThan(100);
    }));

  it.each([
    ['vtt', 'WEBVTT\n\n00:00:01.000 --> 00:00:03.000\nLovely turn.\n'],
    ['srt', '1\n00:00:01,000 --> 00:00:03,000\nLovely turn.\n'],
  ])('reads .%s captions', (ending, text) =>
    inFolder(async (folder) => {
      writeFileSync(join(folder, `talk.${ending}`), text);
      const out = await program('read', join(folder, `talk.${ending}`), '--json');
      expect(sheetSchema.parse(JSON.parse(out)).words.map((word) => word.text)).toEqual(['Lovely', 'turn.']);
    }),
  );

  it('writes the page with its script, though nothing bundles it any more', () =>
    inFolder(async (folder) => {
      await program('read', await putTranscript(folder), '--as', 'html');
      const [page = ''] = readdirSync(folder).filter((file) => file.endsWith('.sheet.html'));
      const html = readFileSync(join(folder, page), 'utf8');
      expect(/<script type="module">(.*?)<\/script>/s.exec(html)?.[1]?.length).toBeGreaterThan(2000);
      expect(/<style>(.*?)<\/style>/s.exec(html)?.[1]?.length).toBeGreaterThan(2000);
    }));

  it('hears a recording', async () => {
    const path = fileURLToPath(new URL('../fixtures/speech/synth-lift.wav', import.meta.url));
    const out = await program('read', path, '--json', '--model', 'moonshine-tiny');
    expect(sheetSchema.parse(JSON.parse(out)).words.length).toBeGreaterThan(3);
  });

  it('reads several recordings by its worker threads', () =>
    inFolder(async (folder) => {
      const paths = [await putTranscript(folder, 'a'), await putTranscript(folder, 'b', 'cd'.repeat(32))];
      const out = await program('read', ...paths);
      expect(out.trimEnd().split('\n').sort()).toEqual([
        ...paths.map((path) => expect.stringMatching(`^${path}: .*to change`)),
        `written to: ${folder}`,
      ]);
      expect(readdirSync(folder)).toEqual(expect.arrayContaining(['a.sheet.json', 'b.sheet.json']));
    }));

  it("brings the sheet's JSON Schema where package.json says it is", () => {
    const { exports } = JSON.parse(readFileSync(join(built, 'package.json'), 'utf8'));
    const schema = JSON.parse(readFileSync(join(built, exports['./sheet.schema.json']), 'utf8'));
    expect(schema.properties.schema.const).toBe('critsheet/1');
  });

  it('is a library too', async () => {
    const entry = join(built, 'dist', 'index.js');
    const text = `import * as all from ${JSON.stringify(`file://${entry}`)}; console.log(Object.keys(all).join())`;
    const { stdout } = await runFile(process.execPath, ['--input-type=module', '--eval', text]);
    expect(stdout.trim().split(',')).toEqual(
      expect.arrayContaining(['read', 'readEvents', 'readCritique', 'readSheet', 'sheetSchema']),
    );
  });

  const readme = readFileSync(join(project, 'README.md'), 'utf8');
  const examples = [...readme.matchAll(/```js\n(.*?)```/gs)]
    .map(([, text = '']) => text)
    .filter((text) => text.includes("from 'critsheet'"));

  it('is what the examples of the README take it for', () => {
    expect(examples.length).toBeGreaterThanOrEqual(3);
  });

  it.each(examples)('runs the example of the README: %#', async (text) => {
    const folder = join(built, 'example');
    mkdirSync(folder, { recursive: true });
    cpSync(
      fileURLToPath(new URL('../fixtures/speech/synth-lift.wav', import.meta.url)),
      join(folder, 'take3.wav'),
    );
    // As it stands: in here 'critsheet' is the compiled package itself.
    writeFileSync(join(folder, 'example.mjs'), text);
    const { stdout } = await runFile(process.execPath, ['example.mjs'], { cwd: folder });
    expect(stdout.trim()).not.toBe('');
    expect(readdirSync(folder).sort()).toEqual(['example.mjs', 'take3.wav']);
  });
});
