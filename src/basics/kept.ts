import type { ZodType } from 'zod';

/** Something a result is made of, in plain JSON. */
export type Ingredient =
  | string
  | number
  | boolean
  | null
  | readonly Ingredient[]
  | { readonly [name: string]: Ingredient };

/** All that a result depends on, but the code that makes it: a result is found again by these and by nothing else. */
export type Ingredients = { readonly [name: string]: Ingredient };

/** A kind of result that costs enough to be kept from one run to the next. */
export interface KeptKind<T> {
  /** Lower-case letters and '-'. */
  readonly name: string;
  /** Raised when the same ingredients may come out otherwise; results of other versions are not found. */
  readonly version: number;
  /** The result as JSON. */
  readonly schema: ZodType<T>;
}

/**
 * Where results are kept. Nothing here ever fails the work: what cannot be read is made again, and what cannot be
 * written is not kept.
 */
export interface Kept {
  /** The result, or undefined where it is not there or not whole. */
  get<T>(kind: KeptKind<T>, of: Ingredients): Promise<T | undefined>;
  put<T>(kind: KeptKind<T>, of: Ingredients, result: T): Promise<void>;
  /** Puts a result away that will not be asked for again. */
  drop<T>(kind: KeptKind<T>, of: Ingredients): Promise<void>;
}

/** A result that was kept, or else one made now, which is then kept. */
export async function keptOr<T>(
  kept: Kept | undefined,
  kind: KeptKind<T>,
  of: () => Ingredients,
  make: () => Promise<T>,
): Promise<T> {
  if (!kept) return make();
  const ingredients = of();
  const known = await kept.get(kind, ingredients);
  if (known !== undefined) return known;
  const made = await make();
  await kept.put(kind, ingredients, made);
  return made;
}

/**
 * The same place for the steps towards a larger result, which notes what goes through it.
 *
 * @returns `putAway` drops every step; call it when the larger result is kept, which makes them useless.
 */
export function keptSteps(kept: Kept): { readonly steps: Kept; readonly putAway: () => Promise<void> } {
  const drops: (() => Promise<void>)[] = [];
  const note = <T>(kind: KeptKind<T>, of: Ingredients) => void drops.push(() => kept.drop(kind, of));
  return {
    steps: {
      get(kind, of) {
        note(kind, of);
        return kept.get(kind, of);
      },
      put: (kind, of, result) => kept.put(kind, of, result),
      drop: (kind, of) => kept.drop(kind, of),
    },
    async putAway() {
      for (const drop of drops.splice(0)) await drop();
    },
  };
}
