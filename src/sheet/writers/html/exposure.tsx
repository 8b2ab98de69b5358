import type { ComponentChildren, VNode } from 'preact';
import type { Note } from '../../../notes/note.ts';
import type { Sheet } from '../../sheet.ts';
import { type Column, layOut, MOST_ROOM, type Row, type Strip } from './exposure-rows.ts';

/** The exposure sheet: action notes leftmost, the frames down the page, what to leave alone on the right. */
export function Exposure({ shot, notes }: { shot: Sheet['shot']; notes: readonly Note[] }): VNode {
  const { rows, action, keep } = layOut(shot, notes);
  const hasCrowd = action.crowded.size + keep.crowded.size > 0;
  const actionLanes = Math.max(1, action.lanes);
  const keepLanes = Math.max(1, keep.lanes);
  const unplaced = notes.filter((note) => note.frames === null && !note.withdrawn);
  return (
    <div class="exposure-sheet">
      <table data-first={shot.first} data-rate={Math.round(shot.fps)}>
        <caption class="unseen">Exposure sheet: one row a frame, with the notes beside their frames</caption>
        <thead>
          <tr>
            <th scope="col" colSpan={actionLanes} class="action">
              Action
            </th>
            <th scope="col" class="frame">
              Frame
            </th>
            <th scope="col" class="clock">
              Sec+fr
            </th>
            <th scope="col" colSpan={keepLanes} class="leave">
              Leave
            </th>
            {hasCrowd && (
              <th scope="col" class="crowd">
                Also
              </th>
            )}
          </tr>
        </thead>
        <tbody>
          {rows.map((row, at) => (
            <tr
              key={row.first}
              class={rowClass(row)}
              id={row.first === row.last ? `f${row.first}` : undefined}
              data-first={row.first}
              data-last={row.last}
            >
              {laneCells(action, actionLanes, at, 'action')}
              {row.first === row.last ? (
                <FrameCells frame={row.first} shot={shot} />
              ) : (
                <FoldCells row={row} />
              )}
              {laneCells(keep, keepLanes, at, 'leave')}
              {hasCrowd && (
                <td class="crowd">
                  {[...(action.crowded.get(at) ?? []), ...(keep.crowded.get(at) ?? [])].map((note) => (
                    <StripLink key={note.id} note={note}>
                      <span class="unseen">{note.title}</span>
                    </StripLink>
                  ))}
                </td>
              )}
            </tr>
          ))}
        </tbody>
      </table>
      {unplaced.length > 0 && (
        <div class="unplaced">
          <h3>No frame was said</h3>
          <ul>
            {unplaced.map((note) => (
              <li key={note.id}>
                <StripLink note={note}>{note.title}</StripLink>
              </li>
            ))}
          </ul>
        </div>
      )}
    </div>
  );
}

function rowClass({ first, last, heavy }: Row): string | undefined {
  return [first !== last && 'folded', heavy && 'heavy'].filter(Boolean).join(' ') || undefined;
}

/** A frame's number, and its place in the shot in seconds and frames, as counted on paper. */
function FrameCells({ frame, shot }: { frame: number; shot: Sheet['shot'] }): VNode {
  const count = frame - shot.first;
  const rate = Math.round(shot.fps);
  return (
    <>
      <th scope="row" class="frame">
        {frame}
      </th>
      <td class="clock">{count >= 0 ? `${Math.floor(count / rate)}+${count % rate}` : ''}</td>
    </>
  );
}

/** A run of frames in which nothing begins or ends; the script can unfold it. */
function FoldCells({ row: { first, last } }: { row: Row }): VNode {
  return (
    <>
      <td class="run">
        <button type="button" data-unfold>
          {first}–
          <wbr />
          {last}
        </button>
      </td>
      <td class="clock">{last - first + 1} fr</td>
    </>
  );
}

function laneCells({ lanes, strips }: Column, columns: number, at: number, name: string): ComponentChildren {
  return Array.from({ length: columns }, (_, lane) => {
    const strip =
      lane < lanes
        ? strips.find((one) => one.lane === lane && at >= one.row && at < one.row + one.rows)
        : undefined;
    // A strip that began further up covers this row.
    if (strip && strip.row !== at) return null;
    const key = `${name}${lane}`;
    return strip ? <StripCell key={key} strip={strip} name={name} /> : <td key={key} class={name} />;
  });
}

function StripCell({ strip, name }: { strip: Strip; name: string }): VNode {
  const { note, rows, room } = strip;
  return (
    <td
      rowSpan={rows}
      class={`${name} strip ${noteClass(note)} room${Math.min(room, MOST_ROOM)}`}
      data-note={note.id}
    >
      <StripLink note={note}>{note.title}</StripLink>
    </td>
  );
}

function StripLink({ note, children }: { note: Note; children: ComponentChildren }): VNode {
  return (
    <a href={`#${note.id}`} data-note={note.id} class={noteClass(note)} title={note.title}>
      <b>{note.rank}</b> <span>{children}</span>
    </a>
  );
}

/** What a note is, in the names that the style sheet knows. */
export function noteClass(note: Note): string {
  if (note.withdrawn) return 'back';
  if (note.role === 'keep') return 'keep';
  return note.strength === 'could' ? 'fix optional' : 'fix';
}
