/** Words of the page that shows the log of runs. */

/** Words of the log page. */
export const logPageTexts = {
  kind: 'Trundle log of runs',
  title: (runs: string): string => `Log: ${runs}`,
  runs: (count: number): string => `${count} ${count === 1 ? 'run' : 'runs'}`,
  floors: (count: number): string => `${count} ${count === 1 ? 'floor' : 'floors'}`,
  days: (first: string, last: string): string => (first === last ? first : `${first} to ${last}`),
  filtered: (words: string): string => `only ${words}`,
  /** The whole log in one sentence. */
  answer: (runs: string, floors: string, pass: number, marginal: number, fail: number): string =>
    `${runs} on ${floors}: ${pass} good, ${marginal} borderline, ${fail} not good enough.`,
  unmeasurable: (count: number): string =>
    count === 1 ? 'One clip could not be measured.' : `${count} clips could not be measured.`,
  nothing: 'No run in the log fits.',
  floorsHead: 'By floor',
  floorsIntro:
    'Crop that each pass would cost, one line for each floor, the best floor first. Passes of one floor differ with lens, speed and setup: compare them with trundle compare before you choose.',
  chart: 'Crop of every run by floor',
  cropAxis: 'crop, % of the width',
  cropOf: (percent: string): string => `crop ${percent} %`,
  shapes: 'Disc: pass. Triangle: marginal. Cross: fail. The scale is logarithmic.',
  floorTable: 'Floors, the lowest crop first',
  floorHeads: [
    'Floor',
    'Runs',
    'Verdicts',
    'Crop, middle',
    'Crop, range',
    'Class between joints',
    'Setups',
    'Last rolled',
  ],
  verdicts: (pass: number, marginal: number, fail: number): string =>
    [
      ...(pass > 0 ? [`${pass} pass`] : []),
      ...(marginal > 0 ? [`${marginal} marginal`] : []),
      ...(fail > 0 ? [`${fail} fail`] : []),
    ].join(', '),
  noFloor: 'floor not written down',
  percent: (value: string): string => `${value} %`,
  percentRange: (low: string, high: string): string => (low === high ? `${low} %` : `${low} to ${high} %`),
  moreThanHalf: 'more than half',
  classRange: (best: string, worst: string): string => (best === worst ? best : `${best} to ${worst}`),
  runsHead: 'Every run, newest first',
  runTable: 'Runs of the log',
  runHeads: [
    'Run',
    'Measured',
    'Floor and setup',
    'Lens, speed',
    'Crop',
    'Shake left',
    'Class between joints',
    'Verdict',
  ],
  lens: (mm: string): string => `${mm} lens`,
  lane: (lane: string): string => `lane ${lane}`,
  way: (direction: string): string => `rolled ${direction}`,
  speed: (mps: string): string => `${mps} m/s`,
  px: (value: string): string => `${value} px`,
  delivery: (name: string): string => `for ${name}`,
  openReport: (run: number): string => `Report of run ${run}`,
  reportGone: 'no report folder any more; trundle log open writes it anew',
  inDoubt: 'in doubt',
  otherVersion: 'kept by another version of Trundle',
  find: 'Find in this list',
  shown: (shown: number, of: number): string => `${shown} of ${of} shown`,
  sortBy: (column: string): string => `Sort by ${column}`,
  more: (count: number): string =>
    count === 1 ? 'One run more is in the log.' : `${count} runs more are in the log.`,
  about: (file: string): string =>
    `Made from the log in ${file}. The page is a picture of that moment: what is measured later is not in it.`,
} as const;
