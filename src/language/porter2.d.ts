declare module 'wink-porter2-stemmer' {
  /** The stem of one lower-case English word (Porter's second algorithm). */
  export default function stem(word: string): string;
}
