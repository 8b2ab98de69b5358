import { copyFile, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { Browser } from 'playwright-core';
import { withPrevious } from '../src/comparison/with-previous.ts';
import { retitleWith } from '../src/corrections/retitle.ts';
import { readShotFile } from '../src/files/shot-file.ts';
import { loadLanguage } from '../src/language/language.ts';
import { serveCheck } from '../src/page/server/serve.ts';
import { openSession } from '../src/page/session.ts';
import { makeSheetPage } from '../src/page/sheet-page.ts';
import { findRecording } from '../src/page/sound/find-recording.ts';
import { readCritique } from '../src/pipeline.ts';
import type { Sheet } from '../src/sheet/sheet.ts';
import { sheetJson } from '../src/sheet/writers/json.ts';
import { PAIRS } from '../tests/comparison/pairs.ts';
import { truthSheet } from '../tests/comparison/versions.ts';
import { openBrowser } from '../tests/page/browser.ts';

/** Makes the pictures of the pages for README.md anew: `npx tsx samples/make-pages.ts`. */
const here = fileURLToPath(new URL('.', import.meta.url));
const sample = join(here, 'ferry-rope');
const VIEW = { width: 1180, height: 720 };

const folder = await mkdtemp(join(tmpdir(), 'critsheet-pages-'));
const browser = await openBrowser();
try {
  const recording = join(folder, 'recording.wav');
  await copyFile(join(sample, 'recording.wav'), recording);
  const shot = await readShotFile(join(sample, 'shot.json'));
  const { sheet } = await readCritique(recording, { shot });
  await sheetPicture(browser, sheet);
  await checkPicture(browser, sheet);
  await sincePicture(browser, laterSheet());
} finally {
  await browser.close();
  await rm(folder, { recursive: true, force: true });
}

function pictureOf(name: string): string {
  return join(here, 'pages', `${name}.png`);
}

async function openPage(browser: Browser, sheet: Sheet, viewport = VIEW) {
  const { html } = await makeSheetPage(sheet, { folder });
  const path = join(folder, `${sheet.shot.name}.html`);
  await writeFile(path, html);
  const page = await browser.newPage({ viewport });
  await page.goto(pathToFileURL(path).href);
  return page;
}

/** The animator's page while the first note's words are played. */
async function sheetPicture(browser: Browser, sheet: Sheet): Promise<void> {
  const page = await openPage(browser, sheet);
  await page.locator('.note .play').first().click();
  await page.locator('.saying').filter({ hasText: 'left' }).waitFor();
  await page.screenshot({ path: pictureOf('sheet') });
}

async function checkPicture(browser: Browser, sheet: Sheet): Promise<void> {
  const path = join(folder, 'recording.sheet.json');
  await writeFile(path, sheetJson.write(sheet));
  const stop = new AbortController();
  const session = await openSession(path);
  const { address, ended } = await serveCheck(session, findRecording(sheet, { folder }), stop.signal);
  const page = await browser.newPage({ viewport: VIEW });
  await page.goto(address);
  await page.locator('.card').waitFor();
  await page.screenshot({ path: pictureOf('check') });
  stop.abort();
  await ended;
}

/** What an animator's page says of the version before, of the first invented pair of critiques. */
async function sincePicture(browser: Browser, sheet: Sheet): Promise<void> {
  // Below this width the section has the page to itself; all of it fits into the height.
  const page = await openPage(browser, sheet, { width: 900, height: 3000 });
  await page.locator('.since').screenshot({ path: pictureOf('since') });
}

/** A sheet of the pair's second version with what became of the first, both as a faultless reading gives them. */
function laterSheet(): Sheet {
  const [pair] = PAIRS;
  if (!pair) throw new Error('there is no pair of critiques');
  const language = loadLanguage();
  const retitle = retitleWith(language, pair.characters.length);
  const [older, newer] = (['old', 'fresh'] as const).map((version) => {
    const sheet = truthSheet(pair, version);
    return { ...sheet, notes: sheet.notes.map((note) => ({ ...note, title: retitle(note) })) };
  });
  if (!older || !newer) throw new Error('a version is missing');
  return withPrevious(newer, { sheet: older }, language).sheet;
}
