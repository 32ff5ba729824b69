/** What shakes, in words: name of a source, how sure, what else is known of it, where to look first. Figures come printed, frequencies with their unit. */
import { listed } from './words.js';

const wheelFaults = ['once a turn: out of round or a flat', 'twice a turn: oval'];

/** Names, remarks and steps of sources of shake. */
export const causeTexts = {
  seenAt: (hz: string): string => `, seen at ${hz}`,
  wheel: (order: number): string => `Wheel, ${wheelFaults[order - 1] ?? `${order} times a turn`}`,
  joints: (spacing: string | null, order: number): string =>
    `Joints${spacing === null ? '' : ` every ${spacing}`}${order === 1 ? '' : `, ${order} times their beat`}`,
  machine: (hz: string): string => `Given machine at ${hz}`,
  mount: (hz: string): string => `Mount rings at ${hz}`,
  lamp: 'Lamp flicker, no motion',
  unknown: 'Unknown',
  /** For a peak in a chart, where there is room for one word. */
  short: {
    wheel: 'wheel',
    joint: 'joints',
    machine: 'machine',
    mount: 'mount',
    lamp: 'lamp',
    unknown: 'unknown',
  },
  hz: (value: string): string => `${value} Hz`,
  percent: (value: string): string => `${value} %`,
  none: '–',
  most: (name: string, hz: string | null, sureness: string): string =>
    `${name} (${hz === null ? '' : `${hz}, `}${sureness} sure)`,

  lookAtWheels:
    'Turn each wheel by hand: look for a flat, dirt, play in the bearing. Swap wheels and roll again.',
  lookAtShape: 'Look for an oval wheel, lobes, or dirt in several places. Swap wheels and roll again.',
  lookAtJoints: 'Shim or tape the joints, lay boards or rail over them, or roll slower.',
  lookAtMachine: 'Roll a pass with that machine off; if it stays quiet, uncouple it from the camera.',
  lookAtMount: (hz: string): string =>
    `Tighten and stiffen mount and column; choose a speed at which nothing else shakes near ${hz}.`,
  lookAtLamp: 'Nothing to do on the dolly: set the shutter to the mains, or change the lamp.',
  lookAtMachines: 'Switch motors and fans off one by one and roll again; then look at the mount.',
  lookForRepeats: (spacing: string | null): string =>
    `Look at wheels and floor for what repeats ${spacing === null ? 'evenly' : `every ${spacing}`}.`,
  rollFaster:
    'Roll the same stretch at least 1.2 times as fast and measure it with --against: that tells floor and wheels from machines.',

  ofSeries: (order: number, baseHz: string): string =>
    `Number ${order} of a series at multiples of ${baseHz}.`,
  lessLikely: (others: readonly string[]): string => `Less likely: ${others.join('; ')}.`,
  candidate: (name: string, hz: string, probability: string): string => `${name} at ${hz} (${probability})`,
  couldBe: (hz: readonly string[], more: boolean): string =>
    `This frame rate would show motions of ${hz.join(', ')}${more ? ' ...' : ''} Hz here, too.`,
  inSound: (tone: boolean, hz: string, probability: string): string =>
    `In the sound there is ${tone ? 'a tone' : 'a beat of the loudness'} at ${hz} (${probability}).`,
  otherRun: 'the other run',
  otherKeepsHz: (run: string, hz: string | null, probability: string | null): string =>
    `In ${run} it is${hz === null ? '' : ` at ${hz}`}: it keeps its frequency, so it is a machine or the mount${probability === null ? '' : ` (${probability})`}.`,
  otherKeepsWave: (run: string, hz: string | null, probability: string | null): string =>
    `In ${run} it is${hz === null ? '' : ` at ${hz}`}: it keeps its wavelength, so it is the floor or a wheel${probability === null ? '' : ` (${probability})`}.`,
  runsAgree: (hz: string): string => ` Both runs agree on a motion of ${hz}.`,
  otherOpen: (run: string): string => `${run} does not decide it.`,
  followsTravel: 'It follows the changes of the speed within this pass: floor or wheel.',
  keepsHz: 'It keeps its frequency while the speed changes: a machine or the mount.',
  shutterHidesAll: (percent: string): string =>
    `The shutter lets only ${percent} of such a motion through: how large it is cannot be told.`,
  shutterHides: (percent: string): string => `The shutter hides part of it: ${percent} came through.`,
  wobble: (px: string): string =>
    `The rolling shutter bends the frame by up to ${px} px of the delivery with it.`,

  speedAgrees: (given: string, low: string, high: string, sureness: string): string =>
    `The sources agree with the speed taken, ${given} m/s (they say ${low} to ${high} m/s; ${sureness} sure that wheels or joints are among them).`,
  speedDiffers: (mps: string, low: string, high: string, sureness: string, given: string): string =>
    `The sources speak for ${mps} m/s (${low} to ${high} m/s; ${sureness} sure that wheels or joints are among them); ${given} m/s was taken and stays, for every figure. Measure the speed or the travel again.`,
  flicker: (lampHz: string, seenHz: string, inBands: boolean, percent: string): string =>
    `The light flickers at ${lampHz} Hz (a lamp on the mains), which this frame rate shows at ${seenHz} Hz${inBands ? ', as bands that roll through the picture' : ''}: ${percent} % of its level. That is no motion.`,
  soundUnused: (reason: string | null): string => `Sound: ${reason ?? 'not used.'}`,
  soundPlain: 'Sound: heard, but no tone and no beat stands out of it.',
  soundLine: (tone: boolean, hz: string): string => `${tone ? 'a tone at' : 'a beat of'} ${hz} Hz`,
  sound: (lines: readonly string[], more: boolean): string =>
    `Sound: ${lines.join(', ')}${more ? ' and more' : ''}. Sound supports a frequency, it does not prove a cause.`,
} as const;

