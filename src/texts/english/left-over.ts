/** Words on what stays after stabilising, cause by cause, and what would leave less. */

/** The causes that are told apart. */
type Cause = 'translation' | 'path' | 'readout' | 'tracking';

/** What stays. */
export const leftOverTexts = {
  heading: 'What stays after stabilising',
  notKnown: 'How much stays is not known, for this clip cannot tell translation from rotation.',
  stays: (px: string, limit: string, atMost: boolean, worst: string): string =>
    `${atMost ? 'At most ' : ''}${px} px RMS of shake stay at delivery size (limit ${limit} px)${worst}.`,
  most: (px: string): string => `; 19 of 20 frames stay below ${px} px`,

  /** Which cause is the largest, and what would leave less of it. */
  largest: {
    translation:
      'Most of it is translation: the camera was shifted, and no turn of the picture takes that out. A smoother floor or a shorter lens leaves less.',
    path: 'Most of it is angular shake that the chosen path still follows. More smoothing leaves less and costs more crop.',
    readout:
      'Most of it is rolling shutter: the picture bends within the frame. A camera that reads out faster, or a stabiliser that corrects row by row, leaves less.',
    tracking:
      'Most of it is noise of the measuring and no fault of the dolly. More light and more detail in the shot leave less.',
  } satisfies Record<Cause, string>,
  ofItParallax: (share: string): string =>
    ` ${share} px of it is parallax, near against far; the rest shifts the whole picture, and taking out that shift costs crop.`,

  caption: 'Shake left by cause, at delivery size',
  head: {
    cause: 'Cause',
    rms: 'RMS',
    p95: '19 of 20 frames below',
    seen: 'At the eye',
    limit: (px: string): string => `limit ${px} px`,
  },
  names: {
    translation: 'Translation',
    parallax: 'of it parallax',
    path: 'Path',
    readout: 'Rolling shutter',
    tracking: 'Measuring',
    all: 'All together',
  },
  meanings: {
    translation: 'the camera was shifted: no turn of the picture removes it',
    parallax: 'near against far: no shift of the picture removes it, either',
    path: 'angular shake that the chosen path still follows',
    readoutUnknown: 'bend within the frame; not known without the readout time',
    readoutNone: 'bend within the frame; all rows of this sensor are read at once',
    readoutByRows: (wholeFrames: string): string =>
      `bend within the frame, rows corrected; a stabiliser that turns whole frames leaves ${wholeFrames}`,
    tracking: 'noise of the measured angles, written into the picture',
    all: 'root of the sum of squares',
  },
  notKnownCell: 'not known',
  px: (value: string): string => `${value} px`,
  atMost: 'at most ',
  arcMin: (value: string): string => `${value}′`,

  blurNotKnown: 'How motion blur pulses is not known.',
  blurTooLittle: (px: string): string =>
    `The length of motion blur swings by ${px} px from frame to frame while the stabilised picture stands still: too little to be seen as pulsing sharpness.`,
  blurNoShutter: (px: string): string =>
    `The length of motion blur swings by ${px} px from frame to frame while the stabilised picture stands still, so its sharpness pulses; no shutter is short enough against that.`,
  blurShutter: (px: string, shutterDeg: string): string =>
    `The length of motion blur swings by ${px} px from frame to frame while the stabilised picture stands still, so its sharpness pulses; a shutter of ${shutterDeg}° or less would keep it too small to be seen.`,
  seenFrom: (heights: string, arcMinPerPx: string, designDistance: boolean): string =>
    `At the eye: in minutes of arc, seen from ${heights} picture heights${designDistance ? ' (design viewing distance of ITU-R BT.2022)' : ''}, where one pixel of the delivery is ${arcMinPerPx}′.`,
} as const;
