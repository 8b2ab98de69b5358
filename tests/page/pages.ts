import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { wavOf } from '../../src/page/sound/wav-slice.ts';
import { SAMPLE_RATE } from '../../src/recording/recording.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { critsheet } from '../commands/run-command.ts';

const axeScript = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** A recording whose every second is silent but for a hundredth of 1 kHz at its begin, so that times can be told from its sound. */
export function clicks(seconds: number): Uint8Array {
  const samples = new Float32Array(seconds * SAMPLE_RATE);
  for (let second = 0; second < seconds; second++) {
    for (let i = 0; i < 160; i++)
      samples[second * SAMPLE_RATE + i] = 0.8 * Math.sin((2 * Math.PI * 1000 * i) / SAMPLE_RATE);
  }
  return wavOf(samples);
}

/** Puts a sheet and, if wanted, its recording into a folder; gives the sheet's path. */
export async function putSheet(folder: string, sheet: Sheet, sound: boolean): Promise<string> {
  let { recording } = sheet;
  if (sound) {
    const bytes = clicks(Math.ceil(recording.duration));
    await writeFile(join(folder, recording.file), bytes);
    recording = { ...recording, sha256: createHash('sha256').update(bytes).digest('hex') };
  }
  const path = join(folder, 'talk.sheet.json');
  await writeFile(path, JSON.stringify({ ...sheet, recording }));
  return path;
}

/** Writes a sheet's page by the command line and opens it from disk. Anything that goes wrong in it is kept in `faults`. */
export async function openSheetPage(
  browser: Browser,
  folder: string,
  sheet: Sheet,
  {
    sound = false,
    options = [],
    context = {},
  }: { sound?: boolean; options?: string[]; context?: BrowserContextOptions } = {},
): Promise<{ page: Page; faults: string[]; file: string; said: string }> {
  const path = await putSheet(folder, sheet, sound);
  const ran = await critsheet(['write', path, '--as', 'html', ...options]);
  if (ran.code !== 0) throw new Error(ran.err);
  const file = join(folder, 'talk.sheet.html');
  const page = await (await browser.newContext(context)).newPage();
  const faults = watch(page);
  await page.goto(pathToFileURL(file).href);
  return { page, faults, file, said: ran.err };
}

/** Every error and every request that leaves the machine. */
export function watch(page: Page): string[] {
  const faults: string[] = [];
  page.on('pageerror', (error) => faults.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') faults.push(message.text());
  });
  page.on('dialog', (dialog) => {
    faults.push(`dialog: ${dialog.message()}`);
    void dialog.dismiss();
  });
  page.on('request', (request) => {
    if (!/^(file:|blob:|data:|http:\/\/127\.0\.0\.1)/.test(request.url()))
      faults.push(`asked for ${request.url()}`);
  });
  return faults;
}

/** What axe-core (WCAG 2.0 to 2.2, A and AA) finds wrong with a page. */
export async function violations(page: Page): Promise<string[]> {
  // Policies forbid scripts from elsewhere; the debugger's own way is not bound by them.
  await page.evaluate(axeScript);
  return page.evaluate(async () => {
    const axe = (
      globalThis as unknown as {
        axe: {
          run(
            where: Document,
            options: object,
          ): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }>;
        };
      }
    ).axe;
    const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
    const { violations } = await axe.run(document, { runOnly: tags });
    return violations.map(
      ({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 120)).join(' | ')}`,
    );
  });
}
