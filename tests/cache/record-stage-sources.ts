import { current, record, recorded, STAGES } from './stage-sources.ts';

/**
 * Writes down how the stages are now, so that their test passes again. A stage whose code changed needs a higher version,
 * unless its results stay what they were, to the last digit: then `--same-results` says so.
 */
const [before, now] = [recorded(), current()];
const forgotten = Object.keys(now).filter(
  (name) =>
    before[name] && before[name].digest !== now[name]?.digest && before[name].version === now[name]?.version,
);
if (forgotten.length > 0 && !process.argv.includes('--same-results')) {
  for (const name of forgotten)
    console.error(`${name}: raise ${STAGES[name]?.constant}, or give --same-results.`);
  process.exit(1);
}
record();
