/** How runs were grouped for a comparison, what was taken where a sheet names nothing, and what a comparison holds for. Figures come printed, without their unit. */

/** Names of groups. */
export const groupNameTexts = {
  unnamed: (by: string): string => `${by} not named`,
  unnamedLane: 'not named',
  /** Where lanes or floors are compared: passes without a setup, and the setup of a plan that nobody named. */
  allPasses: 'all passes',
  theSetup: 'the setup',
  speed: (mps: string): string => `${mps} m/s`,
  wheelbase: (mm: string): string => `${mm} mm`,
  lens: (mm: string): string => `${mm} mm lens (36 mm wide)`,
} as const;

/** Warnings of a comparison on how its runs were taken together. */
export const groupingTexts = {
  /** @param by what the runs are grouped by; null where each is by itself */
  comparedBy: (by: string | null): string =>
    `Fewer than two setups are named on the sheets, so ${by === null ? 'each run is compared with each' : `the runs are compared by ${by}`}; name setups with --setups.`,
  groupUnnamed: (by: string, count: number): string =>
    count === 1
      ? `One run names no ${by}; it is a group by itself.`
      : `${count} runs name no ${by}; they are one group.`,
  placesCompared: (by: 'lane' | 'floor'): string =>
    `${by === 'lane' ? 'Lanes' : 'Floors'} are compared with each other: each result holds for the stretches that were rolled and for no other floor.`,
  noLaneNamed: (floors: number): string =>
    `The runs name no lane: they are taken as the same lane${floors > 1 ? ' of their floor' : ''} because none was named. If they were not, name lanes with --lanes.`,
  someLanesUnnamed: (unnamed: number, runs: number, floors: number): string =>
    `${unnamed} of ${runs} runs ${
      unnamed === 1
        ? 'names no lane: it is taken as a lane of its own'
        : `name no lane: they are taken as one lane${floors > 1 ? ' of their floor' : ''},`
    } beside the lanes that are named. If that is not so, name lanes with --lanes.`,
  logNotRead: (reason: string): string =>
    `The log could not be asked how much passes differ, so that is assumed. ${reason}`,
} as const;
