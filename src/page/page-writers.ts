import type { Problem } from '../basics/problem.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { Writer } from '../sheet/writers/writer.ts';
import { SHEET_AND_TRANSCRIPT_WRITERS } from '../sheet/writers/writers.ts';

/** What is wanted of a page, where one is. */
export interface PageWish {
  /** Play the recording from where it lies; the page stays small. */
  readonly linkSound?: boolean | undefined;
  /** A video of the shot, or a folder of its frames. */
  readonly shotPicture?: string | undefined;
}

export interface PageMaking {
  readonly sheet: Sheet;
  readonly formats: readonly string[];
  readonly wish: PageWish;
  /** Where the recording is looked for. */
  readonly folder: string;
  readonly recording?: string | undefined;
  /** Where the page will lie. */
  readonly out: string;
  readonly signal?: AbortSignal | undefined;
}

export interface PageWriters {
  readonly writers: Readonly<Record<string, Writer<Sheet>>>;
  /** What the page lacks. */
  readonly problems: readonly Problem[];
}

/** Every writer, that of the page with its sound, pictures and script where the page is asked for. */
export async function writersFor(making: PageMaking): Promise<PageWriters> {
  const { sheet, formats, wish, folder, recording, out, signal } = making;
  if (!formats.includes('html')) return { writers: SHEET_AND_TRANSCRIPT_WRITERS, problems: [] };
  const { makeSheetPage, pageWriter } = await import('./sheet-page.ts');
  const { html, problems } = await makeSheetPage(sheet, {
    folder,
    recording,
    linkSoundFrom: wish.linkSound ? out : undefined,
    shotPicture: wish.shotPicture,
    signal,
  });
  return { writers: { ...SHEET_AND_TRANSCRIPT_WRITERS, html: pageWriter(sheet, html) }, problems };
}
