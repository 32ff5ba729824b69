/** What runs can be told apart by in a comparison. */

/** Everything that runs can be grouped by, in the order in which a difference is looked for. */
export const COMPARE_BY = [
  'setup',
  'wheels',
  'track',
  'speed',
  'floor',
  'lane',
  'wheelbase',
  'lens',
  'run',
] as const;

/** One of them. */
export type CompareBy = (typeof COMPARE_BY)[number];
