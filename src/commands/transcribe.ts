import type { Command } from 'commander';
import { readGlossaryFile } from '../files/glossary-file.ts';
import { recordingName } from '../sheet/file-names.ts';
import { TRANSCRIPT_WRITERS } from '../sheet/writers/writers.ts';
import { addCacheOption, type CacheArguments } from './cache-option.ts';
import { GLOSSARY_OPTION } from './glossary-option.ts';
import { formatHelp, formatList } from './options.ts';
import { folderFor, type ReadingArguments } from './reading-arguments.ts';
import type { Surroundings } from './screen.ts';

const FORMATS_BY_DEFAULT = ['vtt', 'json'];

interface TranscribeArguments extends ReadingArguments, CacheArguments {}

/** `critsheet transcribe`: the words alone. */
export function addTranscribe(program: Command, surroundings: Surroundings): void {
  const command = program
    .command('transcribe')
    .summary('write down what was said, and no more')
    .description(
      'Writes the transcript of a recording as captions, text, or JSON with the time of every word.',
    )
    .argument('<recording>', 'the file to read')
    .option(
      '--as <formats>',
      `with commas between: ${formatHelp(TRANSCRIPT_WRITERS)} (default: ${FORMATS_BY_DEFAULT})`,
      formatList(Object.keys(TRANSCRIPT_WRITERS)),
    )
    .option('--model <id>', 'the speech model, as "critsheet models" lists them')
    .option(...GLOSSARY_OPTION)
    .option('--out <folder>', 'where the files go (default: beside the recording)');
  addCacheOption(command)
    .option('--json', 'print the transcript on standard output; files are written only with --out or --as')
    .option('--verbose', 'say more, and show the stack of an error')
    .action((recording: string, options: TranscribeArguments) =>
      transcribe(recording, options, surroundings),
    );
}

async function transcribe(
  recording: string,
  options: TranscribeArguments,
  { screen, signal }: Surroundings,
): Promise<void> {
  const { showProgress } = await import('./show-progress.ts');
  const progress = showProgress(screen, options.verbose === true);
  const work = async () => {
    const { beforeReading } = await import('../batch/before-reading.ts');
    const { model } = options;
    const folder = folderFor(recording, options);
    await beforeReading({ inputs: [recording], model, folder });
    const glossary = options.glossary ? await readGlossaryFile(options.glossary) : undefined;
    const { hearWords } = await import('../pipeline.ts');
    const { cacheOf } = await import('../cache/run-cache.ts');
    const { kept, troubles } = cacheOf(options);
    const { onProgress } = progress;
    return {
      ...(await hearWords(recording, { model, glossary, kept, signal, onProgress })),
      folder,
      troubles,
    };
  };
  const { transcript, problems, folder, troubles } = await work().finally(progress.stop);
  progress.tellTimes();
  for (const message of [...problems.map((problem) => problem.message), ...troubles])
    screen.tell(`critsheet: ${message}`);
  if (folder !== null) {
    const { placeFiles } = await import('../files/place-files.ts');
    const { parseTranscript } = await import('../transcript/saved-transcript.ts');
    const { paths, notices } = await placeFiles({
      record: transcript,
      formats: options.as ?? FORMATS_BY_DEFAULT,
      writers: TRANSCRIPT_WRITERS,
      folder,
      name: recordingName(recording),
      reread: parseTranscript,
    });
    for (const notice of notices) screen.tell(`critsheet: ${notice}`);
    if (!options.json) screen.print(paths.map((path) => `written: ${path}`).join('\n'));
  }
  if (options.json) screen.print(TRANSCRIPT_WRITERS.json?.write(transcript).trimEnd() ?? '');
}
