/** Words of the page until there is a result: choosing clips, trimming them, the queue of measurements. Figures come printed. */

const clips = (count: number): string => (count === 1 ? '1 clip' : `${count} clips`);

/** Choosing clips and what to measure them with. */
export const startTexts = {
  title: 'New pass',
  drop: 'Drop the clips of a pass here',
  dropMore: 'Drop more clips here',
  /** Where nothing can be dropped. */
  pick: 'The clips of a pass',
  pickMore: 'More clips',
  letGo: 'Let go to add them',
  choose: 'Choose clips',
  fromFolder: 'From a folder of this machine',
  stays: 'Clips stay on this machine.',
  staysThere: 'Clips go to the machine that this page came from, and no farther.',
  most: (size: string): string => `Up to ${size} each.`,
  batch: (count: number): string => clips(count),
  waits: 'waits for its turn',
  opening: 'looking into it',
  sent: (sent: string, all: string): string => `${sent} of ${all}`,
  speed: (size: string): string => `${size}/s`,
  /** Of the bar. */
  sending: (name: string): string => `Upload of ${name}`,
  cancel: 'Cancel',
  cancelOf: (name: string): string => `Cancel ${name}`,
  remove: 'Remove',
  removeOf: (name: string): string => `Remove ${name}`,
  size: (widthPx: number, heightPx: number): string => `${widthPx} × ${heightPx}`,
  rate: (fps: string): string => `${fps} frames/s`,
  rateVaries: (fps: string): string => `about ${fps} frames/s, varies`,
  seconds: (s: string): string => `${s} s`,
  sourceTimecode: (label: string): string => `source TC ${label}`,
  fromClipStart: 'timecode from clip start',
  stretch: (from: string, to: string): string => `in ${from}, out ${to}`,
  isFolder: 'Folders cannot be dropped; choose the clips in it.',
  noClips: 'There was no file in what was dropped.',
  folderTitle: 'Clips in a folder of this machine',
  folders: 'Folders',
  noFolders:
    'No folder was allowed when the program was started. Start it with --folder and the folder that holds the clips.',
  folderEmpty: 'No clips in this folder.',
  folderMore: (count: number): string => `${count} more are not listed.`,
  looking: 'Looking',
  add: (count: number): string => (count === 0 ? 'Add clips' : `Add ${clips(count)}`),
  trim: 'In and out',
  settings: 'What it was shot with',
  shownFor: (name: string): string => `Shown for ${name}. What you type goes to`,
  forAll: (count: number): string => `all ${clips(count)}`,
  forThis: 'this clip alone',
  ofClip: (name: string, sentence: string): string => `${name}: ${sentence}`,
  hasRig: 'rig file',
  rigFile: (figures: readonly string[]): string =>
    figures.length === 0 ? 'rig file' : `rig file: ${figures.join(', ')}`,
  rigWaits: (file: string, stem: string): string => `${file} goes with a clip called ${stem}; choose it too.`,
  noRig: (file: string): string => `${file} is too large for a rig file.`,
  dismissFault: 'Dismiss',
  measure: (count: number): string => `Measure ${count === 0 ? 'clips' : clips(count)}`,
  ordering: 'Ordering',
  stillSending: (count: number): string => `${clips(count)} still on the way; they wait here.`,
  refused: (count: number): string =>
    count === 1
      ? 'One clip could not be ordered; the reason is at it.'
      : `${clips(count)} could not be ordered; the reasons are at them.`,
  /** Asked of whoever closes the tab; browsers show words of their own. */
  leave: 'Clips are still on their way to the program.',
} as const;

