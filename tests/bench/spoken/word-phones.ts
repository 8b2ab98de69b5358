/** A sound of speech and when it was made, in seconds. */
export interface Phone {
  readonly name: string;
  readonly start: number;
  readonly end: number;
}

/** The phones of what flite prints with `-psdur` ("pau:0.184 dh:0.246 …"), pauses left out. */
export function phonesOf(printed: string): Phone[] {
  let start = 0;
  return printed
    .trim()
    .split(/\s+/)
    .flatMap((item) => {
      const [name = '', time = '0'] = item.split(':');
      const phone = { name, start, end: Number(time) };
      start = phone.end;
      return name === 'pau' ? [] : [phone];
    });
}

/**
 * The word of each phone, by the cheapest line-up of what was said with the words said alone (Levenshtein's table).
 * @param alone the phones of each word said alone, in the order of the words
 * @returns for each phone said the index of its word
 */
export function wordOfPhone(
  said: readonly string[],
  alone: readonly { name: string; word: number }[],
): number[] {
  const cost = Array.from({ length: said.length + 1 }, (_, i) =>
    Array.from({ length: alone.length + 1 }, (_, j) => (i === 0 ? j : j === 0 ? i : 0)),
  );
  const at = (i: number, j: number): number => cost[i]?.[j] ?? Number.POSITIVE_INFINITY;
  const change = (i: number, j: number): number =>
    at(i - 1, j - 1) + (said[i - 1] === alone[j - 1]?.name ? 0 : 1);
  for (let i = 1; i <= said.length; i++) {
    for (let j = 1; j <= alone.length; j++) {
      const row = cost[i];
      if (row) row[j] = Math.min(change(i, j), at(i - 1, j) + 1, at(i, j - 1) + 1);
    }
  }
  const words: number[] = [];
  let [i, j] = [said.length, alone.length];
  while (i > 0) {
    if (j > 0 && at(i, j) === change(i, j)) {
      words[--i] = alone[--j]?.word ?? 0;
    } else if (j > 0 && at(i, j) === at(i, j - 1) + 1) j--;
    else words[--i] = alone[Math.max(j - 1, 0)]?.word ?? 0;
  }
  return words;
}
