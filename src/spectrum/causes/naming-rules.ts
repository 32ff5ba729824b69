/** What the naming of causes takes for granted before it sees a peak: weights, tolerances and limits, in hertz and shares. */

/** How causes are weighed and when one is named. */
export interface NamingRules {
  /** Weight of a wheel's first, second ... multiple of its turn. */
  readonly wheelOrders: readonly number[];
  /** Highest multiple of the joints' beat that is looked at; teeth past half the frame rate fold back. */
  readonly jointOrdersUpTo: number;
  /** ... and how far above half the frame rate teeth are looked at, as a share of it. */
  readonly jointTopNyquists: number;
  /** Weight of each class among the peaks of a pass in which it is at work; normalised over those that are. */
  readonly classWeights: Readonly<
    Record<'wheel' | 'joint' | 'machine' | 'mount' | 'lamp' | 'unknown', number>
  >;
  /** Probability beforehand that a wheel shakes, that joints do, when their sizes are known. */
  readonly wheelAtWork: number;
  readonly jointsAtWork: number;
  /** Standard deviations of expected frequencies, as a share: what is left of diameter, spacing, machine and mount. */
  readonly wheelSdShare: number;
  readonly jointSdShare: number;
  readonly machineSdShare: number;
  readonly mountSdShare: number;
  readonly lampSdHz: number;
  /** Where mounts ring when nobody knows, hertz. */
  readonly mountBandHz: readonly [number, number];
  /** How many times as common unlisted peaks are where the two axles may print ripples that look like peaks. */
  readonly rippleWeight: number;
  /** One error of the speed for all peaks; false lets each peak choose its own. */
  readonly sharedSpeed: boolean;
  /** A cause is named above this. */
  readonly nameAbove: number;
  /** No probability is printed above this: measured, claims above it were right in 94 of 100. */
  readonly probabilityCap: number;
  /** A second listed cause at the same place, at least this likely, forbids the name of the first. */
  readonly rivalFrom: number;
  /** Shorter passes name nothing, seconds; nor do peaks of fewer cycles. */
  readonly leastDurationS: number;
  readonly leastCycles: number;
}

/**
 * Own rules, tuned on simulated passes. Wrong names of true peaks of tilt, from the series on: 7 % at 5 s, 3 % at 10 s, 1 % at 20 s;
 * peaks that nothing made, beside a mount that rings, get a name in 1 of 2.
 */
export const NAMING_RULES: NamingRules = {
  wheelOrders: [0.45, 0.25, 0.2, 0.1],
  jointOrdersUpTo: Infinity,
  jointTopNyquists: 1.2,
  classWeights: { wheel: 0.35, joint: 0.4, machine: 0.25, mount: 0.2, lamp: 0.25, unknown: 0.2 },
  wheelAtWork: 0.6,
  jointsAtWork: 0.3,
  wheelSdShare: 0.007,
  jointSdShare: 0.007,
  machineSdShare: 0.003,
  mountSdShare: 0.04,
  lampSdHz: 0.02,
  mountBandHz: [3, 12.5],
  rippleWeight: 4,
  sharedSpeed: true,
  nameAbove: 0.7,
  probabilityCap: 0.95,
  rivalFrom: 0.1,
  leastDurationS: 5,
  leastCycles: 8,
};
