import type { Word } from '../../transcript/transcript.ts';

/** A caption: what is shown from `start` to `end`, in seconds. */
export interface Cue {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

export const CUE_SECONDS = 7;
export const CUE_CHARACTERS = 84;
const LINE_CHARACTERS = 42;
/** A silence this long ends a cue, whatever was being said. */
const PAUSE_SECONDS = 0.8;
/** A sentence shorter than this waits for the next one, so that captions do not flicker. */
const SHORT_CHARACTERS = 16;

/**
 * Cuts words into captions of at most CUE_SECONDS and CUE_CHARACTERS: at a sentence's end or a long pause, or else at the
 * last comma, or else wherever the limit falls.
 */
export function cutIntoCues(words: readonly Word[]): Cue[] {
  const cues: Cue[] = [];
  let rest = words.filter((word) => word.text.trim() !== '');
  while (rest.length > 0) {
    const count = cueLength(rest);
    cues.push(makeCue(rest.slice(0, count)));
    rest = rest.slice(count);
  }
  return cues;
}

/** How many of the words make the next cue. */
function cueLength(words: readonly Word[]): number {
  const start = words[0]?.start ?? 0;
  let characters = -1;
  let afterComma = 0;
  for (const [i, word] of words.entries()) {
    characters += word.text.length + 1;
    if (i > 0 && (characters > CUE_CHARACTERS || word.end - start > CUE_SECONDS)) return afterComma || i;
    const next = words[i + 1];
    const pause = next ? next.start - word.end : 0;
    const isSentenceEnd = /[.?!]["')\]]?$/.test(word.text);
    if (pause >= PAUSE_SECONDS || (isSentenceEnd && characters >= SHORT_CHARACTERS)) return i + 1;
    if (/[,;:.?!]$/.test(word.text) && characters >= CUE_CHARACTERS / 3) afterComma = i + 1;
  }
  return words.length;
}

function makeCue(words: readonly Word[]): Cue {
  const start = words[0]?.start ?? 0;
  const end = Math.max(...words.map((word) => word.end));
  // A word whose time went wrong must not leave a caption standing, nor one that no player shows.
  const shown = Math.min(Math.max(end, start + 0.1), start + CUE_SECONDS);
  return { start, end: shown, text: intoLines(words.map((word) => word.text.trim())) };
}

/** Breaks a cue in two about its middle where it is too wide for one line. */
function intoLines(words: readonly string[]): string {
  const whole = words.join(' ');
  if (whole.length <= LINE_CHARACTERS) return whole;
  let best = whole;
  let bestWidth = whole.length;
  for (let i = 1; i < words.length; i++) {
    const lines = [words.slice(0, i).join(' '), words.slice(i).join(' ')];
    const width = Math.max(...lines.map((line) => line.length));
    if (width < bestWidth) {
      best = lines.join('\n');
      bestWidth = width;
    }
  }
  return best;
}
