/** Words of what was taken because it was not given, of warnings, and of clip, rig, delivery, sheet and tool as a camera report lists them. */

/** An input that can be missing: its name in the run document, what people call it, and the entry of a rig file that gives it. */
export interface InputWords {
  readonly key: string;
  readonly name: string;
  readonly inRigFile: string | null;
  /** True for lengths of lens and sensor, which stay in millimetres. */
  readonly ofLens: boolean;
}

const input = (key: string, name: string, inRigFile: string | null = key, ofLens = false): InputWords => ({
  key,
  name,
  inRigFile,
  ofLens,
});

/** Those that decide most first: the verdict, every angle, what is angular, the grade of the floor, blur. */
const inputs: readonly InputWords[] = [
  input('most crop', 'Most crop', 'maxCropPercent'),
  input('most residual shake', 'Most shake left', 'maxResidualPx'),
  input('viewing distance', 'Viewing distance', 'viewingDistanceHeights'),
  input('delivery size', 'Delivery size', 'widthPx, heightPx'),
  input('focalLengthMm', 'Focal length', 'focalLengthMm', true),
  input('sensorWidthMm', 'Sensor width', 'sensorWidthMm', true),
  input('sensor orientation', 'Sensor of an upright picture', null),
  input('focal length', 'Focal length, its error', 'focalPx', true),
  input('lensDistortion', 'Lens distortion'),
  input('readoutMs', 'Sensor readout'),
  input('head', 'Head'),
  input('lensAzimuthDeg', 'Lens against travel'),
  input('trackWidthM', 'Track width'),
  input('cameraOffsetM', 'Lens ahead of the axles’ middle'),
  input('shutterAngleDeg', 'Shutter angle'),
];

