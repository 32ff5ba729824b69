/** Words of the published grades of a floor and of what other setups would make of it. */

/** Lengths that a standard names stay as it names them in every system of units: a number and its unit joined by U+202F. */
const nominal = (text: string): string => text.replace(/(?<=\d) (?=(?:mm|m|m\/s)\b)/g, '\u202f');

const ranged = (text: string, low: string, high: string): string => `${text} (${low} to ${high})`;

/** A row of the table: name, standard with its limits, what it is not. */
interface GradeWords {
  readonly name: string;
  readonly standard: string;
  readonly not: string;
}

/** Words of the grades. */
export const floorGradeTexts = {
  heading: 'Grades',
  caption: 'The floor by published standards, within the waves that this run shows',
  heads: ['Grade', 'This run', 'Standard and limits', 'What it is not'],
  classes: {
    name: 'Roughness class',
    standard:
      'ISO 8608 scale: class A 16e-6 m³ at 0.1 cycle/m (limits half and twice that), each class × 4; A-1, A-2 ... are our own steps, each ÷ 4',
    not: nominal(
      'The standard fits its line to waves of 0.35 to 91 m; this class stands for centimetres and decimetres',
    ),
  } satisfies GradeWords,
  classRange: ranged,
  /** @param rolled the class with joints and bumps counted; null where it is not known */
  classWords: (between: string, rolled: string | null): string =>
    `between joints ${between}${rolled === null ? '' : `, as rolled ${rolled}`}`,
  flatness: {
    name: 'Floor flatness FF',
    standard: nominal(
      'ASTM E1155: readings every 12 in, FF = 116 mm / (3 sd + mean) of the curvature; 20 ordinary, 35 flat, 60 super flat (ACI 117)',
    ),
    not: nominal(
      'Blind to ripple of 305 mm and its fractions, such as 300 mm tiles; the standard itself excludes floors of fixed-path vehicles',
    ),
  } satisfies GradeWords,
  flatnessFromRoughness: (ff: string, rolled: string | null, reason: string | null): string =>
    `about ${ff}${rolled === null ? '' : `, as rolled ${rolled}`}, from the roughness between joints. ${reason ?? ''}`,
  /** Too little of what the figure counts is there for any figure. @param pass that would hold enough, by `flatnessPass` */
  flatnessUntold: (heldPercent: string, neededPercent: string, pass: string | null): string =>
    `not enough of the needed waves: ${heldPercent} % of ${neededPercent} %${pass === null ? '' : `; ${pass}`}`,
  flatnessPass: (speedMps: string, lengthM: string): string =>
    `a pass of ${lengthM} m or more at about ${speedMps} m/s would hold them`,
  flatnessFromProfile: (ff: string, band: string, equivalent: string, curvature: string): string =>
    `${ff} from the profile: ${band}; ${equivalent} from the roughness${curvature}`,
  curvature: (over: string, mean: string, sd: string): string =>
    `; curvature over ${over}: mean ${mean}, sd ${sd}`,
  change: {
    name: nominal('Change over 300 mm'),
    standard: nominal(
      'TR34, property F, free movement: FM1 1.8 mm, FM2 2.0 mm, FM3 2.2 mm, FM4 2.4 mm (95 % is our reading)',
    ),
    not: 'No levelness survey',
  } satisfies GradeWords,
  changeWithin: (within: string, movement: string | null): string =>
    `95 % within ${within}${movement === null ? '' : `: ${movement}`}`,
  straightedgeName: (lengths: readonly string[]): string => nominal(`Gap under ${lengths.join(', ')}`),
  straightedgeFloors: {
    twoMetres: nominal(
      'BS 8204 under 2 m: SR1 3 mm, SR2 5 mm, SR3 10 mm; DIN 18202 table 3 between its points',
    ),
    other: 'DIN 18202 table 3, floors rows 1 to 4 (numbers of the older editions)',
    untold: nominal('DIN 18202 table 3; BS 8204 under 2 m'),
  },
  straightedgeNot: 'Along the wheel path only; sag longer than the waves shown is not in it',
  straightedgeUntoldNot: 'Not judged at all: lay a bar on the floor',
  straightedgeUntold: (shortest: string | null, reason: string | null): string =>
    `not shown. ${shortest === null ? '' : nominal(`${shortest}: `)}${reason ?? 'The band of the run is too narrow.'}`,
  gapBelow: (bound: string): string => `below ${bound}`,
  gap: (gap: string, within: string | null, at: string | null, most: string | null): string =>
    `${gap}${within === null ? '' : ` ± ${within}`}${at === null ? '' : ` at ${at}`}${most === null ? '' : `, 95 % of places within ${most}`}`,
  gapMeets: (gap: string, met: readonly string[]): string =>
    `${gap}; meets ${met.length > 0 ? met.join(', ') : 'no row for floors'}`,
  dinRow: (row: number, limit: string | null, span: string | null): string =>
    `DIN 18202 row ${row}${limit === null || span === null ? '' : ` (${nominal(limit)} at ${span})`}`,
  surfaceRegularity: (name: string): string => `BS 8204 ${name}`,
  rail: {
    name: 'Rail roughness',
    standard: nominal(
      'EN ISO 3095:2013 limit spectrum, one-third-octave bands, dB re 1 µm (the edition of 2015 in EU law prints other values above 400 mm)',
    ),
    not: 'No acoustic measurement as EN 15610 asks for; a floor need not meet it, a fine rail comes near',
  } satisfies GradeWords,
  railOutcome: { meets: 'meets the limit', exceeds: 'exceeds the limit', cannotTell: 'cannot be told' },
  railWords: (outcome: string, db: string, under: boolean, at: string, told: number, all: number): string =>
    `${outcome}, ${db} dB ${under ? 'under' : 'over'} at ${at} (${told} of ${all} bands told)`,
  texture: {
    name: 'Profile Rq',
    not: 'No surface texture by ISO 4287, whose cut-offs are a thousand times shorter',
  },
  textureWords: (rq: string, ra: string, rz: string, sections: number, noise: string): string =>
    `${rq} (Ra ${ra}, Rz ${rz} over ${sections} sections); the noise in it: ${noise}`,
  textureStandard: (cutoff: string, shortest: string): string =>
    `Gaussian profile filter of ISO 16610-21, cut-off ${cutoff}, waves down to ${shortest}`,
  spoken: {
    name: 'In a word',
    not: 'No verdict on this pass: lens, speed and dolly of the verdict are those of the clip',
  },
  spokenWords: (word: string, orBetter: boolean): string => `${word}${orBetter ? ' or better' : ''}`,
  spokenStandard: (steadyMm: number, croppedMm: number): string =>
    `our own, from the roughness as rolled: lenses up to ${steadyMm} mm stay steady to the pixel, with 5 % crop lenses up to ${croppedMm} mm (36 mm wide sensor, 1920 px, wheelbase 0.5 m, 0.3 m/s)`,
} as const;

/** Words of the table of other setups. */
export const floorSetupTexts = {
  heading: 'The same floor under another setup',
  caption: 'Shake that this floor makes, predicted from its roughness, joints and bumps',
  heads: [
    'Setup',
    'Against now',
    'Picture, px RMS',
    'Pitch, mdeg',
    'Roll, mdeg',
    'Largest kick by turning alone',
    'Takes for granted',
  ],
  now: 'now',
  ranged,
  note: 'Raw shake at the corners of the delivery before stabilising, RMS from 0.8 Hz to half the frame rate; 95 % ranges. Pitch and roll are the deck’s, which the camera shows as tilt and roll only when it looks ahead. “Against now” is the shake over that of this pass; kicks count by turning alone, without the parallax of the list above.',
} as const;
