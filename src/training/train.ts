import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { writeWhole } from '../files/write-whole.ts';
import { ENGLISH, loadLanguage } from '../language/language.ts';
import { readCritiques } from '../measure/critique.ts';
import { measureAnswer, measurementOf } from '../measure/measure.ts';
import { reportOf } from '../measure/report.ts';
import { fitCalibration, readUnseen } from './fit-calibration.ts';
import { fitLanguage } from './fit-language.ts';
import { prepare } from './prepare.ts';

/**
 * Fits every model on the critiques for development and for fitting and writes them beside the lexicons: `npm run train`.
 * Prints the figures of the critiques for fitting, read by models that had not seen them and with lexicons that were not
 * written for them; how sure a reading may say it is comes from these alone. The held-out critiques are never opened here.
 */
const critiques = fileURLToPath(new URL('../../tests/critiques', import.meta.url));
const models = join(ENGLISH, 'models');
const lexicons = { ...loadLanguage(), models: new Map() };
lexicons.tables = new Map(
  [...lexicons.tables].filter(([name]) => name !== 'calibration' && name !== 'common-words'),
);

const prepared = ['dev', 'practice', 'fit'].flatMap((folder) =>
  readCritiques(join(critiques, folder)).map((one) => ({
    ...prepare(one, lexicons),
    fresh: folder === 'fit',
  })),
);
const fresh = new Set(prepared.filter((one) => one.fresh).map(({ critique }) => critique.name));
const answers = readUnseen(prepared, fresh, lexicons);
console.log(reportOf(measurementOf(answers.map(measureAnswer), 10)));

const { models: fitted, tables } = fitLanguage(prepared, lexicons);
mkdirSync(models, { recursive: true });
for (const [name, model] of fitted) await writeWhole(join(models, `${name}.chain.json`), linesOf(model));
for (const [name, table] of [...tables, ['calibration', fitCalibration(answers)] as const]) {
  await writeWhole(join(models, `${name}.json`), linesOf(table));
}

/** JSON with one line for each weight, so that a new fit shows in a difference as what it changed. */
function linesOf(value: unknown): string {
  return `${JSON.stringify(value, null, 1).replace(/\[\s+([^[\]{}]*?)\s+\]/g, (_, inner: string) => `[${inner.replace(/\s+/g, ' ')}]`)}\n`;
}
