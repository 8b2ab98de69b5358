import type { VNode } from 'preact';
import { BASES, ISSUES, STRENGTHS } from '../../../basics/terms.ts';
import { askedFields } from '../../../corrections/asked-fields.ts';
import type { Fields } from '../../../corrections/corrections.ts';
import { correctedFields } from '../../../corrections/steps/set.ts';
import type { Note } from '../../../notes/note.ts';
import type { Sheet } from '../../../sheet/sheet.ts';
import { FAULTS } from '../../../sheet/writers/wording.ts';
import { AmountFields, FrameFields } from './counts.tsx';
import { Choose, Field, TextBox } from './field.tsx';
import { PartFields } from './parts.tsx';

/** What was understood, field by field; each can be set, and is saved at once. */
export function Understood({
  note,
  shot,
  onSet,
}: {
  note: Note;
  shot: Sheet['shot'];
  onSet: (fields: Fields) => void;
}): VNode {
  const byHand = correctedFields(note);
  const asked = askedFields(note);
  const { confidence } = note;
  const about = (name: keyof Fields, sure?: number) => ({
    sure,
    byHand: byHand.includes(name),
    asked: asked.includes(name),
  });
  const characters = [
    ...new Set([...shot.characters.map(({ name }) => name), ...(note.character ? [note.character] : [])]),
  ];
  return (
    <div class="understood">
      <Field label="Title" {...about('title')}>
        <TextBox
          label="Title"
          value={note.title}
          onSet={(title) => title.trim() && onSet({ title: title.trim() })}
        />
      </Field>
      <Field label="Role" {...about('role', confidence.role)}>
        <Choose
          label="Role"
          value={note.role}
          values={['fix', 'keep']}
          says={{ fix: 'to change', keep: 'to leave alone' }}
          onChoose={(role) => role && onSet({ role })}
        />
        <label class="switch">
          <input
            type="checkbox"
            checked={note.withdrawn}
            onChange={({ currentTarget }) => onSet({ withdrawn: currentTarget.checked })}
          />{' '}
          taken back
        </label>
      </Field>
      <Field label="Kind" {...about('issue', confidence.issue)}>
        <Choose
          label="Kind"
          value={note.issue}
          values={ISSUES}
          says={FAULTS}
          none="not known"
          onChoose={(issue) => onSet({ issue })}
        />
      </Field>
      <Field label="Character" {...about('character')}>
        <Choose
          label="Character"
          value={note.character}
          values={characters}
          none="not said"
          onChoose={(character) => onSet({ character })}
        />
      </Field>
      <Field label="Parts" {...about('body', confidence.body)}>
        <PartFields body={note.body} onSet={(body) => onSet({ body })} />
      </Field>
      <Field label="Frames" {...about('frames', note.frames ? confidence.frames : undefined)}>
        <FrameFields frames={note.frames} onSet={(frames) => onSet({ frames })} />
      </Field>
      <Field label="Amount" {...about('amount')}>
        <AmountFields amount={note.amount} onSet={(amount) => onSet({ amount })} />
      </Field>
      <Field label="Strength" {...about('strength', confidence.strength)}>
        <Choose
          label="Strength"
          value={note.strength}
          values={STRENGTHS}
          says={{ must: 'has to be done', should: 'should be done', could: 'if there is time' }}
          onChoose={(strength) => strength && onSet({ strength })}
        />
      </Field>
      <Field label="Basis" {...about('basis', confidence.basis)}>
        <Choose
          label="Basis"
          value={note.basis}
          values={BASES}
          says={{ technical: 'an error of craft', taste: 'a matter of taste' }}
          onChoose={(basis) => basis && onSet({ basis })}
        />
      </Field>
      <Field label="Ways out" {...about('options')}>
        <TextBox
          label="Ways out, one on each line"
          value={note.options.join('\n')}
          lines={Math.max(1, note.options.length)}
          onSet={(text) =>
            onSet({
              options: text
                .split('\n')
                .map((line) => line.trim())
                .filter(Boolean),
            })
          }
        />
      </Field>
    </div>
  );
}
