import type { Command } from 'commander';
import { recordingName } from '../sheet/file-names.ts';
import { TRANSCRIPT_WRITERS } from '../sheet/writers/writers.ts';
import type { ReadingArguments } from './before-reading.ts';
import { GLOSSARY_OPTION, readGlossaryFile } from './glossary-file.ts';
import { formatHelp, formatList } from './options.ts';
import type { Surroundings } from './screen.ts';

const FORMATS_BY_DEFAULT = ['vtt', 'json'];

/** `critsheet transcribe`: the words alone. */
export function addTranscribe(program: Command, surroundings: Surroundings): void {
  program
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
    .option('--out <folder>', 'where the files go (default: beside the recording)')
    .option('--json', 'print the transcript on standard output; files are written only with --out or --as')
    .option('--verbose', 'say more, and show the stack of an error')
    .action((recording: string, options: ReadingArguments) => transcribe(recording, options, surroundings));
}

async function transcribe(
  recording: string,
  options: ReadingArguments,
  { screen, signal }: Surroundings,
): Promise<void> {
  const { showProgress } = await import('./show-progress.ts');
  const progress = showProgress(screen, options.verbose === true);
  const work = async () => {
    const { beforeReading } = await import('./before-reading.ts');
    const folder = await beforeReading(recording, options);
    const { hearWords } = await import('../pipeline.ts');
    const { model } = options;
    const glossary = options.glossary ? await readGlossaryFile(options.glossary) : undefined;
    const { onProgress } = progress;
    return { ...(await hearWords(recording, { model, glossary, signal, onProgress })), folder };
  };
  const { transcript, problems, folder } = await work().finally(progress.stop);
  for (const { message } of problems) screen.tell(`critsheet: ${message}`);
  if (folder !== null) {
    const { placeFiles } = await import('./output/place-files.ts');
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
