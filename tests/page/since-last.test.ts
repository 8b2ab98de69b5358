import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { inFolder } from '../commands/run-command.ts';
import { laterSheet } from '../sheet/later-sheet.ts';
import { openBrowser } from './browser.ts';
import { openChecking } from './checking.ts';
import { openSheetPage, violations } from './pages.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(() => browser.close());

describe('the animator’s page of a later version', () => {
  it('shows what became of the notes before, on paper too, whatever the list is narrowed to', () =>
    inFolder(async (folder) => {
      const { page, faults } = await openSheetPage(browser, folder, laterSheet());
      const since = page.locator('.since');
      expect(await since.locator('h3').allTextContents()).toEqual([
        'Done',
        'Still there',
        'Taken back',
        'Not mentioned',
      ]);
      expect(await since.locator('.still-there .strokes i').count()).toBe(3);
      await since.getByText('note 1').click();
      expect(new URL(page.url()).hash).toBe('#n1');
      expect(await page.locator('.note .again').allTextContents()).toEqual(['asked for the third time']);
      await page.getByLabel('Kind').selectOption('timing');
      expect(await page.locator('#n1').isVisible()).toBe(false);
      expect(await since.isVisible()).toBe(true);
      await page.emulateMedia({ media: 'print' });
      expect(await since.isVisible()).toBe(true);
      expect(faults).toEqual([]);
    }));

  it('stands there without a script', () =>
    inFolder(async (folder) => {
      const { page } = await openSheetPage(browser, folder, laterSheet(), {
        context: { javaScriptEnabled: false },
      });
      expect(await page.locator('.since .old').count()).toBe(5);
      expect(await page.locator('.since').isVisible()).toBe(true);
    }));

  it('plays the words that say that a note is done, though they are in no note', () =>
    inFolder(async (folder) => {
      const { page, faults } = await openSheetPage(browser, folder, laterSheet(), { sound: true });
      await page.locator('.since .done .play').first().click();
      await expect.poll(() => page.locator('.since .saying').textContent(), { timeout: 5000 }).toBe('hat');
      expect(faults).toEqual([]);
    }));

  it.each(['light', 'dark'] as const)('has nothing that axe-core finds wrong, in %s', (colorScheme) =>
    inFolder(async (folder) => {
      const { page } = await openSheetPage(browser, folder, laterSheet(), {
        sound: true,
        context: { colorScheme },
      });
      expect(await violations(page)).toEqual([]);
      await page.setViewportSize({ width: 320, height: 640 });
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(320);
    }),
  );
});

describe('the page for checking a later version', () => {
  it('says beside a note that it was asked for before', () => {
    const sheet = laterSheet();
    for (const note of sheet.notes) note.check = ['issue: pop or spacing'];
    return openChecking(browser, sheet, async ({ page, faults }) => {
      const shown = () => page.locator('.card').textContent();
      await page.locator('nav li button', { hasText: 'Note 1' }).click();
      await expect.poll(() => page.locator('.card h2').textContent()).toContain('Note 1');
      expect(await page.locator('.card .again').textContent()).toBe(
        'Asked for the third time (last time: Plant the left heel, 1040 to 1052; it was ticked off)',
      );
      expect(await violations(page)).toEqual([]);
      await page.locator('nav li button', { hasText: 'Note 2' }).click();
      await expect.poll(shown).toContain('Note 2');
      expect(await page.locator('.card .again').count()).toBe(0);
      expect(faults).toEqual([]);
    });
  });
});
