/** Words on the shake by axis and on the split of turning from shifting. Figures come printed, with their unit where it is theirs. */

const AXLES = { front: 'front', rear: 'rear' } as const;

/** Words of the time line, of the table of axes, and of the notes under it. */
export const motionTexts = {
  heading: 'Shake by axis',
  /** What this run shows: the axis that shifts the picture most, the next one, and how much is angular. */
  mostShake: (name: string, px: string): string =>
    `${name} shakes the picture most: ${px} px RMS at delivery size`,
  bothShake: (name: string, other: string, px: string): string =>
    `${name} and ${other.toLowerCase()} shake the picture most: ${px} px RMS each at delivery size`,
  thenShake: (name: string, px: string): string => `, then ${name.toLowerCase()} with ${px} px`,
  angularPart: (percent: string): string =>
    ` ${percent} of the shake is angular, which one warp a frame can take out; near and far shift differently under the rest, and no warp takes that out.`,
  noShake: 'No axis shakes above its noise floor in this clip.',
  shareUnknown: ' How much of it is angular cannot be told from this clip.',
  range95: 'The bracket is the 95 % range.',
  shareBar: (angular: string, other: string): string =>
    `${angular} of the shake is angular, ${other} translational`,
  shareAngular: 'angular',
  shareTranslational: 'translational',
  shareCaption: 'How the shake is made up.',

  /** The table of the six axes. */
  tableCaption: (unit: string): string =>
    `Shake on six axes; angles in degrees, translations in ${unit === 'in' ? 'inches' : unit}. RMS is the usual size; peak to peak is how far it swings, the rarest 1 % left out.`,
  heads: {
    axis: 'Axis',
    shake: 'Shake, RMS',
    range: '95 % range',
    picture: 'In the picture',
    pictureUnit: 'px of the delivery',
    peakToPeak: 'Peak to peak',
    largest: 'Largest',
    noise: 'Noise floor',
    strongest: 'Strongest at',
  },
  notReliable: ' (not reliable)',
  none: '–',

  /** The time line. */
  lineLabel: (axes: string): string => `Shake over time on one time line: ${axes}`,
  axisLabel: (name: string, words: string): string => `${name} ${words}`,
  lineHeading: 'Along the clip',
  /** Where the largest swing is, and what lies under the wheels then. */
  largest: (name: string, value: string, seconds: string, timecode: string): string =>
    `The largest swing of ${name.toLowerCase()}, ${value}, is at ${seconds} s (${timecode})`,
  largestPlace: (place: string): string => `, ${place} along the run`,
  largestUnder: (axle: string, kind: string, mark: string): string =>
    `, as the ${axle} axle meets ${kind} ${mark} of the floor list`,
  axle: (axle: 'front' | 'rear'): string => AXLES[axle],
  lineEnd: '.',
  allQuiet: 'No axis rises above its noise, so there is no curve to show.',
  legend: (lowHz: string, highHz: string, trimS: string): string =>
    `Line: shake from ${lowHz} to ${highHz} Hz; slower movement is the intended move, the dashed strip over each row, on a scale of its own. Grey band: noise, two sigma to each side. Dimmed ends (${trimS} s) count in no figure. Axes of one kind share their scale.`,
  legendPlaces: 'Place: of the rear axle from where it began.',
  legendMarks:
    'Numbers along the top: joints and bumps of the floor list, bold where the front axle meets them, light where the rear one does.',
  rms: (figure: string): string => `${figure} RMS`,
  underNoise: (bound: string): string => `${bound}: noise hides it, no curve`,
  underNoiseShort: (bound: string): string => `${bound}, under its noise`,
  unseen: 'not observable: this clip does not show it, no curve',
  unseenShort: 'not observable',
  belowNoiseRead: 'below noise',
  moveRange: (low: string, high: string): string => `dashed: intended move, ${low} to ${high}`,
  intendedMove: 'Intended move',
  floorNumbers: 'floor no.',
  timeAxis: 'time, s',
  timecodeAxis: 'timecode',
  placeAxis: (unit: string): string => `place, ${unit}`,
  markRead: (axle: 'front' | 'rear', mark: string, kind: string): string =>
    `${AXLES[axle]} axle on ${mark === '' ? kind : `${kind} ${mark}`}`,

  /** Second by second. */
  secondsCaption: (seconds: string): string =>
    `RMS as measured, noise included, in stretches of ${seconds} s (every frame is in motion.csv)`,
  secondsFrom: 'From',
  secondsAt: (seconds: string): string => `${seconds} s`,
  axisIn: (name: string, unit: string): string => `${name}, ${unit}`,
} as const;

/** Words where translation could not be told from rotation, or where an axis should not be relied upon. */
export const separationTexts = {
  no: 'Translation could not be told from rotation in this clip.',
  weak: 'Translation was only weakly visible in this clip; take its figures as rough.',
  ifAngular: (pan: string, tilt: string): string =>
    `What can be said: if all of it were angular, pan is below ${pan}° and tilt below ${tilt}°`,
  ifTranslation: (lateral: string, vertical: string, unit: string): string =>
    `; if all of it were translation, lateral is below ${lateral} ${unit} and vertical below ${vertical} ${unit}`,
  seeMore: '. To see more next time:',
  notReliable: 'Not reliable in this clip:',
  axisReason: (name: string, reason: string): string => `${name}. ${reason}`,
  parallax: (times: string): string =>
    ` Parallax in this clip: ${times} times the expected tracking noise (3 are needed to see any, 10 to be sure).`,
  errorsTogether: (pan: string, tilt: string): string =>
    ` The errors of pan and lateral go together by ${pan}, those of tilt and vertical by ${tilt} (0 is independent, from 0.995 on the two are not told apart).`,
} as const;
