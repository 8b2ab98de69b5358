import type { Box } from '../picture/picture.ts';

/** A stretch of ink in one row, and the number of the piece it belongs to. */
interface Run {
  readonly from: number;
  readonly to: number;
  readonly label: number;
}

/**
 * The boxes round pieces of ink that hang together, corners included (two-pass labelling of runs with union-find).
 * @param ink 1 for ink, row by row
 */
export function connectedBoxes(ink: Uint8Array, width: number, height: number): Box[] {
  const parents: number[] = [];
  const root = (label: number): number => {
    let at = label;
    for (let parent = parents[at] ?? at; parent !== at; parent = parents[at] ?? at) {
      parents[at] = parents[parent] ?? parent;
      at = parent;
    }
    return at;
  };
  const edges: { left: number; top: number; right: number; bottom: number }[] = [];
  let above: Run[] = [];
  for (let y = 0; y < height; y++) {
    const row: Run[] = [];
    let next = 0;
    for (let x = 0; x < width; x++) {
      if (!ink[y * width + x]) continue;
      const from = x;
      while (x < width && ink[y * width + x]) x++;
      let label = -1;
      while (next < above.length && (above[next]?.to ?? 0) < from) next++;
      for (let at = next; at < above.length && (above[at]?.from ?? width) <= x; at++) {
        const other = root(above[at]?.label ?? 0);
        if (label === -1) label = other;
        else parents[other] = label = root(label);
      }
      if (label === -1) {
        label = parents.length;
        parents.push(label);
        edges.push({ left: from, top: y, right: x, bottom: y + 1 });
      }
      const edge = edges[root(label)];
      if (edge) {
        edge.left = Math.min(edge.left, from);
        edge.right = Math.max(edge.right, x);
        edge.bottom = y + 1;
      }
      row.push({ from, to: x, label });
    }
    above = row;
  }
  return joined(edges, root);
}

function joined(
  edges: readonly { left: number; top: number; right: number; bottom: number }[],
  root: (label: number) => number,
): Box[] {
  const whole = new Map<number, { left: number; top: number; right: number; bottom: number }>();
  edges.forEach((edge, label) => {
    const of = root(label);
    const known = whole.get(of);
    if (!known) whole.set(of, { ...edge });
    else {
      known.left = Math.min(known.left, edge.left);
      known.top = Math.min(known.top, edge.top);
      known.right = Math.max(known.right, edge.right);
      known.bottom = Math.max(known.bottom, edge.bottom);
    }
  });
  return [...whole.values()].map(({ left, top, right, bottom }) => ({
    x: left,
    y: top,
    width: right - left,
    height: bottom - top,
  }));
}
