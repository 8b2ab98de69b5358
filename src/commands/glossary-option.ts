/** What the option is called and does, for every command that hears. */
export const GLOSSARY_OPTION: readonly [flags: string, says: string] = [
  '--glossary <file>',
  'words to listen for beside those of the trade and the shot: one word or phrase a line, # for comments',
];
