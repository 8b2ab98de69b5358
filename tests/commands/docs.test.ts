import { readFileSync } from 'node:fs';
import { Command } from 'commander';
import { describe, expect, it } from 'vitest';
import { processScreen } from '../../src/commands/screen.ts';
import { COMMANDS } from '../../src/commands/table.ts';
import { SHEET_WRITERS, TRANSCRIPT_WRITERS } from '../../src/sheet/writers/writers.ts';

const readme = readFileSync(new URL('../../README.md', import.meta.url), 'utf8');

describe('README.md', () => {
  const program = new Command();
  for (const add of COMMANDS) add(program, { screen: processScreen(), signal: new AbortController().signal });

  it.each(program.commands.map((command) => command.name()))('has an example of the command %s', (name) => {
    expect(readme).toContain(`\`critsheet ${name}`);
  });

  it.each([...Object.keys(SHEET_WRITERS), ...Object.keys(TRANSCRIPT_WRITERS)])(
    'describes the format %s',
    (format) => {
      expect(readme).toContain(`\`${format}\``);
    },
  );

  it.each(
    [...Object.values(SHEET_WRITERS), ...Object.values(TRANSCRIPT_WRITERS)].map((writer) => writer.ending),
  )('names the file NAME%s', (ending) => {
    expect(readme).toContain(`NAME${ending}\``);
  });
});
