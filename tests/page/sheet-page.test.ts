import { mkdir, readFile, rename, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isSealed } from '../../src/page/seal.ts';
import { readTicks } from '../../src/sheet/ticks.ts';
import { critsheet, inFolder } from '../commands/run-command.ts';
import { sheetOf, talk } from '../corrections/sheet-of.ts';
import { openBrowser } from './browser.ts';
import { openSheetPage, putSheet, violations } from './pages.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(() => browser.close());

/** The notes shown, in their order on the page. */
const TITLES = '.note:not([hidden]) h3';

describe('the animator’s page', () => {
  it('shows frames down the page with a heavy line every eight, folded where nothing happens', () =>
    inFolder(async (folder) => {
      const { page, faults } = await openSheetPage(browser, folder, talk());
      const frames = await page.locator('.exposure tbody th.frame').allTextContents();
      expect(frames).toEqual(['1001', ...['1040', '1041', '1042', '1043', '1044', '1045', '1046'], '1100']);
      // Half a foot of film is eight frames, a foot sixteen: the exposure sheet's heavier line (brief of the trade).
      expect(await page.locator('tr.heavy th.frame').allTextContents()).toEqual(['1040']);
      expect(await page.locator('td.strip[data-note=n1]').getAttribute('rowspan')).toBe('3');
      await page.locator('[data-unfold]').first().click();
      expect(await page.locator('.exposure tbody th.frame').count()).toBe(46 + 1);
      expect(await page.locator('tr.heavy th.frame').allTextContents()).toEqual([
        '1008',
        '1016',
        '1024',
        '1032',
        '1040',
      ]);
      expect(await page.locator('#f1025 .clock').textContent()).toBe('1+0');
      expect(faults).toEqual([]);
    }));

  it('plays the words that are clicked, and marks the one being said', () =>
    inFolder(async (folder) => {
      const { page, faults } = await openSheetPage(browser, folder, talk(), { sound: true });
      await page.locator('#n1 .play').click();
      await expect.poll(() => page.locator('.saying').textContent()).toBe('her');
      await expect.poll(() => page.locator('.saying').textContent(), { timeout: 5000 }).toBe('pops');
      await page.keyboard.press('Escape');
      expect(await page.locator('.saying').count()).toBe(0);
      await page.locator('#n2 q [data-word]').nth(5).or(page.locator('#n2 q')).first().hover();
      await page.locator('#n2 q [data-word]').nth(5).click();
      await expect.poll(() => page.locator('#n2 .saying').textContent()).toBe('not');
      await expect.poll(() => page.locator('.saying').count(), { timeout: 5000 }).toBe(0);
      expect(faults).toEqual([]);
    }));

  it('holds sound that is heard when it was said, to a fiftieth of a second', () =>
    inFolder(async (folder) => {
      const { page } = await openSheetPage(browser, folder, talk(), { sound: true });
      // Each whole second of the recording clicks: where the clicks lie in a decoded clip tells the clip's lead.
      const offs = await page.evaluate(async () => {
        const data = JSON.parse(document.getElementById('data')?.textContent ?? '');
        const found: number[] = [];
        for (const [i, { start, lead }] of data.sound.clips.entries()) {
          const base64 = document.getElementById(`clip${i}`)?.textContent ?? '';
          const raw = Uint8Array.from(atob(base64), (one) => one.charCodeAt(0)).buffer;
          const sound = await new OfflineAudioContext(1, 16000, 16000).decodeAudioData(raw);
          const samples = sound.getChannelData(0);
          samples.forEach((sample, at) => {
            if (Math.abs(sample) < 0.3) return;
            const seconds = at / 16000 + start - lead;
            found.push(Math.abs(seconds - Math.round(seconds)));
          });
        }
        return found;
      });
      expect(offs.length).toBeGreaterThan(100);
      expect(Math.max(...offs)).toBeLessThan(0.02);
    }));

  it('remembers ticks for this recording, saves them to a file, and takes them from one', () =>
    inFolder(async (folder) => {
      const { page } = await openSheetPage(browser, folder, talk());
      await page.locator('#n3 input[data-tick]').check();
      expect(await page.locator('#done').textContent()).toContain('1 of 2 done');
      await page.reload();
      expect(await page.locator('#n3 input[data-tick]').isChecked()).toBe(true);
      const [download] = await Promise.all([
        page.waitForEvent('download'),
        page.locator('#save-ticks').click(),
      ]);
      expect(download.suggestedFilename()).toBe('talk.ticks.json');
      const saved = join(folder, 'saved.ticks.json');
      await download.saveAs(saved);
      const ticks = readTicks(await readFile(saved, 'utf8'), 'saved.ticks.json');
      expect(ticks.done).toMatchObject([{ note: 'n3', title: 'Note 3', start: 9 }]);
      await page.locator('#n3 input[data-tick]').uncheck();
      await page.locator('#open-ticks').setInputFiles(saved);
      await expect.poll(() => page.locator('#n3 input[data-tick]').isChecked()).toBe(true);
    }));

  it('narrows the list by character, part and kind, and puts it in the order of frames', () =>
    inFolder(async (folder) => {
      const sheet = sheetOf([
        { say: 'the hand is late', issue: 'timing', frames: [1080, 1080] },
        { say: 'the foot slides', issue: 'contact', frames: [1010, 1012] },
        { say: 'and the brow', issue: 'expression' },
      ]);
      const [hand, foot] = sheet.notes;
      if (!hand || !foot) throw new Error('no notes');
      Object.assign(hand, { character: 'the keeper', body: [{ part: 'hand', side: 'left' }] });
      Object.assign(foot, { body: [{ part: 'foot', side: 'right' }] });
      const { page } = await openSheetPage(browser, folder, sheet);
      const shown = () => page.locator(TITLES).allTextContents();
      await page.getByLabel('by frame').check();
      expect(await shown()).toEqual(['Note 2', 'Note 1', 'Note 3']);
      await page.getByLabel('by rank').check();
      expect(await shown()).toEqual(['Note 1', 'Note 2', 'Note 3']);
      await page.getByLabel('Character').selectOption('the keeper');
      expect(await shown()).toEqual(['Note 1']);
      await page.getByLabel('Character').selectOption('');
      await page.getByLabel('Part').selectOption('foot');
      expect(await shown()).toEqual(['Note 2']);
      await page.getByLabel('Part').selectOption('');
      await page.getByLabel('Kind').selectOption('expression');
      expect(await shown()).toEqual(['Note 3']);
      expect(await page.locator('.shown').textContent()).toBe('1 of 3 notes shown');
    }));

  it.each(['A4', 'Letter'])('prints on %s, every note on it and no button', (format) =>
    inFolder(async (folder) => {
      const { page } = await openSheetPage(browser, folder, talk());
      const pdf = await page.pdf({ format });
      expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
      await page.emulateMedia({ media: 'print' });
      expect(await page.locator('.filters').isVisible()).toBe(false);
      expect(await page.locator('.progress').isVisible()).toBe(false);
      for (const id of ['n1', 'n2', 'n3']) expect(await page.locator(`#${id}`).isVisible()).toBe(true);
    }),
  );

  it('has the voice of a recording in the folder above: sheets often have a folder of their own', () =>
    inFolder(async (folder) => {
      const notes = join(folder, 'notes');
      await mkdir(notes);
      await rename(await putSheet(folder, talk(), true), join(notes, 'talk.sheet.json'));
      const { code, err } = await critsheet(['write', join(notes, 'talk.sheet.json'), '--as', 'html']);
      expect({ code, err }).toEqual({ code: 0, err: '' });
      expect(await readFile(join(notes, 'talk.sheet.html'), 'utf8')).toContain('id="clip0"');
    }));

  it('works without sound, and says so', () =>
    inFolder(async (folder) => {
      const { page, said, faults } = await openSheetPage(browser, folder, talk());
      expect(said).toContain(
        'The page has no sound. talk.wav was not found beside the sheet or in the folder above. Give the recording with --recording.',
      );
      expect(await page.locator('header .sound').textContent()).toBe(
        'No sound. talk.wav was not found beside the sheet or in the folder above.',
      );
      expect(await page.locator('.play').count()).toBe(0);
      expect(faults).toEqual([]);
    }));

  it('plays the recording itself where sound is linked', () =>
    inFolder(async (folder) => {
      const { page, faults, file } = await openSheetPage(browser, folder, talk(), {
        sound: true,
        options: ['--link-sound'],
      });
      expect((await stat(file)).size).toBeLessThan(60_000);
      await page.locator('#n2 .play').click();
      await expect.poll(() => page.locator('#n2 .saying').textContent(), { timeout: 5000 }).toBe('is');
      expect(faults).toEqual([]);
    }));

  it('is written over by a newer one, but not once somebody has edited it', () =>
    inFolder(async (folder) => {
      const path = await putSheet(folder, talk(), false);
      await critsheet(['write', path, '--as', 'html']);
      const page = join(folder, 'talk.sheet.html');
      expect(isSealed(await readFile(page, 'utf8'), talk().recording.sha256)).toBe(true);
      expect((await critsheet(['write', path, '--as', 'html'])).out).toBe(`written: ${page}\n`);
      await writeFile(page, (await readFile(page, 'utf8')).replace('Note 1', 'My note'));
      const again = await critsheet(['write', path, '--as', 'html']);
      expect(again.out).toBe(`written: ${join(folder, 'talk.sheet.2.html')}\n`);
      expect(await readFile(page, 'utf8')).toContain('My note');
    }));

  it('lets nothing run that a text of the sheet holds', () =>
    inFolder(async (folder) => {
      const evil =
        '</script><img src=x onerror="document.title=\'owned\'"><script>document.title="owned"</script><!--';
      const sheet = talk();
      const [note] = sheet.notes;
      if (!note) throw new Error('no note');
      Object.assign(note, {
        title: evil,
        character: `" autofocus onfocus="alert(1)`,
        options: [evil, 'javascript:alert(1)'],
      });
      Object.assign(note, { check: [evil], id: `n1"><b>`, priority: { score: 1, reasons: [evil] } });
      note.spans = note.spans.map((span) => ({ ...span, text: evil }));
      sheet.words = sheet.words.map((word) => ({ ...word, text: evil }));
      sheet.statements = sheet.statements.map((statement) => ({
        ...statement,
        text: evil,
        id: `${statement.id}${evil}`,
      }));
      Object.assign(sheet.shot, { name: evil });
      Object.assign(sheet.recording, { file: `../../etc/${evil}` });
      Object.assign(sheet.model, { id: evil });
      const { page, faults } = await openSheetPage(browser, folder, sheet);
      await page.locator('.heard summary').click();
      await page.waitForTimeout(200);
      expect(await page.title()).toBe(`${evil}: notes`);
      expect(
        await page
          .locator('img, script:not([id]):not([type=module]), [onerror], [onfocus], [autofocus]')
          .count(),
      ).toBe(0);
      expect(await page.locator('.note h3').first().textContent()).toBe(evil);
      expect(faults).toEqual([]);
    }));

  it.each(['light', 'dark'] as const)('has nothing that axe-core finds wrong, in %s', (colorScheme) =>
    inFolder(async (folder) => {
      const { page } = await openSheetPage(browser, folder, talk(), {
        sound: true,
        context: { colorScheme },
      });
      await page.locator('.heard summary').click();
      expect(await violations(page)).toEqual([]);
      await page.setViewportSize({ width: 320, height: 640 });
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(320);
      expect(await violations(page)).toEqual([]);
    }),
  );
});

