import type { ZodType, z } from 'zod';

/** A damaged file may have any number of keys that nobody knows. */
const KEYS_TOLD = 3;

type Issue = z.core.$ZodIssue;

/** Says in a sentence's middle what is wrong with a value that a schema refused, with the key and the value found. */
export function describeIssue(issue: Issue, schema: ZodType, value: unknown): string {
  const place = placeName(issue.path);
  const found = shorten(valueAt(value, issue.path));
  switch (issue.code) {
    case 'unrecognized_keys':
      return describeUnknownKeys(issue.keys, issue.path, schema);
    case 'invalid_type':
      if (found === undefined) return `${place} is missing (${typeName(issue.expected)})`;
      return `${place} must be ${typeName(issue.expected)}, not ${found}`;
    case 'too_small':
      if (issue.origin === 'number') {
        return `${place} must be ${issue.inclusive ? 'at least' : 'more than'} ${issue.minimum}, not ${found}`;
      }
      return `${place} must not be empty`;
    case 'too_big':
      return `${place} must be at most ${issue.maximum}, not ${found}`;
    case 'invalid_value':
      return `${place} must be ${issue.values.map((one) => JSON.stringify(one)).join(' or ')}, not ${found ?? 'missing'}`;
    case 'custom':
      return `${place}: ${issue.message} (it is ${found})`;
    default:
      return `${place}: ${issue.message}`;
  }
}

function describeUnknownKeys(keys: readonly string[], path: readonly PropertyKey[], schema: ZodType): string {
  const allowed = allowedKeys(schema, path);
  const where = path.length > 0 ? ` in ${placeName(path)}` : ' here';
  const unknown = [
    ...keys.slice(0, KEYS_TOLD).map((key) => shorten(key)),
    ...(keys.length > KEYS_TOLD ? [`${keys.length - KEYS_TOLD} more`] : []),
  ].join(', ');
  const verb = keys.length > 1 ? 'are not among the keys known' : 'is not a key known';
  return `${unknown} ${verb}${where}, which are ${allowed.join(', ')}`;
}

function placeName(path: readonly PropertyKey[]): string {
  if (path.length === 0) return 'the whole file';
  const parts = path.map((key, i) =>
    typeof key === 'number' ? `[${key}]` : `${i > 0 ? '.' : ''}${String(key)}`,
  );
  return `"${parts.join('')}"`;
}

function valueAt(value: unknown, path: readonly PropertyKey[]): unknown {
  let here = value;
  for (const key of path) here = (here as Record<PropertyKey, unknown> | null | undefined)?.[key];
  return here;
}

function shorten(value: unknown): string | undefined {
  if (value === undefined) return undefined;
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object' && value !== null) return 'an object';
  const text = typeof value === 'string' ? JSON.stringify(value) : String(value);
  return text.length > 40 ? `${text.slice(0, 37)}…` : text;
}

const TYPE_NAMES: Readonly<Record<string, string>> = {
  string: 'a text in quotes',
  number: 'a number',
  int: 'a whole number',
  array: 'a list in [ ]',
  object: 'an object in { }',
  boolean: 'true or false',
};

function typeName(expected: string): string {
  return TYPE_NAMES[expected] ?? expected;
}

/** The part of a zod schema that leads from an object or a list to what is inside it. */
interface Layer {
  readonly shape?: Readonly<Record<string, Layer>>;
  readonly element?: Layer;
  unwrap?(): Layer;
}

function allowedKeys(schema: ZodType, path: readonly PropertyKey[]): string[] {
  let here: Layer | undefined = bare(schema as unknown as Layer);
  for (const key of path) {
    here = typeof key === 'number' ? here?.element : here?.shape?.[String(key)];
    here = here && bare(here);
  }
  return Object.keys(here?.shape ?? {});
}

/** A layer without "optional", "default" and the like around it; lists unwrap to their element, which is not wanted. */
function bare(layer: Layer): Layer {
  let here = layer;
  while (!here.element && here.unwrap) here = here.unwrap();
  return here;
}
