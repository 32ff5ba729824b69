/** What was wrong with a clip, its frames, its sound or its settings, and what was done about it. Times come printed with their unit, other figures without. */

const counted = (count: number, one: string, many: string): string =>
  count === 1 ? `1 ${one}` : `${count} ${many}`;

/** What the container says about itself, and settings that do not fit the clip. */
export const clipFactTexts = {
  variableRate:
    'The clip has no steady frame rate; the time stamps of the file are used. Record at a fixed rate for the finest figures.',
  interlaced:
    'The clip is interlaced; it was deinterlaced, which softens small vertical shake. Record progressive.',
  /** @param skew degrees beyond the nearest quarter turn */
  turnOblique: (skew: string): string =>
    `The file asks for its picture to be turned by ${skew} degrees beyond a quarter turn; that is not done, so sideways and up are those of the picture as it was stored. Measure the camera original.`,
  /** @param rate frames per second */
  noTimeStamps: (rate: string): string =>
    `The file holds no time stamps; frames are taken as evenly spaced, ${rate} a second. Where that is not the rate of the shoot, frequencies and speeds are wrong by as much.`,
  /** @param stated frames per second that the file claims @param seen those that its time stamps make */
  rateMisstated: (stated: string, seen: string): string =>
    `The file claims ${stated} frames/s, but its time stamps make ${seen}; the time stamps are used. Where the clip plays too fast or too slowly, frequencies and speeds are wrong by as much: take the original.`,
  fewColours:
    'The clip keeps 256 colours; the dots that stand in for the others stay in place while the picture moves, and are followed like a part of it. Use the original.',
  lengthMisstated: (stated: string, seen: string): string =>
    `The file claims to be ${stated} long, but its frames run for ${seen}; the frames are used. Compare it with the original.`,
  focalLengthsDiffer: (takenMm: string, givenMm: number): string =>
    `The focal length in pixels makes a lens of ${takenMm} mm, but a lens of ${givenMm} mm was given; the pixels were used.`,
  smoothingTooLong: (seconds: number): string =>
    `The clip is too short for ${seconds} s of smoothing: three times that would have to fit. Nearly all of its motion is taken for shake.`,
  interCoded:
    'The clip codes frames from one another, which hides very small shake; the noise floors are raised for it. Record all-intra for fine rails.',
  outBeyondEnd: (end: string): string =>
    `The out point lies beyond the end of the clip (${end}); measured to the end.`,
} as const;

/** Faults that were met while decoding. */
export const decodeTexts = {
  lowContrast: (times: string): string =>
    `The picture is flat (a log curve, haze or dim light); its contrast was raised ${times} times for tracking, the same for every frame.`,
  stampsRepeat: (first: string): string =>
    `Time stamps of the clip repeat or run backwards, first at ${first}; such frames were set one frame after the one before.`,
  stampsJump: (from: string, to: string): string =>
    `No frame is shown between ${from} and ${to}: the recording paused, frames are missing, or time stamps are wrong. What the camera did there is not known; it counts as a cut.`,
  /** @param clip its path in quotes */
  endsEarly: (clip: string, missing: string, frames: number): string =>
    `The clip ${clip} ends ${missing} (about ${frames} frames) early: it is cut short or damaged; what there is was measured. Copy it again from the card if you can.`,
  /** @param said FFmpeg's own words */
  damaged: (clip: string, said: string): string =>
    `Parts of the clip ${clip} are damaged (FFmpeg: ${said}); frames there may be wrong.`,
} as const;

/** Sound that is not used, or only in part. */
export const soundWarningTexts = {
  shortened: (seconds: number): string =>
    `Only ${seconds} s of the sound, from the middle of the range, are listened to.`,
  /** @param why one of the two below */
  unusable: (why: string): string => `The sound of the clip ${why}; the measurement goes without it.`,
  noSound: 'holds nothing but timecode or a line-up tone',
  /** @param fault FFmpeg's own words, or one of those below */
  notDecoded: (fault: string): string => `could not be decoded (FFmpeg: ${fault})`,
  noDecoder: 'no decoder for this kind of sound',
  noSamples: 'no samples',
  brokeOff: 'it was ended, crashed or fell silent before the end of the sound',
} as const;

/** What was left out of the clip, and how well its points could be followed. */
export const trackingTexts = {
  range: (from: string, to: string): string => `from ${from} to ${to}`,
  /** @param first times of the first ones @param more whether there are others @param range what is measured */
  cuts: (count: number, first: readonly string[], more: boolean, range: string): string =>
    `The clip holds ${counted(count, 'hard cut', 'hard cuts')} (at ${first.join(', ')}${more ? ' and later' : ''}); only the longest stretch without a cut is measured, ${range}.`,
  cutsOfLong: (first: string, range: string): string =>
    `The clip holds hard cuts, the first at ${first}; only the longest stretch without a cut is measured, ${range}.`,
  breaks: (count: number, first: string, range: string): string =>
    `No points could be followed across ${counted(count, 'frame', 'frames')}, first at ${first}: a very fast move, a flash or a dark or empty picture; only the longest stretch that holds together is measured, ${range}.`,
  frozen: (from: string, to: string, count: number): string =>
    `The picture is frozen from ${from} to ${to} (${counted(count, 'frame', 'frames')}); these frames are left out.`,
  repeats: (count: number, first: string): string =>
    `${counted(count, 'frame repeats', 'frames repeat')} the one before, first at ${first}; left out. A clip converted from another frame rate does this: use the original when there is one.`,
  tooDark: (meanGrey: string, contrast: string): string =>
    `The picture is very dark (mean grey ${meanGrey} of 255, contrast ${contrast}); light the floor and walls or open the lens.`,
  noTexture: (contrast: string): string =>
    `Too little in the picture can be followed (contrast ${contrast} of 255); frame something with detail, or stick marks on plain walls.`,
  fewPoints: (count: number, wanted: number): string =>
    `Only ${counted(count, 'point', 'points')} could be followed at a time, of ${wanted} wanted.`,
} as const;
