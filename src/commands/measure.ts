import { setImmediate } from 'node:timers/promises';
import { type Command, InvalidArgumentError } from 'commander';
import type { Surroundings } from './screen.ts';

interface MeasureArguments {
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
    .argument('<folder>', 'a folder of labelled critiques, .json files')
    .option('--worst <number>', 'how many misses of each kind to show', wholeNumber, WORST)
    .option('--json', 'print everything as JSON on standard output')
    .option('--verbose', 'show the stack of an error')
    .action((folder: string, options: MeasureArguments) => measure(folder, options, surroundings));
}

async function measure(
  folder: string,
  options: MeasureArguments,
  { screen, signal }: Surroundings,
): Promise<void> {
  const { loadLanguage } = await import('../language/language.ts');
  const { readCritiques } = await import('../measure/critique.ts');
  const { answerOf, measureAnswer, measurementOf } = await import('../measure/measure.ts');
  const critiques = readCritiques(folder);
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

function wholeNumber(text: string): number {
  if (!/^[1-9]\d{0,5}$/.test(text))
    throw new InvalidArgumentError('Give a whole number from 1 on, as in --worst 20.');
  return Number(text);
}
