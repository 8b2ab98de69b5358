import { keptSteps } from '../basics/kept.ts';
import type { Problem } from '../basics/problem.ts';
import type { OpenRecording } from '../recording/open-recording.ts';
import { identifyModel } from './engines/identify-model.ts';
import { KEPT_TRANSCRIPT, transcriptIngredients } from './kept-words.ts';
import { DEFAULT_MODEL } from './models/catalogue.ts';
import { sileroPath } from './models/embedded-files.ts';
import { sha256OfFile } from './models/manifest.ts';
import { type TranscribeOptions, transcribe } from './transcribe.ts';
import type { Transcript } from './transcript.ts';

/**
 * The words of a recording: those that were kept, without decoding its sound, or else those heard now.
 *
 * @returns The transcript, and what was noticed in the recording and in hearing it.
 * @throws As `transcribe` and `readRecording` do.
 */
export async function hearRecording(
  recording: OpenRecording,
  options: TranscribeOptions,
): Promise<{ transcript: Transcript; problems: Problem[] }> {
  const { kept, model = DEFAULT_MODEL, listenFor } = options;
  const identity = kept && (await identifyModel(model));
  if (!identity) {
    const read = await recording.read();
    const { transcript, problems } = await transcribe(read, options);
    return { transcript, problems: [...read.problems, ...problems] };
  }
  const { file, sha256 } = recording;
  const hearing = { model: identity, listenFor };
  const of = transcriptIngredients(hearing, sha256, await sha256OfFile(sileroPath()));
  const known = await kept.get(KEPT_TRANSCRIPT, of);
  const { duration, problems } = await recording.facts();
  if (known) {
    const transcript: Transcript = {
      schema: 'critsheet-transcript/1',
      recording: { file, sha256, duration },
      model: identity.ref,
      words: known.words,
    };
    return { transcript, problems: [...problems, ...known.problems] };
  }
  const { steps, putAway } = keptSteps(kept);
  const heard = await transcribe(await recording.read(), { ...options, kept: steps });
  await kept.put(KEPT_TRANSCRIPT, of, { words: heard.transcript.words, problems: heard.problems });
  await putAway();
  return { transcript: heard.transcript, problems: [...problems, ...heard.problems] };
}
