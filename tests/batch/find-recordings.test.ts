import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { findRecordings } from '../../src/batch/find-recordings.ts';
import { writtenName } from '../../src/sheet/file-names.ts';
import { SHEET_WRITERS } from '../../src/sheet/writers/writers.ts';
import { inFolder } from '../commands/run-command.ts';

const FILES = [
  'take10.wav',
  'take9.wav',
  'talk.MOV',
  'talk.sheet.json',
  'talk.sheet.md',
  'talk.vtt',
  'talk.chapters.vtt',
  'critsheet.json',
  '.hidden.wav',
  'take11.wav.part',
  'deep/take1.mp3',
];

const inTakes = (work: (folder: string) => Promise<void>) =>
  inFolder(async (folder) => {
    await mkdir(join(folder, 'deep'));
    for (const file of FILES) await writeFile(join(folder, file), file === 'critsheet.json' ? '{}' : '');
    await work(folder);
  });

const namesOf = async (args: string[], folder: string, nested = false) =>
  (await findRecordings(args, nested)).recordings.map((path) => path.slice(folder.length + 1));

describe('the recordings of a command line', () => {
  it('are, of a folder, its sound and video in the order people number them', () =>
    inTakes(async (folder) => {
      expect(await namesOf([folder], folder)).toEqual(['take9.wav', 'take10.wav', 'talk.MOV']);
      expect(await namesOf([folder], folder, true)).toContain(join('deep', 'take1.mp3'));
    }));

  it('are, of a pattern that the shell did not look up, what it fits', () =>
    inTakes(async (folder) => {
      expect(await namesOf([join(folder, '**/*.mp3')], folder)).toEqual([join('deep', 'take1.mp3')]);
      expect(await namesOf([join(folder, 'take*')], folder)).toEqual(['take9.wav', 'take10.wav']);
      expect(await namesOf([join(folder, '*.vtt')], folder)).toEqual(['talk.vtt']);
    }));

  it('are, of a pattern that the shell did look up, not the sheets it fits too', () =>
    inTakes(async (folder) => {
      const written = Object.values(SHEET_WRITERS).flatMap(({ ending }) =>
        [1, 2].map((number) => writtenName('talk', ending, number)),
      );
      expect(written).toContain('talk.sheet.2.json');
      const beside = [
        'critsheet.json',
        'shot.json',
        'talk.shot.json',
        'talk.corrections.2.json',
        'talk.ticks.json',
      ];
      const words = ['talk.vtt', 'talk.transcript.json', 'mugshot.json'];
      const all = ['take9.wav', ...written, 'talk.MOV', ...beside, 'README.md', ...words];
      const paths = all.map((name) => join(folder, name));
      expect(await namesOf(paths, folder)).toEqual(['take9.wav', 'talk.MOV', ...words]);
    }));

  it('count once each, and leave out what the settings name', () =>
    inTakes(async (folder) => {
      await writeFile(join(folder, 'critsheet.json'), '{"ignore": ["talk*"]}');
      expect(await namesOf([join(folder, 'take9.wav'), folder], folder)).toEqual(['take9.wav', 'take10.wav']);
    }));

  it('are one where one is named, there or not, and its name may look like a pattern', () =>
    inTakes(async (folder) => {
      await writeFile(join(folder, 'take[1].wav'), '');
      for (const name of ['nowhere.wav', 'take[1].wav'])
        expect(await findRecordings([join(folder, name)], false)).toEqual({
          recordings: [join(folder, name)],
          one: true,
        });
      expect((await findRecordings([join(folder, 'deep')], true)).one).toBe(false);
    }));

  it('that are none are told of', () =>
    inFolder(async (folder) => {
      await expect(findRecordings([folder], false)).rejects.toThrow(`There is no recording in ${folder}:`);
      await expect(findRecordings([join(folder, '*.wav')], false)).rejects.toThrow(
        'No recording fits the pattern',
      );
    }));
});
