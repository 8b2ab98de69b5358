import { readFile } from 'node:fs/promises';
import type { Browser, Page } from 'playwright-core';
import { serveCheck } from '../../src/page/server/serve.ts';
import { openSession } from '../../src/page/session.ts';
import { findRecording } from '../../src/page/sound/find-recording.ts';
import { readSheet } from '../../src/sheet/read-sheet.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { inFolder } from '../commands/run-command.ts';
import { putSheet, watch } from './pages.ts';

/** A page for checking that is open, and what a test does with it. */
export interface Checking {
  readonly page: Page;
  readonly another: () => Promise<Page>;
  readonly path: string;
  readonly faults: string[];
  readonly ended: Promise<void>;
  readonly sheetNow: () => Promise<Sheet>;
}

/** Serves a sheet from a folder and opens its page for checking; both are closed after the work. */
export async function openChecking(
  browser: Browser,
  sheet: Sheet,
  work: (opened: Checking) => Promise<void>,
  sound = false,
): Promise<void> {
  await inFolder(async (folder) => {
    const path = await putSheet(folder, sheet, sound);
    const stop = new AbortController();
    const session = await openSession(path);
    const { address, ended } = await serveCheck(
      session,
      findRecording(session.now().sheet, { folder }),
      stop.signal,
    );
    const context = await browser.newContext({ viewport: { width: 1200, height: 900 } });
    context.setDefaultTimeout(20_000);
    const page = await context.newPage();
    const faults = watch(page);
    await page.goto(address);
    await page.locator('.card').waitFor();
    const another = async () => {
      const other = await context.newPage();
      await other.goto(new URL('/', address).href);
      await other.locator('.card').waitFor();
      return other;
    };
    try {
      await work({
        page,
        another,
        path,
        faults,
        ended,
        sheetNow: async () => readSheet(await readFile(path, 'utf8'), path),
      });
    } finally {
      await context.close();
      stop.abort();
      await ended;
    }
  });
}