/** The section on what shakes: its tables and how far it can be relied upon. */
export const sourceTexts = {
  heading: 'What shakes, and why',
  noSpectrum: 'No spectrum could be made from this clip.',
  /** What this run shows. */
  opening: (sources: number, named: number, first: string | null): string => {
    const counted = sources === 1 ? 'One source of shake stands' : `${sources} sources of shake stand`;
    const namedWords =
      named === 0 ? 'none could be named' : named === sources ? 'named' : `${named} of them named`;
    return `${counted} out of the rest, ${namedWords}. ${first === null ? '' : `Most comes from no. 1: ${first}.`}`.trim();
  },
  noSource:
    'No peak stands clear of what the floor and the noise show anyway: the shake is spread over all frequencies.',
  caption: 'What shakes, most first',
  rest: (count: number): string => `the other ${count} sources`,
  heads: ['No.', 'What', 'Sure', 'Look first', 'Frequency', 'On', 'Picture shifts, RMS, px of the delivery'],
  within: (hz: string): string => `± ${hz} Hz`,
  px: (value: string): string => `${value} px`,
  onAxis: (axis: string, value: string): string => `${axis} ${value}`,
  itself: (value: string): string => `motion itself ${value}`,
  notKnown: 'not known',
  hiddenCaption: 'What the camera hides of each source',
  hiddenHeads: ['No.', 'Frequency of the motion', 'Size of the motion, RMS', 'Through the shutter', 'More'],
  peaksCaption: 'Peaks of each axis, as seen by the camera (95 % ranges), with the source they belong to',
  peakHeads: [
    'Axis',
    'Frequency',
    'Width',
    'Size, RMS',
    'Range',
    'Over the background',
    'Shape',
    'Wavelength',
    'No.',
  ],
  range: (low: string, high: string): string => `${low} to ${high}`,
  db: (value: string): string => `${value} dB`,
  mayBeRipple: (shape: string): string => `${shape}, or a ripple of the two axles`,
  sureHeading: 'How far to rely on it',
  noFloorModel:
    'No model of the floor holds for this pass (it needs speed, wheelbase and a rigid head): a peak may be a ripple that two axles print on any floor.',
  falsePeaks: (inHundred: string): string =>
    `Of 100 passes over a floor without any cause, about ${inHundred} show a false peak on an axis (simulated passes).`,
  falsePeaksElsewhere: (axes: readonly string[]): string =>
    ` No such rate is known for ${axes.join(', ')}: a peak there alone may be a ripple of the two axles.`,
} as const;

