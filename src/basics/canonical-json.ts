/**
 * JSON with the keys of every object in the order of the alphabet, so that equal values are equal texts however they were
 * put together: for checksums, never for files that people read. Keys that are undefined are left out.
 */
export function canonicalJson(value: unknown): string {
  return JSON.stringify(value, (_, inner: unknown) =>
    inner !== null && typeof inner === 'object' && !Array.isArray(inner)
      ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1)))
      : inner,
  );
}
