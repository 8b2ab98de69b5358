/**
 * Waits for work that cannot be stopped half-way, no longer than until a signal. What the work comes to after that is passed over.
 *
 * @throws the signal's reason as soon as it is aborted; otherwise what the work throws
 */
export async function untilAborted<T>(work: Promise<T>, signal: AbortSignal | undefined): Promise<T> {
  if (!signal) return work;
  // Whoever left the work behind must not be told of its failure a second time.
  work.catch(() => undefined);
  signal.throwIfAborted();
  let stop: () => void = () => undefined;
  const aborted = new Promise<never>((_, reject) => {
    stop = () => reject(signal.reason);
    signal.addEventListener('abort', stop, { once: true });
  });
  return Promise.race([work, aborted]).finally(() => signal.removeEventListener('abort', stop));
}
