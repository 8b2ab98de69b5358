import type { VNode } from 'preact';
import { lengthStamp } from '../../../basics/time.ts';
import type { Note } from '../../../notes/note.ts';
import type { Sheet } from '../../sheet.ts';
import { sheetInShort, sortNotes } from '../../sort-notes.ts';
import type { Beside } from './beside.ts';
import { Exposure } from './exposure.tsx';
import { Filters } from './filters.tsx';
import { Heard } from './heard.tsx';
import { NoteCard } from './note.tsx';
import { pageData, scriptJson } from './page-data.ts';
import { Since } from './since.tsx';

/** The whole page: the sheet's head, the exposure sheet, and beside it the ranked list. */
export function Page({ sheet, beside }: { sheet: Sheet; beside: Beside }): VNode {
  const { fixes, keeps, optional, uncertain, withdrawn } = sortNotes(sheet);
  const list = (notes: readonly Note[], id: string, title: string, says: string) =>
    notes.length > 0 && (
      <section class="group" aria-labelledby={id}>
        <h2 id={id}>{title}</h2>
        <p class="says">{says}</p>
        <ol class="notes">
          {notes.map((note) => (
            <NoteCard key={note.id} note={note} sheet={sheet} beside={beside} />
          ))}
        </ol>
      </section>
    );
  return (
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta http-equiv="Content-Security-Policy" content={beside.policy} />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="color-scheme" content="light dark" />
        <title>{`${sheet.shot.name}: notes`}</title>
        <style dangerouslySetInnerHTML={{ __html: beside.style }} />
      </head>
      <body>
        <Head sheet={sheet} beside={beside} />
        <div class="desk">
          <section class="exposure" aria-labelledby="exposure-title">
            <h2 id="exposure-title" class="unseen">
              Exposure sheet
            </h2>
            <Exposure shot={sheet.shot} notes={sheet.notes} />
          </section>
          <main>
            {sheet.notes.length > 0 && <Filters notes={sheet.notes} />}
            {list(fixes, 'to-change', 'To change', 'The weightiest first.')}
            {list(optional, 'if-time', 'If there is time', 'Left to you.')}
            {list(keeps, 'to-keep', 'Leave alone', 'These work. Do not lose them while the rest changes.')}
            {uncertain.length > 0 && <Uncertain notes={uncertain} />}
            {list(withdrawn, 'taken-back', 'Taken back', 'Said, and then unsaid: nothing to do.')}
            <Since sheet={sheet} playable={beside.sound.kind !== 'none'} />
            <Heard sheet={sheet} />
          </main>
        </div>
        <script
          type="application/json"
          id="data"
          dangerouslySetInnerHTML={{ __html: scriptJson(pageData(sheet, beside)) }}
        />
        {beside.script && <script type="module" dangerouslySetInnerHTML={{ __html: beside.script }} />}
        {beside.sound.kind === 'clips' &&
          beside.sound.clips.map((clip, i) => (
            <script
              key={clip.start}
              type="text/plain"
              id={`clip${i}`}
              dangerouslySetInnerHTML={{ __html: clip.base64 }}
            />
          ))}
      </body>
    </html>
  );
}

function Head({ sheet, beside }: { sheet: Sheet; beside: Beside }): VNode {
  const { shot, recording, model } = sheet;
  const boxes: [string, string][] = [
    ['Frames', shot.last === null ? `from ${shot.first}` : `${shot.first}–${shot.last}`],
    ['Rate', `${shot.fps} a second`],
    ['Recording', `${recording.file}, ${lengthStamp(recording.duration)}`],
    ['Words by', model.id],
  ];
  return (
    <header>
      <div class="slate">
        <h1>{shot.name}</h1>
        <dl>
          {boxes.map(([name, value]) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{value}</dd>
            </div>
          ))}
        </dl>
      </div>
      <p class="short">{sheetInShort(sheet)}</p>
      <p class="sound">{SOUND[beside.sound.kind](beside)}</p>
      <div class="progress" hidden>
        <p role="status" id="done" />
        <button type="button" id="save-ticks">
          Save ticks to a file
        </button>
        <label class="file">
          <input type="file" id="open-ticks" class="unseen" accept=".json,application/json" />
          <span>Take ticks from a file</span>
        </label>
      </div>
    </header>
  );
}

const SOUND: Readonly<Record<Beside['sound']['kind'], (beside: Beside) => string>> = {
  clips: () => 'The mentor’s voice is in this page: click any words to hear them.',
  link: ({ sound }) =>
    `The mentor’s voice is played from ${sound.kind === 'link' ? decodeURI(sound.address) : ''}, which has to stay where it is: click any words to hear them.`,
  none: ({ sound }) => (sound.kind === 'none' ? `No sound. ${sound.why}` : ''),
};

/** The notes that a person should look at; each stands in its own place too. */
function Uncertain({ notes }: { notes: readonly Note[] }): VNode {
  return (
    <section class="group uncertain" aria-labelledby="uncertain">
      <h2 id="uncertain">Unsure</h2>
      <p class="says">What the machine may have taken wrongly. Listen before you act on these.</p>
      <ul>
        {notes.map((note) => (
          <li key={note.id}>
            <a href={`#${note.id}`}>
              <b>{note.rank}</b> {note.title}
            </a>
            : {note.check.join('; ')}
          </li>
        ))}
      </ul>
    </section>
  );
}
