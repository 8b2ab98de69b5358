/**
 * What begins or ends something in Markdown or HTML wherever it stands. An underscore inside a word and an ampersand that
 * begins no entity mean nothing, and stay, so that names like sq20_sh040 are readable in plain text.
 */
const ANYWHERE = /[\\`*[\]<~]|(?<![\p{L}\p{N}])_|_(?![\p{L}\p{N}])|&(?=#?\w+;)/gu;

/** What begins a heading, a quotation, a list or a rule at a line's start only; of a numbered list, the dot. */
const AT_START = /^(?:[-+=>#]|\d+(?=[.)]))/;

/**
 * Makes any text stand in Markdown as itself, on one line: no tag, link, list or heading can come out of quoted words.
 */
export function escapeMarkdown(text: string): string {
  const oneLine = text.replace(/\s+/g, ' ').trim();
  return oneLine
    .replace(ANYWHERE, (character) => `\\${character}`)
    .replace(AT_START, (mark) => (/\d/.test(mark) ? `${mark}\\` : `\\${mark}`));
}
