import { render } from 'preact-render-to-string';
import type { Sheet } from '../sheet.ts';
import { type Beside, NOTHING_BESIDE } from './html/beside.ts';
import { Page } from './html/page.tsx';
import type { Writer } from './writer.ts';

/** The animator's page as one file that needs no other; sound and pictures are what `beside` holds of them. */
export function writeHtml(sheet: Sheet, beside: Beside = NOTHING_BESIDE): string {
  return `<!doctype html>\n${render(<Page sheet={sheet} beside={beside} />)}\n`;
}

export const html: Writer<Sheet> = {
  ending: '.sheet.html',
  says: 'the page to work from, with the sound',
  leavesOut: 'the confidences; sound, pictures and script, which the commands add',
  write: (sheet) => writeHtml(sheet),
};
