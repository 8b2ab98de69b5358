import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { readGlossaryFile } from '../../src/files/glossary-file.ts';
import { critsheet, inFolder } from '../commands/run-command.ts';

const SPEECH = fileURLToPath(new URL('../fixtures/speech/trade-tail.wav', import.meta.url));

const listOf = (folder: string, content: string | Buffer) => {
  const path = join(folder, 'words.txt');
  return writeFile(path, content).then(() => path);
};

describe('a list of words to listen for', () => {
  it('is read a line at a time, without comments, empty lines and spare spaces', () =>
    inFolder(async (folder) => {
      const path = await listOf(
        folder,
        "\ufeff# the tavern shot\r\nOdalys\r\n\r\n  crow's   feet # hers\rline of action\n",
      );
      expect(await readGlossaryFile(path)).toEqual(['Odalys', "crow's feet", 'line of action']);
    }));

  it('is read in two bytes a letter where the file says so', () =>
    inFolder(async (folder) => {
      const path = await listOf(folder, Buffer.from('\ufeffZo\u00eb\r\nQuillon\r\n', 'utf16le'));
      expect(await readGlossaryFile(path)).toEqual(['Zo\u00eb', 'Quillon']);
    }));

  it.each<[string, string | Buffer, RegExp]>([
    ['a number', 'Odalys\n42\n', /words\.txt, line 2: "42" holds no letter; write one word/],
    ['a mark', 'knee;elbow', /line 1: "knee;elbow" holds a mark/],
    ['a sentence', 'he takes the cup and he drinks it all', /line 1: .* longer than 6 words/],
    ['a scrap', 'it', /line 1: "it" is shorter/],
    ['comments alone', '# nothing yet\n', /words\.txt holds no words/],
    ['an empty file', '', /words\.txt holds no words/],
    ['a picture', Buffer.from([0x89, 0x50, 0xff, 0xfe, 0x00]), /words\.txt is no text in UTF-8: save/],
    ['letters of one byte', Buffer.from('Zo\u00eb', 'latin1'), /words\.txt is no text in UTF-8: save/],
    [
      'more than can be meant',
      Array.from({ length: 2001 }, (_, i) => `name${i}`).join('\n'),
      /holds 2001 words/,
    ],
  ])('is refused in one sentence: %s', (_, content, message) =>
    inFolder(async (folder) => {
      await expect(readGlossaryFile(await listOf(folder, content))).rejects.toThrow(message);
    }),
  );

  it('stops a reading before the recording is heard where it is broken or missing', () =>
    inFolder(async (folder) => {
      const broken = await listOf(folder, '42');
      for (const [path, message] of [
        [broken, /line 1/],
        [join(folder, 'nowhere.txt'), /no file .*nowhere\.txt/],
      ] as const) {
        for (const command of ['read', 'transcribe']) {
          const ran = await critsheet([command, SPEECH, '--json', '--glossary', path]);
          expect(ran.code).toBe(1);
          expect(ran.err).toMatch(message);
        }
      }
    }));
});
