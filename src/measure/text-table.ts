const GAP = '  ';

/**
 * Rows of cells under one another: the first column begins at the left, the others, mostly numbers, end at the right.
 *
 * @param texts Columns that begin at the left too.
 */
export function inColumns(rows: readonly (readonly string[])[], texts: readonly number[] = []): string {
  const columns = Math.max(0, ...rows.map((row) => row.length));
  const widths = Array.from({ length: columns }, (_, column) =>
    Math.max(...rows.map((row) => row[column]?.length ?? 0)),
  );
  return rows
    .map((row) =>
      row
        .map((cell, column) => {
          const width = widths[column] ?? 0;
          return column === 0 || texts.includes(column) ? cell.padEnd(width) : cell.padStart(width);
        })
        .join(GAP)
        .trimEnd(),
    )
    .map((line) => `  ${line}`.trimEnd())
    .join('\n');
}
