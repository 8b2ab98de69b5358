import type { VNode } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { Head } from './head.tsx';
import { Help } from './help.tsx';
import { useKeys } from './keys.ts';
import { Finished, NoteCard } from './note-card.tsx';
import { NoteList } from './note-list.tsx';
import { usePlaying } from './playing.ts';
import { Transcript } from './transcript.tsx';
import { useActions } from './use-actions.ts';
import { useCheck } from './use-check.ts';

const KEYS_OFF = 'critsheet check: keys off';

/** The page on which a person settles what is uncertain. */
export function App(): VNode {
  const check = useCheck();
  const playing = usePlaying(check.state?.sheet.words ?? []);
  const [keysOn, setKeysOn] = useState(() => localStorage.getItem(KEYS_OFF) === null);
  const actions = useActions(check, playing);
  useKeys(actions.byKey, keysOn);
  useEffect(() => {
    if (keysOn) localStorage.removeItem(KEYS_OFF);
    else localStorage.setItem(KEYS_OFF, 'yes');
  }, [keysOn]);
  const { state, saving } = check;
  if (!state) {
    return (
      <main class="waiting">
        <p role="status">{saving.kind === 'fault' ? saving.why : 'Reading the sheet…'}</p>
      </main>
    );
  }
  const { note } = actions;
  return (
    <div class="check">
      <Head check={check} state={state} keysOn={keysOn} onKeys={setKeysOn} actions={actions} />
      <div class="desk">
        <NoteList state={state} current={note?.id ?? null} done={actions.done} onChoose={actions.go} />
        <main>
          {actions.helping && <Help />}
          {note ? (
            <NoteCard
              key={note.id}
              note={note}
              state={state}
              check={check}
              playing={playing}
              actions={actions}
              keysOn={keysOn}
            />
          ) : (
            <Finished state={state} actions={actions} />
          )}
          <Transcript state={state} playing={playing} actions={actions} decide={check.decide} />
        </main>
      </div>
    </div>
  );
}
