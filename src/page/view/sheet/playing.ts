import type { PageData } from '../../../sheet/writers/html/page-data.ts';
import { Player } from '../player.ts';
import { soundOf } from './sound.ts';
import { wordAt, wordElements } from './words.ts';

/** Seconds heard before a clicked word: a word that begins at once is not understood. */
const BEFORE_WORD = 0.25;

/** Makes play buttons and quoted words play, and marks the word that is being said. */
export function startPlaying(data: PageData): void {
  const find = soundOf(data);
  if (!find) return;
  document.documentElement.classList.add('with-sound');
  const player = new Player(find);
  let pressed: HTMLElement | null = null;

  const play = (quote: HTMLElement, from: number): void => {
    const words = wordElements(quote);
    const [first = 0, last = 0] = (quote.dataset.words ?? '').split('-').map(Number);
    const line = quote.closest('li');
    const button = line?.querySelector<HTMLElement>('.play') ?? null;
    let marked: HTMLElement | undefined;
    const span = { start: Number(quote.dataset.start), end: Number(quote.dataset.end) };
    void player.play(span, from, {
      onTime: (seconds) => {
        const word = words?.get(wordAt(data.times, first, last, seconds));
        if (word === marked) return;
        marked?.classList.remove('saying');
        word?.classList.add('saying');
        marked = word;
      },
      onEnd: (fault) => {
        marked?.classList.remove('saying');
        line?.classList.remove('playing');
        button?.removeAttribute('aria-pressed');
        pressed = null;
        if (fault && line) tellFault(line, fault);
      },
    });
    // Only now: beginning to play ended what played before, which took its own marks away.
    pressed = button;
    line?.classList.add('playing');
    button?.setAttribute('aria-pressed', 'true');
  };

  document.addEventListener('click', ({ target }) => {
    if (!(target instanceof Element)) return;
    const button = target.closest<HTMLElement>('.play');
    if (button) {
      const quote = button.parentElement?.querySelector('q');
      if (pressed === button) player.stop();
      else if (quote) play(quote, Number(quote.dataset.start));
      return;
    }
    const quote = target.closest<HTMLElement>('.words q');
    if (!quote || !document.getSelection()?.isCollapsed) return;
    const word = target.closest<HTMLElement>('[data-word]')?.dataset.word;
    const start = Number(quote.dataset.start);
    const from = word ? (data.times[2 * Number(word)] ?? 0) / 1000 - BEFORE_WORD : start;
    play(quote, Math.max(start, from));
  });
  // Words get their elements before the click that asks for one of them.
  document.addEventListener('pointerover', ({ target }) => {
    const quote = target instanceof Element ? target.closest<HTMLElement>('.words q') : null;
    if (quote) wordElements(quote);
  });
  document.addEventListener('keydown', (event) => {
    if (event.key === 'Escape' && player.playing) player.stop();
  });
}

function tellFault(line: HTMLElement, fault: string): void {
  let told = line.querySelector('.fault');
  if (!told) {
    told = document.createElement('span');
    told.className = 'fault';
    told.setAttribute('role', 'alert');
    line.append(told);
  }
  told.textContent = fault;
}
