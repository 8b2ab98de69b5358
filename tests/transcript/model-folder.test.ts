import { execFile } from 'node:child_process';
import { mkdir, mkdtemp, readdir, readFile, rm, stat, truncate, unlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { PersonError } from '../../src/basics/problem.ts';
import { openEngine } from '../../src/transcript/engines/open-engine.ts';
import { cacheFolder } from '../../src/transcript/models/cache-folder.ts';
import { MODELS } from '../../src/transcript/models/catalogue.ts';
import { mendable } from '../../src/transcript/models/folder-errors.ts';
import { checkFolder, modelChecksum } from '../../src/transcript/models/manifest.ts';
import { ensureModelFolder } from '../../src/transcript/models/model-folder.ts';
import { modelStatus } from '../../src/transcript/models/model-status.ts';
import { prepare } from '../../src/transcript/models/prepare.ts';

const ID = 'moonshine-tiny';
let cacheDir: string;
beforeEach(async () => {
  cacheDir = await mkdtemp(join(tmpdir(), 'cache-'));
});
afterEach(() => rm(cacheDir, { recursive: true, force: true }));

describe('the folder of a model that comes with critsheet', () => {
  it('is made once, whole, with nothing left beside it', async () => {
    const folder = await ensureModelFolder(ID, { cacheDir });
    const made = (await stat(join(folder, 'tokenizer.json'))).mtimeMs;
    expect(await ensureModelFolder(ID, { cacheDir })).toBe(folder);
    expect((await stat(join(folder, 'tokenizer.json'))).mtimeMs).toBe(made);
    expect(await checkFolder(folder, ID)).toBe('sound');
    expect(await readdir(join(folder, '..'))).toEqual([ID]);
    expect(await modelChecksum(folder)).toMatch(/^[0-9a-f]{64}$/);
  });

  it('is made again where a file is missing, cut short or altered', async () => {
    const folder = await ensureModelFolder(ID, { cacheDir });
    const before = await modelChecksum(folder);
    const damages = [
      () => unlink(join(folder, 'config.json')),
      () => truncate(join(folder, 'onnx', 'decoder_model_merged_quantized.onnx'), 1000),
      () => writeFile(join(folder, 'manifest.json'), '{'),
      async () => {
        const bytes = await readFile(join(folder, 'tokenizer.json'));
        bytes[5000] = (bytes[5000] ?? 0) ^ 1;
        await writeFile(join(folder, 'tokenizer.json'), bytes);
      },
    ];
    for (const damage of damages) {
      await damage();
      expect(await checkFolder(folder, ID)).not.toBe('sound');
      await ensureModelFolder(ID, { cacheDir });
      expect(await checkFolder(folder, ID)).toBe('sound');
    }
    expect(await modelChecksum(folder)).toBe(before);
  });

  it('is made by two processes at once, and both get it', async () => {
    const script = `import { ensureModelFolder } from ${JSON.stringify(new URL('../../src/transcript/models/model-folder.ts', import.meta.url).href)};
      process.stdout.write(await ensureModelFolder('${ID}', { cacheDir: ${JSON.stringify(cacheDir)} }));`;
    const run = () =>
      promisify(execFile)(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', script]);
    const [one, two] = await Promise.all([run(), run()]);
    expect(one.stdout).toBe(two.stdout);
    expect(await checkFolder(one.stdout, ID)).toBe('sound');
    expect(await readdir(join(one.stdout, '..'))).toEqual([ID]);
  });

  it('cannot be made under a file, and says what to do', async () => {
    await writeFile(join(cacheDir, 'models'), '');
    const failure = await ensureModelFolder(ID, { cacheDir }).catch((error: unknown) => error);
    expect(failure).toBeInstanceOf(PersonError);
    expect(String(failure)).toContain('CRITSHEET_CACHE');
  });

  it('says that the disk is full, and leaves bugs alone', () => {
    const full = mendable(Object.assign(new Error('write'), { code: 'ENOSPC' }), cacheDir);
    expect(full).toBeInstanceOf(PersonError);
    expect(String(full)).toContain('disk is full');
    const bug = new TypeError('no such thing');
    expect(mendable(bug, cacheDir)).toBe(bug);
  });
});

describe('models', () => {
  it('lists the known ids when asked for another', async () => {
    const failure = await openEngine('moonshine-huge').catch((error: unknown) => error);
    expect(failure).toBeInstanceOf(PersonError);
    for (const { id } of MODELS) expect(String(failure)).toContain(id);
  });

  it('says what to do about a model that is not here, and about a folder that holds none', async () => {
    await expect(ensureModelFolder('whisper-base.en', { cacheDir })).rejects.toThrow(
      /models prepare whisper-base.en/,
    );
    await expect(openEngine(cacheDir)).rejects.toThrow(/holds no speech model/);
  });

  it('tells which are on this machine', async () => {
    await ensureModelFolder(ID, { cacheDir });
    const states = Object.fromEntries((await modelStatus({ cacheDir })).map(({ id, state }) => [id, state]));
    expect(states).toMatchObject({
      'moonshine-base': 'embedded',
      [ID]: 'ready',
      'whisper-base.en': 'absent',
    });
    await unlink(join(cacheDir, 'models', '2', ID, 'config.json'));
    const tiny = (await modelStatus({ cacheDir })).find(({ id }) => id === ID);
    expect(tiny).toMatchObject({ state: 'damaged', checksumOk: false });
  });

  it('fetches a model only when told to, and keeps it with its checksums', async () => {
    const asked: string[] = [];
    const download = async (publicId: string, folder: string) => {
      asked.push(publicId);
      await mkdir(join(folder, 'onnx'));
      await writeFile(join(folder, 'onnx', 'encoder_model_quantized.onnx'), 'weights');
    };
    const folder = await prepare('whisper-tiny.en_timestamped', { cacheDir, download });
    expect(await checkFolder(folder, 'whisper-tiny.en_timestamped')).toBe('sound');
    expect(await prepare('whisper-tiny.en_timestamped', { cacheDir, download })).toBe(folder);
    expect(asked).toEqual(['onnx-community/whisper-tiny.en_timestamped']);
  });

  it('says in one sentence that there is no network, and leaves nothing behind', async () => {
    const download = async () => {
      throw new TypeError('fetch failed', { cause: new Error('getaddrinfo ENOTFOUND') });
    };
    const failure = await prepare('whisper-base.en', { cacheDir, download }).catch((error: unknown) => error);
    expect(failure).toBeInstanceOf(PersonError);
    expect(String(failure)).toMatch(/whisper-base\.en could not be fetched \(getaddrinfo ENOTFOUND\)/);
    expect(await readdir(join(cacheDir, 'models', '2'))).toEqual([]);
  });
});

describe('the cache folder', () => {
  it.each([
    [{ CRITSHEET_CACHE: '/own' }, 'linux', '/own'],
    [{ XDG_CACHE_HOME: '/xdg' }, 'linux', '/xdg/critsheet'],
    [{}, 'linux', '/home/a/.cache/critsheet'],
    [{}, 'darwin', '/home/a/Library/Caches/critsheet'],
  ] as const)('%o on %s is %s', (environment, platform, folder) => {
    expect(cacheFolder(environment, platform, '/home/a')).toBe(folder);
  });
});
