/** Words of the page of one run: verdict as measured and as asked, player, exports, the clip that is to be found again. */

/** The verdict and its figures. */
export const runViewTexts = {
  title: (clip: string): string => `Result of ${clip}`,
  loading: 'Reading the run.',
  asMeasured: 'As measured',
  withChanges: 'With these changes',
  /** A figure that a question changed, said for those who do not see the column. */
  was: (value: string): string => `was ${value}`,
  figures: 'Key figures',
  shakeLeft: 'Shake left',
  pxRms: 'px RMS',
  shakeLeftRemark: (range: readonly [string, string] | null, limit: string): string =>
    `${range === null ? 'of the delivery' : `${range[0]} to ${range[1]} px`}, limit ${limit} px`,
  shakeLeftUnknown: 'this clip does not show it',
  noSeries:
    'This run was kept without its motion: its figures stand, but nothing can be asked, played or written anew. Measure the clip again for that.',
  unmeasurable:
    'There is no verdict, so there is nothing to ask and no window to draw. The clip can be played.',
  report: 'Report',
  adviceTitle: 'What else to do',
  reportLoading: 'Writing the report.',
  backToLog: 'To the log',
  previous: 'Earlier run',
  next: 'Later run',
  neighbours: 'Other runs',
  again: 'Measure again with its settings',
  againAsAsked: 'Measure again as asked above',
  againAsShot: 'Lens and speed stay those that the clip was shot with.',
  againWithoutClip: 'To measure it again, tell where the clip is.',
} as const;

/** The sheet of the pass beside its verdict. */
export const runSheetTexts = {
  title: 'Sheet',
  measured: 'Measured',
  stretch: 'In and out',
  range: (from: string, to: string): string => `${from} to ${to}`,
  tags: 'Tags',
  none: 'Nothing is written on the sheet.',
  edit: 'Edit in the log',
  names: {
    production: 'Production',
    unit: 'Unit',
    location: 'Location',
    floor: 'Floor',
    lane: 'Lane',
    direction: 'Direction',
    setup: 'Setup',
    wheels: 'Wheels',
    track: 'Track',
    operator: 'Operator',
    passNumber: 'Pass',
    roll: 'Camera roll',
    slate: 'Slate',
    take: 'Take',
    mark: 'Mark',
    notes: 'Notes',
  },
  marks: { good: 'good', noGood: 'no-good' },
  directions: { out: 'out', back: 'back' },
} as const;

/** Playing the clip. */
export const playerTexts = {
  title: 'Clip',
  views: 'View',
  shot: 'As shot',
  stabilised: 'Stabilised',
  both: 'Side by side',
  play: 'Play',
  stop: 'Stop',
  back: 'Previous frame',
  on: 'Next frame',
  toStart: 'To the first frame',
  toEnd: 'To the last frame',
  shuttleBack: 'Play backwards, again for faster',
  shuttleOn: 'Play on, again for faster',
  playOrStop: 'Play or stop',
  speed: 'Playback speed',
  speeds: { 0.25: '1/4', 0.5: '1/2', 1: '1' },
  scrubber: 'Place in the clip',
  /** A place as a screen reader says it. */
  place: (timecode: string, frame: number, count: number): string =>
    `${timecode}, frame ${frame} of ${count}`,
  frameOf: (frame: number, count: number): string => `${frame}/${count}`,
  toDeciding: 'To the frame that decides the crop',
  marks: { bump: 'joint or bump', deciding: 'frame that decides the crop' },
  markAt: (what: string, timecode: string): string => `${what}, ${timecode}`,
  legendBumps: 'Lines: joints and bumps.',
  legendDeciding: 'Triangle: the frame that decides the crop.',
  waiting: 'Fetching frames.',
  making: (count: number, total: number | null): string =>
    total === null
      ? `Frames are being made: ${count} so far.`
      : `Frames are being made: ${count} of ${total}.`,
  shotPicture: 'The clip as shot, with the crop window',
  shotPictureBare: 'The clip as shot',
  stabilisedPicture: 'The clip stabilised and cropped',
  still: 'The kept frame, with the crop window',
  stillBare: 'The kept frame',
  noStill: 'No frame was kept either.',
  stabilisedHow: 'Preview by the same warp as the proof, from small frames.',
  withoutGraphics:
    'This browser has no 3D graphics: the preview moves, turns and sizes each frame, but does not bend it.',
  failed: 'The frames cannot be shown.',
  windowNote: 'White line: what is delivered of each frame.',
} as const;

/** Telling where the clip of an older run is. */
export const findClipTexts = {
  title: 'Where is the clip?',
  missing: (name: string): string => `${name} is not where it was, or is another clip now.`,
  up: 'Up one folder',
  open: (name: string): string => `Open ${name}`,
  use: (name: string): string => `Use ${name}`,
  more: (count: number): string => `${count} more are not shown.`,
  empty: 'No clips here.',
  noFolders: 'No folder of this machine is open to the page; start it with one, or put the clip back.',
  upload: 'Bring the clip from this device',
  uploading: (percent: number): string => `Bringing it in: ${percent} %`,
  looking: 'Looking.',
} as const;

/** What is said of a file of a run that cannot be sent. */
export const runFileTexts = {
  fileGone:
    'This file is not where it was, or may not be read any more; measure the clip again for a new one.',
} as const;

/** Files of the run. */
export const exportTexts = {
  title: 'Files',
  report: 'Report, one page',
  pdf: 'PDF',
  paper: 'Paper',
  papers: { a4: 'A4', letter: 'Letter' },
  pdfWaits: 'Printing takes a few seconds.',
  picture: 'Picture to send',
  more: 'Data and pictures',
  files: {
    'run.json': 'All figures (JSON)',
    'series.json': 'Motion at full precision (JSON)',
    'motion.csv': 'Motion (CSV)',
    'spectrum.csv': 'Spectra (CSV)',
    'third-octaves.csv': 'Thirds of an octave (CSV)',
    'sources.csv': 'Sources of shake (CSV)',
    'frame.jpg': 'Frame of the clip',
    'crop.png': 'Crop windows, to lay over',
    'trundle-run-1.schema.json': 'Schema of the figures',
    'trundle-series-1.schema.json': 'Schema of the motion',
  },
} as const;

/** The proof: the clip rendered stabilised. */
export const proofOrderTexts = {
  title: 'Proof clip',
  what: 'The clip stabilised at full size, at the crop that was foretold.',
  layout: 'Layout',
  layouts: { alone: 'Alone', beside: 'Beside the original', above: 'Below the original', split: 'Split' },
  window: 'Window',
  windows: { centred: 'Centred', offCentre: 'Off centre', moving: 'Breathing' },
  render: 'Render proof clip',
  waiting: (ahead: number): string =>
    ahead === 0
      ? 'Starts next.'
      : ahead === 1
        ? 'After 1 other piece of work.'
        : `After ${ahead} other pieces of work.`,
  rendering: (done: number, total: number | null): string =>
    total === null ? 'Beginning.' : `Frame ${done} of ${total}.`,
  left: (seconds: string): string => `About ${seconds} s left.`,
  stop: 'Stop',
  /** @param about size, and when it was made, by the clock of this place; what is not known is left out */
  ready: (about: readonly string[]): string => `Ready${about.map((one) => `, ${one}`).join('')}.`,
  megabytes: (size: string): string => `${size} MB`,
  open: 'Open proof clip',
  cancelled: 'Stopped.',
  asMeasured: 'It shows the run as measured, without the changes above.',
} as const;
