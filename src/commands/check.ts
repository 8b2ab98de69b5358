import { readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { Command } from 'commander';
import { writingFault } from '../basics/system-message.ts';
import type { Session } from '../page/session.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { Surroundings } from './screen.ts';

interface CheckArguments {
  readonly recording?: string;
  readonly terminal?: true;
  readonly open: boolean;
}

/** `critsheet check`: a person settles what is uncertain. */
export function addCheck(program: Command, surroundings: Surroundings): void {
  program
    .command('check')
    .summary('go through what is uncertain, by hand')
    .description(
      'Opens a page on this machine that walks through the uncertain notes, least sure first. What you decide is saved at once, beside the sheet, and outlives a new reading. Ends with Ctrl-C or when the page is closed.',
    )
    .argument('<sheet>', 'a .sheet.json file')
    .option('--terminal', 'ask here, in the terminal, instead of in a page')
    .option('--no-open', 'print the address of the page, and do not open it')
    .option(
      '--recording <file>',
      'the recording, where it is neither beside the sheet nor in the folder above',
    )
    .option('--verbose', 'show the stack of an error')
    .action((path: string, options: CheckArguments) => check(path, options, surroundings));
}

async function check(path: string, options: CheckArguments, surroundings: Surroundings): Promise<void> {
  const { screen } = surroundings;
  const { checkOutputFolder } = await import('../files/output-folder.ts');
  const { openSession } = await import('../page/session.ts');
  const session = await openSession(path);
  await checkOutputFolder(dirname(path));
  const before = session.now();
  if (options.terminal) {
    const { checkInTerminal } = await import('./check-terminal.ts');
    await checkInTerminal(session, surroundings);
  } else {
    await checkInPage(session, options, surroundings);
  }
  const pages = await rewriteMarkdown(session, before.sheet);
  await tellEnd(session, before.revision, pages, screen);
}

async function checkInPage(
  session: Session,
  options: CheckArguments,
  { screen, signal }: Surroundings,
): Promise<void> {
  const { findRecording } = await import('../page/sound/find-recording.ts');
  const { serveCheck } = await import('../page/server/serve.ts');
  const place = { folder: dirname(session.sheetPath), given: options.recording, signal };
  const reading = findRecording(session.now().sheet, place);
  // A recording that was given and is not right is a mistake to tell of before the page opens; one that is long is not waited for.
  if (options.recording !== undefined) await reading;
  const sound = reading.catch((error: unknown) => ({
    why: error instanceof Error ? error.message : String(error),
  }));
  const { address, ended } = await serveCheck(session, sound, signal);
  screen.print(`the page is at ${address}\n(the address opens it once; Ctrl-C ends)`);
  if (options.open) {
    const { default: open } = await import('open');
    await open(address).catch(() =>
      screen.tell('critsheet: no browser could be opened: open the address above.'),
    );
  }
  await ended;
}

/** Writes the Markdown beside the sheet again, where it is still what was written from the sheet: one that a person edited stays. */
async function rewriteMarkdown(session: Session, before: Sheet): Promise<string[]> {
  const { uncorrect } = await import('../corrections/correctable.ts');
  const { sheetName, writtenName } = await import('../sheet/file-names.ts');
  const { SHEET_WRITERS } = await import('../sheet/writers/writers.ts');
  const { writeWhole } = await import('../files/write-whole.ts');
  const { sheet } = session.now();
  const writer = SHEET_WRITERS.md;
  if (!writer || sheet === before) return [];
  const { name, number } = sheetName(session.sheetPath);
  const path = join(dirname(session.sheetPath), writtenName(name, writer.ending, number));
  const there = await readFile(path, 'utf8').catch(() => null);
  const own = [before, uncorrect(before)].map((record) => writer.write(record));
  if (there === null || !own.includes(there)) return [];
  await writeWhole(path, writer.write(sheet)).catch((error: unknown) => {
    throw writingFault(error, path);
  });
  return [path];
}

async function tellEnd(
  session: Session,
  before: number,
  pages: readonly string[],
  screen: Surroundings['screen'],
): Promise<void> {
  const { counted } = await import('../sheet/counted.ts');
  const { queueOf } = await import('../page/session.ts');
  const { standing } = await import('../corrections/decisions.ts');
  const { sheet, decisions, revision } = await session.refresh();
  const left = counted(queueOf(sheet.notes).length, 'note');
  if (revision === before) {
    screen.print(`nothing was changed; ${left} to look at.`);
    return;
  }
  screen.print(
    [
      `${counted(standing(decisions).length, 'decision')} kept in ${session.correctionsPath}; ${left} to look at.`,
      ...[session.sheetPath, ...pages].map((path) => `written: ${path}`),
      `Write its page again with: critsheet write ${session.sheetPath} --as html`,
    ].join('\n'),
  );
}
