import { readFile, stat } from 'node:fs/promises';
import { basename, join, resolve } from 'node:path';
import { messageOf, PersonError } from '../../basics/problem.ts';
import type { ListenFor } from '../glossary/listen-for.ts';
import { findModel, type ModelEntry } from '../models/catalogue.ts';
import { ensureModelFolder } from '../models/model-folder.ts';
import type { Engine } from './engine.ts';
import { openReplay } from './replay.ts';

type Family = ModelEntry['family'];

/** The one table of recognisers: a family of models, and how a folder of it is opened. */
const FAMILIES: Readonly<
  Record<Family, (folder: string, id: string, wanted?: ListenFor) => Promise<Engine>>
> = {
  moonshine: async (...given) => (await import('./moonshine.ts')).openMoonshine(...given),
  whisper: async (...given) => (await import('./whisper.ts')).openWhisper(...given),
};

/**
 * Opens a recogniser.
 *
 * @param model A model id of the catalogue, the path of a folder that holds an exported model, or the path of a saved
 *   transcript, which is played back.
 * @param options.cacheDir The cache folder, in place of the platform's.
 * @param options.listenFor What the recogniser is pulled toward; a saved transcript is played back as it is.
 * @throws PersonError for an id nobody knows, a folder that holds no model, or a model that cannot be loaded.
 */
export async function openEngine(
  model: string,
  options: { cacheDir?: string; listenFor?: ListenFor | undefined } = {},
): Promise<Engine> {
  const given = await stat(model).catch(() => null);
  if (given?.isFile()) return openReplay(model);
  if (given?.isDirectory())
    return load(await familyOfFolder(model), resolve(model), basename(resolve(model)), options.listenFor);
  const { family, id } = findModel(model);
  return load(family, await ensureModelFolder(id, options), id, options.listenFor);
}

async function load(family: Family, folder: string, id: string, wanted?: ListenFor): Promise<Engine> {
  try {
    return await FAMILIES[family](folder, id, wanted);
  } catch (error) {
    if (error instanceof PersonError) throw error;
    throw new PersonError(`The model in ${folder} could not be loaded: ${messageOf(error)}`, {
      cause: error,
    });
  }
}

async function familyOfFolder(folder: string): Promise<Family> {
  let type: unknown;
  try {
    const config: unknown = JSON.parse(await readFile(join(folder, 'config.json'), 'utf8'));
    if (config && typeof config === 'object' && 'model_type' in config) type = config.model_type;
  } catch (error) {
    throw new PersonError(`The folder ${folder} holds no speech model: its config.json could not be read.`, {
      cause: error,
    });
  }
  if (type === 'moonshine' || type === 'whisper') return type;
  throw new PersonError(
    `The folder ${folder} holds a model of type "${String(type)}": it must be moonshine or whisper.`,
  );
}
