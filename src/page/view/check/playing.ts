import { useCallback, useMemo, useRef, useState } from 'preact/hooks';
import type { Span } from '../../../basics/span.ts';
import type { Word } from '../../../transcript/transcript.ts';
import { Player } from '../player.ts';
import { soundAddress } from './server.ts';

/** Seconds heard before what is asked for. */
const BEFORE = 0.5;
const AFTER = 0.3;

export interface Playing {
  /** Number of the word that is being said; null where nothing plays. */
  readonly word: number | null;
  readonly playing: boolean;
  readonly fault: string | null;
  /** Plays spans, one after another, from half a second before each. */
  readonly play: (...spans: Span[]) => void;
  readonly stop: () => void;
}

/** Plays stretches of the recording and tells which word is being said. */
export function usePlaying(words: readonly Word[]): Playing {
  const [word, setWord] = useState<number | null>(null);
  const [playing, setPlaying] = useState(false);
  const [fault, setFault] = useState<string | null>(null);
  const heard = useRef(words);
  heard.current = words;
  const player = useMemo(
    () =>
      new Player(({ start, end }) => ({
        address: soundAddress(Math.max(0, start), end),
        shift: -Math.max(0, start),
      })),
    [],
  );
  const turn = useRef(0);

  const play = useCallback(
    (...spans: Span[]) => {
      const mine = ++turn.current;
      setFault(null);
      const begin = (at: number): void => {
        const span = spans[at];
        if (!span || mine !== turn.current) {
          if (mine === turn.current) setPlaying(false);
          return;
        }
        const from = Math.max(0, span.start - BEFORE);
        void player.play({ start: from, end: span.end + AFTER }, from, {
          onTime: (seconds) => setWord(wordAt(heard.current, seconds)),
          onEnd: (why) => {
            setWord(null);
            if (why) setFault(why);
            if (why || mine !== turn.current) setPlaying(false);
            else begin(at + 1);
          },
        });
        setPlaying(true);
      };
      player.stop();
      begin(0);
    },
    [player],
  );
  const stop = useCallback(() => {
    turn.current++;
    player.stop();
    setPlaying(false);
  }, [player]);
  return { word, playing, fault, play, stop };
}

/** The last word that begins before a moment, by halving; null before the first. */
function wordAt(words: readonly Word[], seconds: number): number | null {
  let low = 0;
  let high = words.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((words[middle]?.start ?? 0) <= seconds) low = middle + 1;
    else high = middle;
  }
  return low === 0 ? null : low - 1;
}
