import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setImmediate } from 'node:timers/promises';
import { type Command, InvalidArgumentError } from 'commander';
import { PersonError } from '../basics/problem.ts';
import { writingFault } from '../basics/system-message.ts';
import type { Critique } from '../measure/critique.ts';
import type { Surroundings } from './screen.ts';

interface MeasureArguments {
  readonly corrections?: string;
  readonly out?: string;
  readonly json?: true;
  readonly worst: number;
}

const WORST = 10;

/** `critsheet measure`: how well the language stages read labelled critiques. */
export function addMeasure(program: Command, surroundings: Surroundings): void {
  program
    .command('measure')
    .summary('score the reading of labelled critiques')
    .description(
      'Reads the words of labelled critiques as if they had been transcribed, and scores statements and notes against the labels: figures for each critique and in all, confusion tables, how far confidences can be relied on, and the worst misses.',
    )
    .argument('[folder]', 'a folder of labelled critiques, .json files')
    .option('--corrections <folder>', 'take the labels from the corrected sheets of a folder')
    .option('--out <folder>', 'with --corrections: write the labelled critiques there too')
    .option('--worst <number>', 'how many misses of each kind to show', wholeNumber, WORST)
    .option('--json', 'print everything as JSON on standard output')
    .option('--verbose', 'show the stack of an error')
    .action((folder: string | undefined, options: MeasureArguments) =>
      measure(folder, options, surroundings),
    );
}

async function measure(
  folder: string | undefined,
  options: MeasureArguments,
  { screen, signal }: Surroundings,
): Promise<void> {
  const { loadLanguage } = await import('../language/language.ts');
  const { answerOf, measureAnswer, measurementOf } = await import('../measure/measure.ts');
  const critiques = await critiquesOf(folder, options, screen);
  const language = loadLanguage();
  const measured = [];
  for (const critique of critiques) {
    measured.push(measureAnswer(answerOf(critique, language)));
    // The work holds the thread: between critiques Ctrl-C is heard.
    await setImmediate();
    signal.throwIfAborted();
  }
  const measurement = measurementOf(measured, options.worst);
  if (options.json) {
    screen.print(JSON.stringify(measurement, null, 2));
    return;
  }
  const { reportOf } = await import('../measure/report.ts');
  screen.print(reportOf(measurement));
}

/** The critiques of a folder, of corrected sheets, or of both. */
async function critiquesOf(
  folder: string | undefined,
  { corrections, out }: MeasureArguments,
  screen: Surroundings['screen'],
): Promise<Critique[]> {
  const { readCritiques } = await import('../measure/critique.ts');
  if (folder === undefined && corrections === undefined) {
    throw new PersonError(
      'Give a folder of labelled critiques, or one of corrected sheets with --corrections.',
    );
  }
  if (out !== undefined && corrections === undefined) throw new PersonError('--out goes with --corrections.');
  const labelled = folder === undefined ? [] : readCritiques(folder);
  if (corrections === undefined) return labelled;
  const { counted } = await import('../sheet/counted.ts');
  const { readCorrectedSheets } = await import('../measure/corrected-sheets.ts');
  const sheets = readCorrectedSheets(corrections);
  for (const { file, byHand, untouched, unlabelled } of sheets) {
    const hand = counted(byHand, 'note');
    const left = unlabelled > 0 ? `, ${unlabelled} without a known kind left out` : '';
    screen.tell(
      `critsheet: ${file}: ${hand} labelled by hand, ${untouched} as the machine read them${left}.`,
    );
  }
  if (sheets.some(({ untouched }) => untouched > 0)) {
    screen.tell(
      'critsheet: where nobody looked, the machine is held against itself: the figures flatter it there.',
    );
  }
  if (out !== undefined) await writeCritiques(out, sheets);
  return [...labelled, ...sheets.map(({ critique }) => critique)];
}

async function writeCritiques(
  out: string,
  sheets: readonly { readonly critique: Critique }[],
): Promise<void> {
  const { checkOutputFolder, makeOutputFolder } = await import('../files/output-folder.ts');
  const { writeWhole } = await import('../files/write-whole.ts');
  const { writeJson } = await import('../sheet/writers/json.ts');
  await checkOutputFolder(out);
  await makeOutputFolder(out);
  for (const { critique } of sheets) {
    const path = join(out, `${critique.name}.json`);
    const text = writeJson(critique, ['segments']);
    const there = await readFile(path, 'utf8').catch(() => text);
    if (there !== text)
      throw new PersonError(`${path} is there already: move it away, or give another folder.`);
    await writeWhole(path, text).catch((error: unknown) => {
      throw writingFault(error, path);
    });
  }
}

function wholeNumber(text: string): number {
  if (!/^[1-9]\d{0,5}$/.test(text))
    throw new InvalidArgumentError('Give a whole number from 1 on, as in --worst 20.');
  return Number(text);
}
