/** Words of the comparison page: its head line, its sections and their tables. Figures come printed, names as the crew wrote them. */
import { listed } from './words.js';

function lensOf(mm: string | null): string {
  return mm === null ? 'one lens' : `a ${mm} mm lens`;
}

/** Words of the comparison page. */
export const compareTexts = {
  kind: 'Trundle comparison',
  title: (names: string): string => `Comparison: ${names}`,
  groups: (by: string, names: string): string => `By ${by}: ${names}`,
  runs: (count: number): string => `${count} runs`,
  commonLens: (mm: number): string => `${mm} mm lens for all crops`,
  noLens: 'lens not given',
  against: (a: string, b: string): string => `${a} against ${b}`,

  notFair: 'Not a fair comparison',
  decide: 'What would decide',
  costs: 'What it costs',
  /** @param medians each of `medianOf` */
  costOfTakes: (takeS: string, medians: readonly string[]): string =>
    `Crop of a take of ${takeS} s, median: ${listed(medians)}.`,
  /** What the crop of a cost is. @param lensMm null where it is not known */
  costIs: (takesS: readonly string[], lensMm: string | null): string =>
    `Foretold for takes of ${listed(takesS)} s and ${lensOf(lensMm)}: half of such takes need less. The chart of the passes gives what each pass needed itself, and the median of that.`,

  passes: 'The passes side by side',
  /** @param medians each of `medianOf` */
  passesLead: (axis: string, medians: readonly string[]): string =>
    `${axis}, median of the passes: ${listed(medians)}.`,
  medianOf: (name: string, value: string): string => `${name} ${value}`,
  angularAxis: 'RMS, °',
  cropAxis: '% of the width',
  crop: 'Crop',
  passesTold: (what: string, columns: readonly string[]): string =>
    `${what} of every pass: ${columns.join('; ')}`,
  columnTold: (name: string, values: readonly string[]): string => `${name} ${values.join(', ')}`,
  passesLegend: 'A mark for each pass, its shape the lane; line and bold figure: the median.',
  leftOutLegend: 'Empty and broken: left out of the test, since its lane has not both; not in the median.',
  leftOut: 'left out of the test',
  leftOutTold: (value: string): string => `${value} (left out)`,
  /** What the crop of a pass is, and how it differs from other figures of the same run. @param lensMm null where it is not known */
  passCropIs: (lensMm: string | null): string =>
    `Crop: of the pass itself, worked out anew for ${lensOf(lensMm)}, one delivery and one smoothing; the reports of the runs give it for their own. Longer takes need more: see the cost.`,
  /** How the speed is known. */
  passSpeedIs:
    'Speed: travel over time where the travel is known, so it may differ from the speed that was given.',
  sharedScale: 'Tilt, pan and roll share one scale.',
  noiseMark: '< noise',
  passTable: 'Every pass',
  passHeads: ['Pass', 'Group', 'Lane', 'Way', 'Speed', 'Tilt', 'Pan', 'Roll', 'Crop', 'Verdict'],
  speed: (mps: string): string => `${mps} m/s`,
  none: '–',

  differs: 'What else differs',
  fair: 'The comparison is fair as far as it was noted.',
  unfair: 'The comparison is not fair; see the box at the top.',
  nothingDiffers: (verdict: string): string => `Nothing else that was noted differs. ${verdict}`,
  differsTable: (a: string, b: string): string => `What differs beside the setup: ${a} against ${b}`,
  differsHeads: (a: string, b: string): readonly string[] => ['What', a, b, 'What that does'],
  doesNothing: 'nothing here',
  cropAsCost: 'Crop, as a cost',
  cropTable: (takeS: string, a: string, b: string): string =>
    `Crop of a take of ${takeS} s on the common lens, % of the frame width: ${a} against ${b}`,
  cropHeads: ['Setup', 'Median', '19 in 20 takes stay below'],
  cropRatio: (a: string, b: string, ratio: string): string =>
    `${a} over ${b}: ${ratio}. This is a cost, no test: which setup is smoother is decided by the shake.`,
  notForetold: 'not foretold',
  noBound: 'no bound',

  spreads: 'What the ranges rest on',
  spreadFrom: { assumed: 'assumed', log: 'from the log of runs' },
  spreadNames: {
    passes: 'Pass to pass',
    lanes: 'Lane to lane',
    setupByLane: 'Setup by lane',
    weight: 'Weight',
  },
  spread: (percent: string, from: string): string => `${percent} %, ${from}`,
  weight: (passes: string): string => `each like ${passes} repeated passes`,
  spreadsLegend:
    'Standard deviations of the logarithm of the shake. The log of runs takes their place as it fills with passes of one setup over one lane.',
  spreadsFromLog: 'From the log of runs.',
  spreadsAssumed: 'Assumed, not measured.',
  spreadOfPassesFromLog:
    'The spread of passes is from the log of runs; that of lanes is assumed, not measured.',
  spreadOfLanesFromLog:
    'The spread of lanes is from the log of runs; that of passes is assumed, not measured.',

  warnings: 'Warnings',
  runsHeading: 'The runs',
  runsLead: (runs: number, groups: number, lanes: number): string =>
    `${runs} ${runs === 1 ? 'run' : 'runs'} in ${groups} ${groups === 1 ? 'group' : 'groups'} over ${lanes} ${lanes === 1 ? 'lane' : 'lanes'}.`,
  runsTable: 'Runs and their folders',
  runsHeads: ['Clip', 'Folder', 'Group', 'Lane', 'Length', 'Measured'],
  length: (travelM: string | null, durationS: string): string =>
    `${travelM === null ? '' : `${travelM} m, `}${durationS} s`,
  /** To the minute, in universal time. */
  date: (iso: string): string => iso.replace(/^(\d{4}-\d\d-\d\d)T(\d\d:\d\d).*$/, '$1 $2 UTC'),
  madeBy: (version: string, commit: string | null, date: string): string =>
    `Trundle ${version}${commit === null ? '' : ` (${commit})`}, ${date}.`,

  method: 'Method and limits in brief',
  methodPoints: [
    'The figure compared is the RMS of the shake of each axis, noise taken off. Passes are averaged within their lane first, in the logarithm: many passes of one lane do not make several lanes.',
    "A range holds what one clip shows of itself, what passes of one setup are known to differ by, and what lanes differ by. It is a 95 % range of Student's t.",
    '"Clear" means that the range leaves out 1. Where it does not, nothing is said about which is smoother; it does not mean that both are the same.',
    'A result of one lane holds for that lane. It reaches other floors only when both setups were rolled over several lanes.',
    'Passes buy far more than seconds: repeat a pass rather than lengthen it.',
    'Roll in the order A B B A, so that warm-up and dirt fall on both.',
    'Crop is an extreme of the run and grows with its length, so it is told as a cost for takes of one length, on one lens.',
  ],
} as const;
