import type { VNode } from 'preact';
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import { minutesStamp } from '../../../basics/time.ts';
import type { Note, Quote } from '../../../notes/note.ts';
import type { Word } from '../../../transcript/transcript.ts';
import { wordsWithin } from '../../../transcript/words-within.ts';
import type { Playing } from './playing.ts';

/** Words heard less surely than this are marked. */
const FAINT = 0.6;

/** What was heard: every stretch of the note, word by word, the unsure words marked. */
export function HeardWords({
  note,
  words,
  playing,
  silent,
  onFix,
}: {
  note: Note;
  words: readonly Word[];
  playing: Playing;
  silent: boolean;
  onFix: (word: number, text: string) => void;
}): VNode {
  return (
    <div class="heard-words">
      {note.spans.map((span) => (
        <Stretch key={span.start} span={span} words={words} playing={playing} silent={silent} onFix={onFix} />
      ))}
    </div>
  );
}

function Stretch({
  span,
  words,
  playing,
  silent,
  onFix,
}: {
  span: Quote;
  words: readonly Word[];
  playing: Playing;
  silent: boolean;
  onFix: (word: number, text: string) => void;
}): VNode {
  const range = wordsWithin(words, span);
  const [cursor, setCursor] = useState(0);
  const [fixing, setFixing] = useState<number | null>(null);
  const group = useRef<HTMLDivElement>(null);
  const focusWord = (at: number): void => {
    const last = range ? range.last - range.first : 0;
    const to = Math.max(0, Math.min(last, at));
    setCursor(to);
    group.current?.querySelectorAll<HTMLElement>('[data-word]')[to]?.focus();
  };
  const stamp = minutesStamp(span.start);
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.target instanceof HTMLInputElement || event.altKey || event.ctrlKey || event.metaKey) return;
    const to = { ArrowRight: cursor + 1, ArrowLeft: cursor - 1, Home: 0, End: words.length }[event.key];
    if (to !== undefined) {
      event.preventDefault();
      focusWord(to);
    } else if (event.key === 'w' && range) {
      event.preventDefault();
      setFixing(range.first + cursor);
    } else if (event.key === ' ' && range && !silent) {
      event.preventDefault();
      const from = words[range.first + cursor]?.start ?? span.start;
      if (playing.playing) playing.stop();
      else playing.play({ start: from, end: span.end });
    }
  };
  return (
    <div class="stretch">
      {silent ? (
        <span class="stamp">{stamp}</span>
      ) : (
        <button type="button" class="play" onClick={() => playing.play(span)}>
          <span class="unseen">Play the words at </span>
          {stamp}
        </button>
      )}
      {/* biome-ignore lint/a11y/useSemanticElements: words run on as text, which a fieldset does not. */}
      <div
        class="spoken"
        ref={group}
        role="group"
        aria-label={`Words at ${stamp}. Arrow keys go from word to word.`}
        onKeyDown={onKeyDown}
      >
        {range === null
          ? span.text
          : words.slice(range.first, range.last + 1).map((word, i) => (
              <OneWord
                key={word.start}
                word={word}
                number={range.first + i}
                tab={i === cursor}
                saying={playing.word === range.first + i}
                fixing={fixing === range.first + i}
                onFocus={() => setCursor(i)}
                onPress={() => {
                  if (!silent) playing.play({ start: word.start, end: span.end });
                }}
                onFix={(text) => {
                  setFixing(null);
                  if (text !== null && text !== word.text) onFix(range.first + i, text);
                  // The word's button is there again only after the next drawing.
                  setTimeout(() => focusWord(i));
                }}
              />
            ))}
      </div>
    </div>
  );
}

function OneWord({
  word,
  number,
  tab,
  saying,
  fixing,
  onFocus,
  onPress,
  onFix,
}: {
  word: Word;
  number: number;
  tab: boolean;
  saying: boolean;
  fixing: boolean;
  onFocus: () => void;
  onPress: () => void;
  onFix: (text: string | null) => void;
}): VNode {
  const field = useRef<HTMLInputElement>(null);
  // Before the next key is pressed: what is typed belongs in the field.
  useLayoutEffect(() => {
    if (fixing) field.current?.select();
  }, [fixing]);
  if (fixing) {
    return (
      <input
        ref={field}
        class="fix-word"
        aria-label={`What was said instead of "${word.text}"; Enter saves`}
        defaultValue={word.text}
        size={Math.max(4, word.text.length + 2)}
        maxLength={200}
        onKeyDown={(event) => {
          if (event.key === 'Enter') onFix(event.currentTarget.value.trim() || null);
          if (event.key === 'Escape') onFix(null);
        }}
      />
    );
  }
  const isFaint = word.confidence < FAINT;
  // A recogniser's own repair leaves what it wrote first; a person's mending leaves the word that stood there.
  const wrote = typeof word.heard === 'string' ? word.heard : null;
  const look = wrote === null ? ('heard' in word ? ' mended' : '') : ' guessed';
  return (
    <>
      <button
        type="button"
        class={`word${isFaint ? ' faint' : ''}${saying ? ' saying' : ''}${look}`}
        data-word={number}
        tabIndex={tab ? 0 : -1}
        onFocus={onFocus}
        onClick={onPress}
      >
        {word.text}
        {isFaint && <span class="unseen"> (unsure)</span>}
        {wrote !== null && (
          <small class="wrote" title={`heard as "${wrote}"`}>
            <span class="unseen"> heard as </span>
            {wrote}
          </small>
        )}
      </button>{' '}
    </>
  );
}
