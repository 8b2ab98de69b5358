import { useEffect, useRef } from 'preact/hooks';

/** Every key, in the order of the help. */
export const KEYS = {
  right: { key: 'Enter', says: 'right as it is, and on to the next' },
  reading: { key: '1 – 9', says: 'take another reading' },
  play: { key: 'Space', says: 'play or stop the words' },
  next: { key: 'n', says: 'next note' },
  previous: { key: 'p', says: 'previous note' },
  edit: { key: 'e', says: 'set the fields' },
  turn: { key: 'k', says: 'turn keep into fix, or back' },
  drop: { key: 'd', says: 'this is no note' },
  word: { key: 'w', says: 'fix a misheard word' },
  split: { key: 's', says: 'split before a word' },
  join: { key: 'j', says: 'join with another note' },
  add: { key: 'a', says: 'add a note that was missed' },
  undo: { key: 'u', says: 'undo the last thing done' },
  help: { key: '?', says: 'show or hide the keys' },
} as const;
export type KeyName = keyof typeof KEYS;

export type Actions = Readonly<Record<Exclude<KeyName, 'reading'>, () => void>> & {
  readonly reading: (number: number) => void;
  readonly escape: () => void;
};

const BY_KEY = new Map(Object.entries(KEYS).map(([name, { key }]) => [key === 'Space' ? ' ' : key, name]));

/** Makes keys act while `on`; never where a person is typing, and never instead of what a button or a choice does. */
export function useKeys(actions: Actions, on: boolean): void {
  const newest = useRef(actions);
  newest.current = actions;
  useEffect(() => {
    const act = (event: KeyboardEvent): void => {
      if (event.key === 'Escape') newest.current.escape();
      if (!on || event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return;
      const { target } = event;
      if (!(target instanceof HTMLElement) || target.closest('input, select, textarea, dialog')) return;
      // A button, a link or a summary does its own thing on these two.
      const isPress = event.key === 'Enter' || event.key === ' ';
      if (isPress && target.closest('button, a, summary') && !target.closest('[data-word]')) return;
      if (/^[1-9]$/.test(event.key)) {
        event.preventDefault();
        newest.current.reading(Number(event.key));
        return;
      }
      const name = BY_KEY.get(event.key);
      const action = isAction(name) ? newest.current[name] : undefined;
      if (!action) return;
      event.preventDefault();
      action();
    };
    document.addEventListener('keydown', act);
    return () => document.removeEventListener('keydown', act);
  }, [on]);
}

function isAction(name: string | undefined): name is Exclude<KeyName, 'reading'> {
  return name !== undefined && name !== 'reading' && name in KEYS;
}
