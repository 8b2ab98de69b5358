import type { Command } from 'commander';

/** The option by which a person names writers from outside. */
export interface WriterArguments {
  readonly writer?: readonly string[];
}

/** Adds it to a command; it may be given more than once. */
export function addWriterOption(command: Command): Command {
  return command.option(
    '--writer <module>',
    'write a format of your own too: a module (./writer.mjs) or an installed package, whose code is run',
    (module: string, others: string[] = []) => [...others, module],
  );
}
