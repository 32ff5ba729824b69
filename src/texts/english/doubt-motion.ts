/** Doubts that the motion of the picture raises: what was seen, which figures not to trust, what to do. */

const NOT_OF_THE_FLOOR =
  'Pan, tilt and roll, the crop and the grade of the floor are then of what the camera left, not of what the dolly did. Switch stabilising off in camera and lens and film again';

/** Sentences of the doubts of this room. */
export const motionDoubtTexts = {
  slidingPicture: `Signs that the picture was stabilised in camera or lens: it slides under the lens against the shake. ${NOT_OF_THE_FLOOR}.`,
  /** @param liftMm how far the camera goes up and down, mm RMS */
  turnMissing: (liftMm: string): string =>
    `Signs that the picture was stabilised in camera: the camera goes up and down by ${liftMm} mm, but hardly turns, as no deck on wheels does. ${NOT_OF_THE_FLOOR}. With a head that levels itself, say so with --head self-levelling and measure again.`,
  zoom: (percent: string): string =>
    `Signs of a zoom during the pass: near and far alike, the picture changed its size by about ${percent} %. Do not trust axial, distances, millimetres or the grade of the floor; angles are off by as much. Film again with the focal length fixed.`,
  breathing: (percent: string): string =>
    `Signs that the focus was pulled: near and far alike, the picture changed its size by about ${percent} %. Do not trust axial; angles are off by as much at most. Hold the focus and film again.`,
  hunting:
    'Signs that the focus hunts: near and far alike, the picture grows and shrinks many times a second. Do not trust axial. Set the focus by hand and film again.',
  subject: (percent: number): string =>
    `About ${percent} % of what was followed moves by itself, as a person near the lens does. If that was taken for the room, no figure is of the camera. Film again with nobody in the picture, or measure a part of the clip without them (--in, --out).`,
  readout: (givenMs: string, lowMs: string, highMs: string): string =>
    `The readout given (${givenMs} ms) does not go with the picture: its rows show ${lowMs === highMs ? lowMs : `${lowMs} to ${highMs}`} ms. All figures hold some wobble of the rows; vertical, lateral and axial are not to be trusted. Measure again with the right readout, or without one.`,
} as const;
