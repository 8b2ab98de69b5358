/** One written form of a record. */
export interface Writer<T> {
  /** What the file's name ends with, after the recording's name. */
  readonly ending: string;
  /** What it is for, in a few words. */
  readonly says: string;
  /** What of the record it cannot hold; null where it holds everything. */
  readonly leavesOut: string | null;
  write(record: T): string;
  /** Whether a text is one that was written so and not edited since, where the text alone can tell. */
  owns?(text: string): boolean;
}
