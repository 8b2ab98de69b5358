import type { Command } from 'commander';
import { addCache } from './cache.ts';
import { addCheck } from './check.ts';
import { addCompare } from './compare.ts';
import { addExplain } from './explain.ts';
import { addMeasure } from './measure.ts';
import { addModels } from './models.ts';
import { addRead } from './read.ts';
import type { Surroundings } from './screen.ts';
import { addSubmit } from './submit.ts';
import { addTranscribe } from './transcribe.ts';
import { addWatch } from './watch.ts';
import { addWords } from './words.ts';
import { addWork } from './work.ts';
import { addWrite } from './write.ts';

/** Every command, in the order of the help text. To add one: a file beside this one, and a line here. */
export const COMMANDS: readonly ((program: Command, surroundings: Surroundings) => void)[] = [
  addRead,
  addWatch,
  addTranscribe,
  addWrite,
  addCheck,
  addExplain,
  addCompare,
  addSubmit,
  addWork,
  addModels,
  addCache,
  addMeasure,
  addWords,
];
