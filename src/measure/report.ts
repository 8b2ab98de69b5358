import { COLUMN_GROUPS, type Column, type ColumnGroup } from './columns.ts';
import type { Confusion } from './confusion.ts';
import type { Measurement } from './measure.ts';
import type { Miss, WrongTag } from './miss.ts';
import type { Reliability } from './reliability.ts';
import type { Figures } from './score.ts';
import { inColumns } from './text-table.ts';

const NOTHING = '-';
const PLACES = 3;
/** A note's words can fill a screen; the whole of them is in the JSON form. */
const LONGEST_TEXT = 400;

/** A measurement as plain text to read in a terminal. */
export function reportOf(measurement: Measurement): string {
  const { critiques, segments, notes, confusion, reliability, worst } = measurement;
  const parts = [
    `${critiques.length === 1 ? '1 critique' : `${critiques.length} critiques`}, ${segments} segments, ${notes} notes.`,
    ...COLUMN_GROUPS.map((group) => figuresTable(group, measurement)),
    section('Roles: labelled (down), given (across)', roleTable(confusion.role)),
    section('Issues of the fixes found: labelled, and what they were taken for', issueTable(confusion.issue)),
    section('Reliability: of the tags so sure, the share that was right', reliabilityTable(reliability)),
    missList('Notes lost, the main things first', worst.lost),
    missList('Notes invented, the highest ranked first', worst.invented),
    missList('Wrong tags, the surest first', worst.wrongTags),
    missList('Wrong tags that carry no confidence, the main things first', worst.otherWrongTags),
  ];
  return parts.join('\n\n');
}

function section(title: string, text: string): string {
  return `${title}\n${text}`;
}

function figuresTable({ title, columns }: ColumnGroup, { critiques, inAll }: Measurement): string {
  const row = (name: string, figures: Figures): string[] => [
    name,
    ...columns.map((column) => figureText(column.of(figures), column)),
  ];
  const rows = [
    ['', ...columns.map(({ heading }) => heading)],
    ...critiques.map(({ name, figures }) => row(name, figures)),
    row('in all', inAll),
    [
      'to reach',
      ...columns.map((column) => (column.reach === undefined ? '' : figureText(column.reach, column))),
    ],
  ];
  const said = columns.filter(({ says }) => says !== '').map(({ heading, says }) => `${heading}: ${says}`);
  return section(title, `${inColumns(rows)}\n(${said.join('; ')})`);
}

function figureText(figure: number | null, { isCount }: Pick<Column, 'isCount'> = {}): string {
  return figure === null ? NOTHING : isCount ? String(figure) : figure.toFixed(PLACES);
}

function roleTable(confusion: Confusion): string {
  const given = new Set(Object.values(confusion).flatMap((row) => Object.keys(row)));
  const across = [...new Set([...Object.keys(confusion), ...given])];
  return inColumns([
    ['', ...across],
    ...Object.entries(confusion).map(([gold, row]) => [
      gold,
      ...across.map((got) => String(row[got] ?? NOTHING)),
    ]),
  ]);
}

/** Twenty-two columns would not fit a terminal: each row names what it was taken for instead. */
function issueTable(confusion: Confusion): string {
  return inColumns(
    [
      ['', 'times', 'right', 'taken for'],
      ...Object.entries(confusion).map(([gold, row]) => {
        const others = Object.entries(row).filter(([got]) => got !== gold);
        others.sort((a, b) => b[1] - a[1]);
        const times = Object.values(row).reduce((sum, count) => sum + count, 0);
        return [
          gold,
          String(times),
          String(row[gold] ?? 0),
          others.map(([got, count]) => `${got} ${count}`).join(', '),
        ];
      }),
    ],
    [3],
  );
}

function reliabilityTable({ overall, byTag }: Measurement['reliability']): string {
  const named: [string, Reliability][] = [...Object.entries(byTag), ['overall', overall]];
  const rows = overall.bins.map(({ from, to }, i) => [
    `${from.toFixed(1)} to ${to.toFixed(1)}`,
    ...named.map(([, { bins }]) => {
      const bin = bins[i];
      return bin && bin.right !== null ? `${bin.right.toFixed(2)} of ${bin.count}` : NOTHING;
    }),
  ]);
  return inColumns([
    ['confidence', ...named.map(([name]) => name)],
    ...rows,
    ['cal err', ...named.map(([, { error }]) => figureText(error))],
  ]);
}

function missList(title: string, misses: readonly (Miss | WrongTag)[]): string {
  if (misses.length === 0) return section(title, '  none');
  return section(title, misses.map(missText).join('\n'));
}

function missText(miss: Miss | WrongTag): string {
  const { critique, goldNote, note, gold, got, words } = miss;
  const sure = 'tag' in miss && miss.confidence !== null ? ` at ${miss.confidence.toFixed(2)}` : '';
  const tag = 'tag' in miss ? ` ${miss.tag}${sure}` : '';
  const ids = [goldNote && `gold ${goldNote}`, note && `note ${note}`].filter(Boolean).join(', ');
  return `  ${critique}${tag} (${ids})\n    gold:  ${gold}\n    got:   ${shorten(got)}\n    words: ${shorten(words)}`;
}

function shorten(text: string): string {
  return text.length <= LONGEST_TEXT ? text : `${text.slice(0, LONGEST_TEXT).trimEnd()}…`;
}
