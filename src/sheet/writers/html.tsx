import { render } from 'preact-render-to-string';
import type { Sheet } from '../sheet.ts';
import { type Beside, NOTHING_BESIDE } from './html/beside.ts';
import { Page } from './html/page.tsx';

/** The animator's page as one file that needs no other; sound and pictures are what `beside` holds of them. */
export function writeHtml(sheet: Sheet, beside: Beside = NOTHING_BESIDE): string {
  return `<!doctype html>\n${render(<Page sheet={sheet} beside={beside} />)}\n`;
}
