import { readFileSync } from 'node:fs';
import { Command, CommanderError } from 'commander';
import { failureOf, failureSentence } from '../batch/outcome.ts';
import { DONE, FAILED, STOPPED, WRONG_COMMAND_LINE } from './exit-codes.ts';
import { Ended, type Surroundings } from './screen.ts';
import { COMMANDS } from './table.ts';

/**
 * Finds the command and runs it.
 *
 * @param args What stands after the program's name.
 * @returns The exit code. A person's mistake, a wrong command line and a bug have been told of by then.
 */
export async function run(args: readonly string[], surroundings: Surroundings): Promise<number> {
  const { screen, signal } = surroundings;
  try {
    await makeProgram(surroundings).parseAsync(args, { from: 'user' });
    return DONE;
  } catch (error) {
    if (error instanceof Ended) {
      screen.tell(`critsheet: ${error.message}`);
      return error.exitCode;
    }
    if (signal.aborted) {
      screen.tell('critsheet: stopped; no file was changed.');
      return STOPPED;
    }
    if (error instanceof CommanderError) return error.exitCode === 0 ? DONE : WRONG_COMMAND_LINE;
    tellError(error, args.includes('--verbose'), surroundings);
    return FAILED;
  }
}

function makeProgram(surroundings: Surroundings): Command {
  const { screen } = surroundings;
  const program = new Command('critsheet')
    .description('Turns a recorded animation critique into a ranked list of tasks, on this machine alone.')
    .version(version())
    .exitOverride()
    .configureOutput({
      writeOut: (text) => screen.print(text.trimEnd()),
      writeErr: (text) => screen.tell(text.trimEnd()),
    })
    .showHelpAfterError('(critsheet --help lists the commands, critsheet COMMAND --help its options)');
  for (const add of COMMANDS) add(program, surroundings);
  return program;
}

function tellError(error: unknown, verbose: boolean, { screen }: Surroundings): void {
  if (verbose && error instanceof Error) screen.tell(`${error.stack ?? error.message}`);
  screen.tell(`critsheet: ${failureSentence(failureOf('', error), verbose)}`);
}

function version(): string {
  const text = readFileSync(new URL('../../package.json', import.meta.url), 'utf8');
  return (JSON.parse(text) as { version: string }).version;
}
