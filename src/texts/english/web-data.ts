/** Sentences about the files that the local page keeps in the data folder. */
export const dataTexts = {
  setAside: (file: string, aside: string): string =>
    `"${file}" is damaged, or of another version; it was moved to "${aside}" and a new one is begun.`,
  /** @param why a sentence */
  queueNotKept: (why: string): string =>
    `What waits to be measured is not safe against the end of the program: ${why}`,
  taken: (names: readonly string[]): string =>
    `Clips that were sent before and stood on no list are taken back: ${names.map((name) => `"${name}"`).join(', ')}.`,
} as const;