/** Words of assumptions, warnings, clip and setup. */
export const setupTexts = {
  assumed: 'Assumptions and warnings',
  assumedSentence: (count: number): string =>
    count === 1
      ? 'One input was not given and was taken as something.'
      : `${count} inputs were not given and were taken as something; those that decide most come first.`,
  assumedHead: 'Taken, not given',
  assumedCaption: 'Taken because it was not given',
  assumedHeads: ['What', 'Taken as', 'How much it matters'],
  nothingAssumed: 'Everything that was needed was given.',
  inRigFile: (name: string): string => `in a rig file: ${name}`,
  inputs,
  warnings: 'Warnings',
  noWarnings: 'No warnings.',
  warningAt: (timecode: string, seconds: string): string => `${timecode}, ${seconds} s`,

  setup: 'Clip and setup',
  clip: 'Clip',
  rig: 'Camera and dolly',
  sheet: 'Sheet of the pass',
  analysis: 'Analysis',

  clipName: 'Clip name',
  picture: 'Picture',
  pictureWords: (
    widthPx: number,
    heightPx: number,
    codec: string,
    bits: number,
    interlaced: boolean,
  ): string => `${widthPx} x ${heightPx} px, ${codec}, ${bits} bit${interlaced ? ', interlaced' : ''}`,
  frameRate: 'Frame rate',
  frameRateWords: (fraction: string, fps: string, variable: boolean): string =>
    `${fraction} = ${fps} frames per second${variable ? ', variable' : ''}`,
  timecode: 'Timecode',
  noTimecode: 'from clip start: the file has none, so it is counted from 00:00:00:00',
  sourceTimecode: (start: string): string => `source timecode, starts at ${start}`,
  in: 'In',
  inWords: (timecode: string, frame: number, seconds: string): string =>
    `${timecode}, frame ${frame}, ${seconds} s; the first frame measured`,
  out: 'Out',
  outWords: (timecode: string, frame: number, seconds: string, last: string): string =>
    `${timecode}, frame ${frame}, ${seconds} s; not measured itself (exclusive), the last frame measured is ${last}`,
  duration: 'Duration measured',
  durationWords: (seconds: string, frames: number, rejected: number): string =>
    `${seconds} s, ${frames} frames, ${rejected === 0 ? 'none' : rejected} rejected`,
  checksum: 'Checksum',
  sha256: (digest: string): string => `SHA-256 ${digest}`,
  analysed: 'Analysed',
  /** @param iso date and time of ISO 8601 in UTC */
  utc: (iso: string): string => iso.replace(/^([\d-]+)T([\d:]+)(?:\.\d+)?Z$/, '$1 $2 UTC'),
  tool: 'Tool',
  toolWords: (version: string, commit: string | null): string =>
    `Trundle ${version}${commit === null ? '' : ` (${commit})`}`,
  settings: 'Settings',
  settingsWords: (splitHz: string, nyquistHz: string, widthPx: number, heightPx: number): string =>
    `Shake counts from ${splitHz} to ${nyquistHz} Hz; pictures followed at ${widthPx} x ${heightPx} px`,
  stabilised: 'Stabilised so that',
  points: 'Points followed',
  pointsWords: (perFrame: string, keptPercent: number, coveragePercent: number): string =>
    `${perFrame} a frame, ${keptPercent} % kept, in ${coveragePercent} % of the frame`,
  refined: (percent: number): string => `; ${percent} % refined by templates, since the move changes scale`,
  noise: 'Tracking noise',
  noiseWords: (px: string, widthPx: number): string => `${px} px at ${widthPx} px width`,
  notKnown: 'not known',

  focalLength: 'Focal length',
  sensorWidth: 'Sensor width',
  focalCalibrated: 'Focal length, calibrated',
  pxOf: (widthPx: number): string => `px of ${widthPx}`,
  lensDistortion: 'Lens distortion',
  distortionGiven: (k1: number, k2: number, p1: number, p2: number, k3: number): string =>
    `k1 ${k1}, k2 ${k2}, p1 ${p1}, p2 ${p2}, k3 ${k3}`,
  distortionFound: (k1: string, low: string, high: string): string =>
    `not given; found in the clip: k1 ${k1} (${low} to ${high}), corrected`,
  distortionInPart: (k1: string): string =>
    `not given; stronger than the clip can tell, k1 ${k1} or less, corrected in part`,
  distortionNone: (low: string, high: string): string =>
    `not given; none found in the clip: k1 between ${low} and ${high}`,
  distortionNotNeeded: 'not given; too little for it to matter',
  notToBeFound: 'not given and not to be found in this clip',
  shutterAngle: 'Shutter angle',
  readout: 'Sensor readout',
  readoutRange: (low: string, high: string): string => ` (${low} to ${high} ms)`,
  readoutBends: (range: string): string => `not given; the picture bends as with${range}, corrected`,
  readoutFound: (ms: string, range: string): string =>
    `not given; found in the clip: ${ms} ms${range}, corrected`,
  readoutNotNeeded: 'not given; too little shake for it to matter',
  speed: 'Speed',
  travel: 'Travel',
  wheelbase: 'Wheelbase',
  trackWidth: 'Track width',
  wheelDiameter: 'Wheel diameter',
  jointSpacing: 'Joint spacing',
  machines: 'Machines',
  mountRings: 'Ringing of the mount',
  mains: 'Mains',
  cameraHeight: 'Camera height',
  cameraOffset: 'Lens ahead of the axles’ middle',
  lensAzimuth: 'Lens against travel',
  head: 'Head',
  heads: { locked: 'locked', operated: 'operated', selfLevelling: 'self-levelling' },
  delivery: 'Delivery',
  deliveryWords: (
    name: string | null,
    size: string,
    heights: string,
    cropPercent: string,
    leftPx: string,
  ): string =>
    `${name === null ? '' : `${name}: `}${size} px, watched from ${heights} heights of the screen, crop up to ${cropPercent} %, shake left up to ${leftPx} px RMS`,

  production: 'Production',
  unit: 'Unit',
  location: 'Location',
  floor: 'Floor or rail run',
  lane: 'Lane',
  direction: 'Direction',
  setupName: 'Setup',
  wheels: 'Wheels',
  track: 'Track',
  operator: 'Operator',
  passNumber: 'Pass number',
  roll: 'Camera roll',
  slate: 'Slate',
  take: 'Take',
  mark: 'Mark',
  marks: { good: 'good', noGood: 'no-good' },
  tags: 'Tags',
  notes: 'Notes',
  notGiven: 'Not given',
} as const;
