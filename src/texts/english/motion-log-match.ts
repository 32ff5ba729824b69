/** How a motion log was laid against a clip: why it could not be, what is wrong with its columns, and what does not fit. Figures come printed, without their unit. */
import { listed } from './words.js';

/** Why a log could not be aligned; each stands within a sentence. */
export const logUnalignedTexts = {
  noMatch: 'no match was found',
  inPartAlone: 'log and picture agree in a part of the clip alone',
  noAngles: 'the clip shows no angles to compare with',
  clipTooShort: (leastS: number): string => `the clip is shorter than ${leastS} s`,
  coversTooLittle: 'the log covers too little of the clip at any offset',
  noTurning: 'the clip shows no turning above its noise floor to compare with',
  gapsLeaveNothing: (neededS: string, partS: string): string =>
    `the gaps of the log nowhere leave ${neededS} s of the clip in parts of ${partS} s and more`,
  gapsLeaveLittle: (leftS: string, neededS: string, partS: string): string =>
    `the gaps of the log leave ${leftS} s of the clip in parts of ${partS} s and more, ${neededS} s are needed`,
  agreesTooLittle: (correlation: string, needed: string): string =>
    `log and picture agree too little at every offset (correlation ${correlation}, ${needed} needed)`,
  repeats: (correlation: string, second: string): string =>
    `log and picture agree about as well at several offsets (correlation ${correlation} and ${second}): the shake repeats itself`,
} as const;

/** What is wrong with the columns of a log; a full stop follows. */
export const logColumnTexts = {
  turnedRound: (column: string): string => `its ${column} runs against the picture (turn its sign)`,
  otherAxis: (column: string, axis: string, signTurned: boolean): string =>
    `its ${column} is the camera's ${axis}${signTurned ? ' with the sign turned' : ''}`,
  misnamed: (parts: readonly string[]): string =>
    `The columns of the log do not follow the camera's axes: ${parts.join(', ')}`,
  degreesAsRadians:
    'The log turns 57 times as much as the picture: its columns seem to hold deg/s under names that end in RadPerS',
  radiansAsDegrees:
    'The log turns 57 times less than the picture: its columns seem to hold rad/s under names that end in DegPerS',
} as const;

/** Warnings on a log. */
export const logWarningTexts = {
  notAligned: (why: string): string => `The motion log could not be aligned with the clip: ${why}.`,
  columns: (fault: string): string => `${fault}. What is wrong there is not compared.`,
  gaps: (count: number, fromS: string, toS: string): string =>
    `The motion log has ${count === 1 ? 'a gap' : `${count} gaps, the first`} from ${fromS} s to ${toS} s of its clock; frames near a gap are not compared.`,
  differs: (axes: readonly string[]): string =>
    `On ${listed(axes)} the motion log and the picture differ by more than the noise of both.`,
  clock: (percent: string, course: 'fast' | 'slow'): string =>
    `The motion log's clock runs ${percent} % ${course} against the clip's time stamps; the comparison allows for it.`,
  focalLength: (gain: string, times: string, too: 'long' | 'short'): string =>
    `Pan and tilt both turn about ${gain} times as much in the motion log as in the picture: the focal length is probably about ${times} times too ${too}. Check it; every angle depends on it.`,
} as const;