describe('a long sheet', () => {
  const issues = ['timing', 'contact', 'arc', 'pose'] as const;
  const minute = (notes: number, gap: number) =>
    sheetOf(
      Array.from({ length: notes * gap }, (_, i) => ({
        say: `sentence ${i} about the left hand and the way it comes down to the table`,
        ...(i % gap === 0 && {
          issue: issues[i % issues.length] ?? 'arc',
          frames: [1001 + ((i * 7) % 900), 1003 + ((i * 7) % 900)] as [number, number],
        }),
      })),
    );

  it('of 40 notes is there in a tenth of a second, of 500 notes and an hour of talk in one, and scrolls', () =>
    inFolder(async (folder) => {
      const loads = async (sheet: ReturnType<typeof minute>) => {
        const { page } = await openSheetPage(browser, folder, sheet);
        const times: number[] = [];
        for (let i = 0; i < 5; i++) {
          await page.reload();
          times.push(
            await page.evaluate(
              () => performance.timing.domContentLoadedEventEnd - performance.timing.navigationStart,
            ),
          );
        }
        return { page, milliseconds: times.sort((a, b) => a - b)[2] ?? 0 };
      };
      const small = await loads(minute(40, 2));
      const large = await loads(minute(500, 3));
      const words = await large.page.evaluate(() => document.querySelectorAll('.statement').length);
      expect(words).toBe(1500);
      // How long one frame takes while the list is scrolled from end to end.
      const frames = await large.page.evaluate(async () => {
        document.documentElement.style.scrollBehavior = 'auto';
        const taken: number[] = [];
        const height = document.documentElement.scrollHeight;
        let last = performance.now();
        for (let i = 0; i <= 60; i++) {
          window.scrollTo(0, (height * i) / 60);
          await new Promise(requestAnimationFrame);
          const now = performance.now();
          taken.push(now - last);
          last = now;
        }
        return taken.sort((a, b) => a - b);
      });
      const middle = frames[30] ?? 0;
      console.log(
        `40 notes: ${small.milliseconds} ms; 500 notes: ${large.milliseconds} ms; scrolled frame ${middle.toFixed(0)} ms in the middle, ${(frames.at(-3) ?? 0).toFixed(0)} ms at the 95th percentile`,
      );
      // Held against three times what is promised, and more: other tests run beside this one and slow every drawing.
      expect(small.milliseconds).toBeLessThan(300);
      expect(large.milliseconds).toBeLessThan(4000);
      expect(middle).toBeLessThan(250);
    }));
});
