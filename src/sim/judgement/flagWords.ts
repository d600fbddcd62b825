/** What the judgement has to say about itself, one sentence a flag. */

export const JUDGEMENT_FLAGS = [
  'off',
  'behind',
  'hidden',
  'diffused',
  'tooSmall',
  'barsMelt',
  'reversed',
  'unevenGrowth',
  'cutBySurface',
  'storyEdgeAssumed',
  'reflectanceAssumed',
] as const;
export type JudgementFlag = (typeof JUDGEMENT_FLAGS)[number];

/** Flags that the verdict's own sentence tells already have no words here. */
const FLAG_WORDS: Readonly<Record<JudgementFlag, string | null>> = {
  off: 'The lamp is off; judged as if at full.',
  behind: null,
  hidden: null,
  diffused: null,
  tooSmall: null,
  barsMelt: 'The bars’ shadows melt into each other: no part of the patch is fully lit.',
  reversed: 'The far end is hotter than the near one.',
  unevenGrowth: 'Shadows grow unevenly: more at the far end than at the near one.',
  cutBySurface: 'The patch runs off this surface; the figures are of the part that lies on it.',
  storyEdgeAssumed: 'The distance of the story’s window is assumed: 3 m.',
  reflectanceAssumed: 'The surface states no reflectance; 50 % is assumed.',
};

/** Sentences about a check, in the order of its flags. */
export const flagWords = (check: { readonly flags: readonly JudgementFlag[] }): string[] =>
  check.flags.flatMap((flag) => FLAG_WORDS[flag] ?? []);
