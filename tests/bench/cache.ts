import { spawnSync } from 'node:child_process';
import { appendFileSync, cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { writeTalk } from '../cache/talk.ts';
import { newCacheFolder } from '../own-cache.ts';

/**
 * What a second reading of a recording costs, as a part of the first: the same again, and after a change of a lexicon.
 * Each is a process of the built program. Processor time is what counts on a machine that does other work too.
 */
const MINUTES = Number(process.argv[2] ?? 5);
const PROJECT = resolve(import.meta.dirname, '..', '..');
const CPU = `data:text/javascript,process.on('exit',()=>{const{user,system}=process.cpuUsage();process.stderr.write('cpu '+(user+system)/1e6+'\\n')})`;

const folder = mkdtempSync(join(tmpdir(), 'critsheet-bench-'));
const cache = newCacheFolder();
try {
  build();
  const { path, seconds } = writeTalk(folder, /./, MINUTES * 60);
  console.log(`${(seconds / 60).toFixed(1)} minutes of talk`);
  const first = read(path, 'first');
  const again = read(path, 'again');
  console.log(`the same again: ${share(again, first)} of the first`);
  const lexicon = join(folder, 'dist', 'lexicons', 'en', 'issues', 'pop.yaml');
  appendFileSync(
    lexicon,
    '- says: judders badly\n  means: pop\n  yes: the wrist judders badly on forty\n  no: the wrist is fine\n',
  );
  const changed = read(path, 'changed');
  console.log(`with a changed lexicon: ${share(changed, first)} of the first`);
} finally {
  rmSync(folder, { recursive: true });
  rmSync(cache, { recursive: true });
}

interface Cost {
  readonly seconds: number;
  readonly processor: number;
}

function read(recording: string, name: string): Cost {
  const started = performance.now();
  const main = join(folder, 'dist', 'main.js');
  const out = join(folder, name);
  const { status, stderr } = spawnSync(
    process.execPath,
    ['--import', CPU, main, 'read', recording, '--out', out],
    {
      env: { ...process.env, CRITSHEET_CACHE: cache },
      encoding: 'utf8',
    },
  );
  const seconds = (performance.now() - started) / 1000;
  const [, processor] = /^cpu (.*)$/m.exec(stderr) ?? [];
  if (status !== 0 || !processor) throw new Error(stderr);
  const { words } = JSON.parse(readFileSync(join(out, 'talk.sheet.json'), 'utf8')) as { words: unknown[] };
  const cost = { seconds, processor: Number(processor) };
  console.log(
    `${name}: ${seconds.toFixed(1)} s, processor ${cost.processor.toFixed(2)} s, ${words.length} words`,
  );
  return cost;
}

function share(one: Cost, all: Cost): string {
  const percent = (part: number, whole: number) => `${((100 * part) / whole).toFixed(1)} %`;
  return `${percent(one.processor, all.processor)} of the processor time, ${percent(one.seconds, all.seconds)} of the time`;
}

/** The program as it is installed, into the folder. */
function build(): void {
  const compiler = join(
    dirname(createRequire(import.meta.url).resolve('typescript/package.json')),
    'bin',
    'tsc',
  );
  const built = join(folder, 'dist');
  mkdirSync(built);
  const config = join(PROJECT, '.tsconfig.build.json');
  const { status } = spawnSync(process.execPath, [compiler, '-p', config, '--outDir', built], {
    stdio: 'inherit',
  });
  if (status !== 0) throw new Error('it does not compile');
  cpSync(join(PROJECT, 'src', 'lexicons'), join(built, 'lexicons'), { recursive: true });
  cpSync(join(PROJECT, 'package.json'), join(folder, 'package.json'));
  symlinkSync(join(PROJECT, 'node_modules'), join(folder, 'node_modules'), 'junction');
}
