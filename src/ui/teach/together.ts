/** Figures keep together with their units where a line ends: the thin space between them is made one that does not break. */
export const together = (words: string): string => words.replaceAll('\u2009', '\u00a0');
