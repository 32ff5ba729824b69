/** What shakes, why a source has no name, and what another run at another speed says of it. Figures come printed, without their unit. */

const wheelFaults = ['once a turn (out of round or a flat)', 'twice a turn (oval)'];

/** Causes as they stand within a sentence. */
export const namedCauseTexts = {
  /** @param order multiple of the wheel's turn */
  wheel: (order: number): string =>
    `a wheel, ${wheelFaults[order - 1] ?? `${order} times a turn (as many lobes)`}`,
  /** @param order multiple of the beat of the joints */
  joint: (order: number): string =>
    order === 1 ? 'joints of the floor' : `joints of the floor, ${order} times their beat`,
  machine: (number: number): string => `machine ${number} of those given`,
  mount: 'the mount of the camera, ringing',
  lamp: 'a lamp that flickers, no motion',
  unknown: 'something unlisted',
  atHz: (cause: string, hz: string): string => `${cause} (${hz} Hz)`,
} as const;

/** Why a source has no name. */
export const unnamedSourceTexts = {
  passTooShort: (passS: string, leastS: string): string =>
    `The pass lasts ${passS} s: below ${leastS} s no cause is named.`,
  tooFewCycles: (cycles: string, least: string): string =>
    `The pass holds ${cycles} cycles of it: below ${least} no cause is named.`,
  twoCauses: (first: string, second: string): string =>
    `Two causes stand at the same place: ${first} and ${second}. A pass at 1.2 times the speed tells them apart.`,
  tooUnsure: (cause: string, percent: number): string =>
    `Most likely ${cause}, at ${percent} % too unsure to name.`,
  rippleOfAxles: 'It may be a ripple that the two axles print on the spectrum of any floor.',
  nothingGiven:
    'Nothing was given that it could be: give wheel diameter, joint spacing or frequencies of machines.',
  nothingFits: (hz: string): string => `Nothing that was given shakes at ${hz} Hz.`,
  secondMount: (mountHz: string): string =>
    `A resonance, but the mount rings at ${mountHz} Hz: a second one has no name here.`,
} as const;

/** What holds for the names of all sources of a pass. */
export const namingTexts = {
  shortPass: (passS: string, betterS: string): string =>
    `Short pass (${passS} s): about 1 name in 10 is wrong. Film ${betterS} s or more.`,
  speedUnknown:
    'The speed is not known: wheels and joints cannot be named, only machines, the mount and lamps. Give the speed or the travel.',
  jointsTooSlow: (spacingM: string, mps: string): string =>
    `Joints every ${spacingM} m beat too slowly at ${mps} m/s to stand apart in this pass: see the list of joints of the floor.`,
  and: ' and ',
  /** @param resonance axes that show a resonance @param line axes that show a line */
  axesDisagree: (
    hz: string,
    resonance: string,
    line: string,
    together: 'resonance' | 'line',
    percent: number,
  ): string =>
    `At ${hz} Hz ${resonance} shows a resonance and ${line} a line: the axes together say a ${together} (${percent} %).`,
} as const;

/** What another run says of a source. */
export const otherRunTexts = {
  speedUnknown:
    'The speed of one of the runs is not known: what keeps its frequency cannot be told from what keeps its wavelength.',
  speedsTooNear: (times: string, needed: number): string =>
    `The two speeds are only ${times} times apart: ${needed} times or more are needed.`,
  fitsBoth: (otherHz: string): string =>
    `The peak at ${otherHz} Hz of the other run fits a constant frequency as well as a constant wavelength.`,
  byChance: (otherHz: string): string =>
    `The peak at ${otherHz} Hz of the other run may be another source that stands there by chance.`,
  noPeakNoSpeed: (hz: string): string => `The other run shows no peak at ${hz} Hz, and a speed is not known.`,
  fitsBadly: 'The peaks of the other run fit it too badly to be its own, too well to rule them out.',
  gone: (sameHz: string, sameWaveHz: string): string =>
    `The other run shows no peak at ${sameHz} Hz (same frequency) nor at ${sameWaveHz} Hz (same wavelength): gone, or too weak there.`,
  /** @param end one of the three below */
  hidden: (hz: string, end: string): string =>
    `At the speed of the other run the floor or the wheels would shake at ${hz} Hz, ${end}.`,
  belowSearch: (lowestHz: string): string => `below the ${lowestHz} Hz from which peaks are looked for there`,
  pastFrames: (highestHz: string): string => `past the ${highestHz} Hz that its frames can show`,
  axlesCancel: 'where the two axles cancel on this axis',
} as const;
