/** Cautions about a judgement in one sentence each. */
const FLAG_WORDS: Readonly<Record<string, string>> = {
  cutBySurface: 'The patch runs off this surface; the figures are of the part that lies on it.',
  barsMelt: 'The bars’ shadows melt into each other: no part of the patch is fully lit.',
  tooSmall: 'The patch is smaller than a hand; it is not scored.',
  off: 'The lamp is off; judged as if at full.',
  veil: 'Diffused light lifts the shadows; the figures are of the direct light.',
  behind: 'The lamp throws no light on the face that is shown.',
  hidden: 'Something blocks the lamp: no patch here.',
  diffused: 'No shaft: this is soft window light, not sun.',
  reversed: 'The far end is hotter than the near one.',
  edgeSeen: 'Another lamp throws an edge on the patch.',
  severalSmallTells: 'Several small tells.',
  edgeDistanceAssumed: 'The distance of the story’s window is assumed.',
};
/** @returns the sentence of a known flag, an empty list for one that the sentence of the verdict tells already */
export const flagWords = (flag: string): string[] => {
  const words = Object.hasOwn(FLAG_WORDS, flag) ? FLAG_WORDS[flag] : undefined;
  return words === undefined ? [] : [words];
};
