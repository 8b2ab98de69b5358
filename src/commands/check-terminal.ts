import { randomUUID } from 'node:crypto';
import { PersonError } from '../basics/problem.ts';
import type { Step } from '../corrections/corrections.ts';
import { standing } from '../corrections/decisions.ts';
import { describeDecision } from '../corrections/describe.ts';
import type { Note } from '../notes/note.ts';
import { queueOf, type Session } from '../page/session.ts';
import type { Surroundings } from './screen.ts';
import { askAbout } from './terminal/ask.ts';
import { describeNote } from './terminal/describe-note.ts';

/**
 * The queue of uncertain notes with prompts, for a machine without a browser.
 *
 * @throws PersonError where there is no terminal to ask in: a prompt without one would neither answer nor end.
 */
export async function checkInTerminal(session: Session, { screen, signal }: Surroundings): Promise<void> {
  if (!process.stdin.isTTY || !process.stdout.isTTY) {
    throw new PersonError(
      '--terminal asks questions, and this is no terminal: run it in one, or leave --terminal out.',
    );
  }
  const prompts = await import('@clack/prompts');
  const skipped = new Set<string>();
  const decide = async (...steps: Step[]): Promise<void> => {
    const made = steps.map((step) => ({ id: randomUUID(), at: new Date().toISOString(), ...step }));
    await session.decide(made);
    for (const decision of made) screen.print(`  saved: ${describeDecision(decision)}`);
  };
  const next = (): Note | undefined => queueOf(session.now().sheet.notes).find(({ id }) => !skipped.has(id));
  prompts.intro(`${session.now().sheet.shot.name}: what is uncertain, the least sure first`);
  for (let note = next(); note && !signal.aborted; note = next()) {
    const { sheet } = session.now();
    prompts.note(describeNote(note, sheet), `${note.rank}. ${note.title}`);
    const answer = await askAbout(note, sheet, signal);
    if (answer === 'stop') break;
    if (answer === 'skip') skipped.add(note.id);
    else if (answer === 'undo') {
      const last = standing(session.now().decisions).at(-1);
      if (last) await decide({ do: 'undo', decision: last.id });
      else screen.print('  there is nothing to undo');
    } else await decide(...answer);
  }
  prompts.outro(next() ? 'Stopped. What was decided is saved.' : 'Nothing more to look at.');
}