/** Charts of shake by frequency. */
export const spectrumTexts = {
  heading: (axis: string): string => `${axis} by frequency`,
  others: 'The other axes',
  /** What the large chart shows. */
  leadSource: (axis: string, mark: string, name: string, hz: string | null, db: string | null): string =>
    `${axis} shows no. ${mark} most: ${name}${hz === null ? '' : `, ${hz}`}${db === null ? '' : `, ${db} dB over the level around it`}.`,
  leadBand: (axis: string, band: string, value: string): string =>
    `No peak stands out on any axis; the strongest band of ${axis.toLowerCase()} is ${band} with ${value} RMS.`,
  leadPlain: (axis: string): string => `${axis} shakes the picture most; no peak stands out of it.`,
  quiet: (axes: readonly string[]): string =>
    `${listed(axes)}: under the noise over all frequencies, so there is nothing to draw (every reading is in spectrum.csv).`,
  label: (axis: string, unit: string): string => `${axis} by frequency, ${unit}`,
  bandsLabel: (axis: string, unit: string): string => `${axis} in thirds of an octave, RMS in ${unit}`,
  spectrumCaption: 'How strong at each frequency',
  bandsCaption: 'How much in each third of an octave',
  frequencyAxis: 'frequency, Hz',
  bandsAxis: (unit: string): string => `RMS, ${unit}`,
  legend: (width: string, cutoff: string): string =>
    `Curves: power of the shake per hertz (PSD: its area between two frequencies is the shake there, squared), readings ${width} Hz wide; tinted band: 95 % range of each reading. Long dashes: noise floor. Dots: the level that peaks stand out of. Triangles: peaks, by the numbers of the table. Dimmed: below ${cutoff} Hz, the intended move.`,
  bandsLegend:
    'Bars: RMS of the shake in each band, as the camera saw it, noise taken off; lines: 95 % range. Open bars: below that, noise hides it. Bands by IEC 61260-1; those that this clip is too short to tell apart are joined.',
  bandsTable:
    'RMS in bands a third of an octave wide, with 95 % ranges (every reading of the spectra is in spectrum.csv)',
  bandHead: 'Band',
  shutterHead: 'Through the shutter',
  bandNominal: (label: string): string => `nominal ${label} Hz`,
  below: (value: string): string => `below ${value}`,

  readWave: (length: string): string => `a wave of ${length} on the floor`,
  readValue: (value: string, unit: string, low: string, high: string): string =>
    `${value} ${unit} (${low} to ${high})`,
  readNoise: (value: string, unit: string): string => `noise ${value} ${unit}`,
  readPeak: (mark: string, name: string): string => `no. ${mark}: ${name}`,
  readBand: (from: string, to: string): string => `${from} to ${to} Hz`,
  readRms: (value: string, range: string | null): string =>
    `${value} RMS${range === null ? '' : ` (${range})`}`,
  readBelow: (value: string): string => `below ${value}`,
  range: (low: string, high: string): string => `${low} to ${high}`,

  alongHeading: (axis: string): string => `${axis} along the run`,
  along: 'A row that runs through is a steady source, a column through all frequencies a knock.',
  alongLabel: (axis: string): string =>
    `${axis}: power by time and frequency, the deeper the shade the stronger`,
  alongLegend: (seconds: string, hz: string): string =>
    `Each column of time is a window of ${seconds} s, ${hz} Hz wide; single cells scatter by a factor of two. All axes are in run.json.`,
  alongFrequency: 'Hz',
  alongTime: 'time, s',
  alongPlace: (unit: string): string => `place of the rear axle, ${unit}`,
  alongLargest: 'largest',
  alongStep: (db: number): string => `-${db} dB`,
} as const;
