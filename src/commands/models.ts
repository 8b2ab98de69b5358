import type { Command } from 'commander';
import type { ModelStatus } from '../transcript/models/model-status.ts';
import type { Surroundings } from './screen.ts';

/** `critsheet models`: the speech models, and `critsheet models prepare ID`. */
export function addModels(program: Command, surroundings: Surroundings): void {
  const models = program
    .command('models')
    .summary('list the speech models, or put one on this machine')
    .description('Lists the speech models that are known, and which of them are on this machine.')
    .option('--json', 'print the list as JSON on standard output')
    .option('--verbose', 'show folders and full checksums, and the stack of an error')
    .action((options: { json?: true; verbose?: true }) => list(options, surroundings));
  models
    .command('prepare')
    .summary('put a model on this machine')
    .description(
      'Makes a model ready for use. One that does not come with critsheet is fetched from the public model hub: nothing else in critsheet uses the network.',
    )
    .argument('<id>', 'a model of the list')
    .option('--verbose', 'say more, and show the stack of an error')
    .action((id: string, options: { verbose?: true }) => prepareModel(id, options, surroundings));
}

async function list(options: { json?: true; verbose?: true }, { screen }: Surroundings): Promise<void> {
  const { modelStatus } = await import('../transcript/models/model-status.ts');
  const { modelChecksum } = await import('../transcript/models/manifest.ts');
  const known = await Promise.all(
    (await modelStatus()).map(async (model) => ({ ...model, sha256: await modelChecksum(model.folder) })),
  );
  if (options.json) {
    screen.print(JSON.stringify(known, null, 2));
    return;
  }
  const { cacheFolder } = await import('../transcript/models/cache-folder.ts');
  const { DEFAULT_MODEL } = await import('../transcript/models/catalogue.ts');
  const { inColumns } = await import('./columns.ts');
  const rows = [
    ['model', 'on this machine', 'size', 'licence', 'languages', 'word times', 'checksum'],
    ...known.map((model) => [
      model.id === DEFAULT_MODEL ? `${model.id} (default)` : model.id,
      STATES[model.state],
      `${Math.round(model.size / 1e6)} MB`,
      model.licence,
      model.languages.join(', '),
      model.wordTimes ? 'heard' : 'spread',
      model.sha256 ? (options.verbose ? model.sha256 : `${model.sha256.slice(0, 12)}…`) : '-',
    ]),
  ];
  screen.print(inColumns(rows));
  screen.print(`\nModels are kept in ${cacheFolder()}; "critsheet models prepare ID" puts one there.`);
  if (options.verbose) screen.print(known.map(({ id, folder }) => `${id}: ${folder}`).join('\n'));
}

const STATES: Readonly<Record<ModelStatus['state'], string>> = {
  ready: 'yes',
  embedded: 'yes, unpacked on first use',
  damaged: 'damaged, made again on use',
  absent: 'no',
};

async function prepareModel(
  id: string,
  options: { verbose?: true },
  { screen, signal }: Surroundings,
): Promise<void> {
  const { prepare } = await import('../transcript/models/prepare.ts');
  const { startBar } = await import('./progress-bar.ts');
  const says = `preparing ${id}`;
  const bar = startBar(screen, options.verbose === true, says);
  const stopped = new Promise<never>((_, stop) => {
    signal.addEventListener('abort', () => stop(signal.reason), { once: true });
  });
  try {
    const folder = await Promise.race([prepare(id, { onProgress: (done) => bar.show(says, done) }), stopped]);
    bar.stop();
    screen.print(`ready: ${id}, in ${folder}`);
  } finally {
    bar.stop();
  }
}
