import { InvalidArgumentError } from 'commander';

/**
 * A commander parser for a list of formats: "vtt,srt". Each is named once, in the order given.
 *
 * @param known The formats that there are.
 */
export function formatList(known: readonly string[]): (text: string) => string[] {
  return (text) => {
    const formats = text
      .split(',')
      .map((format) => format.trim().toLowerCase())
      .filter((format) => format !== '');
    const unknown = formats.filter((format) => !known.includes(format));
    if (unknown.length > 0 || formats.length === 0) {
      const what =
        unknown.length > 0 ? `There is no format "${unknown.join('", "')}".` : 'No format is named.';
      throw new InvalidArgumentError(`${what} Choose from ${known.join(', ')}.`);
    }
    return [...new Set(formats)];
  };
}

/** "json (the whole sheet, for programs), md (…)": for help texts. */
export function formatHelp(writers: Readonly<Record<string, { readonly says: string }>>): string {
  return Object.entries(writers)
    .map(([format, { says }]) => `${format} (${says})`)
    .join(', ');
}