/** In and out of a clip. */
export const trimTexts = {
  title: 'In and out',
  frameAt: (label: string): string => `Frame at ${label}`,
  noFrame: 'This frame cannot be shown.',
  loading: 'The first frame comes',
  strip: 'Frames along the clip',
  playhead: 'Playhead',
  inHandle: 'In point',
  outHandle: 'Out point',
  play: 'Play',
  stop: 'Stop',
  back: 'Previous frame',
  forward: 'Next frame',
  markIn: 'In at this frame',
  markOut: 'Out after this frame',
  whole: 'Whole clip',
  in: 'In',
  out: 'Out',
  /** Said of out once. */
  outMeans: 'Out is the first frame left out.',
  howToWrite: (label: string): string => `Timecode (${label}), frames (50f) or seconds (2s).`,
  sourceTimecode: 'Source TC',
  clipTimecode: 'From clip start; the file has no timecode.',
  length: (seconds: string, frames: number): string =>
    `${seconds} s, ${frames} frame${frames === 1 ? '' : 's'}`,
  wholeClip: 'the whole clip',
  /** For whoever hears where a handle is. */
  spoken: (label: string, seconds: string): string => `${label}, ${seconds} s from the start`,
  inBeyondEnd: (length: string): string =>
    `The in point lies at or beyond the end: the clip is ${length} s long; choose an earlier one.`,
  outNotAfterIn: 'The out point must come after the in point.',
  outBeyondEnd: (length: string): string =>
    `The clip ends after ${length} s: that is taken as the out point.`,
  short: (hz: string): string =>
    `Short: shake slower than ${hz} times a second is not counted. Ten seconds are the working length.`,
  keys: {
    step: 'A frame back or on',
    second: 'A second back or on',
    ends: 'First and last frame',
    markIn: 'In at this frame',
    markOut: 'Out after this frame',
    play: 'Play and stop',
    shuttle: 'Shuttle back and on; again for faster',
  },
  shuttle: (times: number): string => (times < 0 ? `back at ${-times}×` : `${times}×`),
} as const;

/** Parts of a stretch of time. */
export interface SpokenTime {
  readonly hours: number;
  readonly minutes: number;
  readonly seconds: number;
}

/** What runs, waits and is done. */
export const workTexts = {
  title: 'Work',
  running: 'Running',
  waiting: 'Waiting',
  ended: 'Done',
  nothing: 'Nothing is being measured.',
  before: 'What was measured before is in the log.',
  toStart: 'Measure clips',
  mayClose: 'You may close this tab: the work goes on, and shows again when you come back.',
  stages: {
    probe: 'Reading the clip',
    track: 'Following points',
    split: 'Telling angles from shifts',
    judge: 'Finding causes, crop and verdict',
    write: 'Writing the report',
    render: 'Rendering the proof',
  },
  starting: 'Starting',
  proofOf: (name: string): string => `Proof of ${name}`,
  frames: (done: number, total: number): string => `${done} of ${total} frames`,
  share: (percent: number): string => `${percent} %`,
  framesPerS: (figure: string): string => `${figure} frames/s`,
  progressOf: (name: string): string => `Progress of ${name}`,
  left: ({ hours, minutes, seconds }: SpokenTime): string => {
    if (hours > 0) return `about ${hours} h ${minutes} min left`;
    if (minutes > 0)
      return seconds > 0 ? `about ${minutes} min ${seconds} s left` : `about ${minutes} min left`;
    return seconds > 5 ? `about ${seconds} s left` : 'a few seconds left';
  },
  leftUnknown: 'time left not known yet',
  picture: (name: string): string => `${name} as it is measured, with the points that are followed`,
  pictureComes: 'The picture comes with the first points',
  points: (count: number): string => `${count} points`,
  trace: 'Angles so far',
  traceRough: 'Rough, from the first frame on; the measurement refines them.',
  traceLabel: (name: string): string => `Pan, tilt and roll of ${name} over time, rough`,
  traceUnit: 'degrees',
  traceTime: 'time in the clip, s',
  traceNow: (degrees: string): string => `${degrees}°`,
  cancel: 'Cancel',
  cancelOf: (name: string): string => `Cancel ${name}`,
  next: 'Next',
  anew: 'From the start again: the program ended in the middle of it.',
  ahead: (count: number): string => `${count} before it`,
  open: 'Open result',
  openOf: (name: string): string => `Open result of ${name}`,
  openRun: 'Open run',
  again: 'Try again',
  againOf: (name: string): string => `Try again with ${name}`,
  dismiss: 'Clear',
  dismissOf: (name: string): string => `Clear ${name}, which has ended`,
  dismissAll: 'Clear all',
  cancelled: 'Cancelled',
  failed: 'Failed',
  proofDone: 'Proof rendered',
  done: (name: string, grade: string, sentence: string): string => `${name}: ${grade}. ${sentence}`,
  didFail: (name: string, sentence: string): string => `${name} failed. ${sentence}`,
} as const;
