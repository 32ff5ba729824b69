/** Words on how it was measured, on the published sources behind the figures, and the cautions for people. */

/** A published source, and what of the report stands on it. */
export interface SourceWords {
  readonly name: string;
  readonly serves: string;
  /** True where some value or definition was written down from memory, not from a copy. */
  readonly fromMemory: boolean;
}

const source = (name: string, serves: string, fromMemory = false): SourceWords => ({
  name,
  serves,
  fromMemory,
});

/** Words of method, sources and cautions. */
export const methodTexts = {
  heading: 'Method and sources',
  inBrief: 'Method and limits in brief',
  points:
    'Points of the picture are followed from frame to frame. One fit over the whole clip finds how the camera turned and moved in each frame and how far each point is; near and far points shifting differently is what tells translation from rotation.',
  split: (splitHz: number): string =>
    `Each axis is split by frequency: below ${splitHz} Hz is the intended move, above is shake. The first and last half second, where that split is least sure, are left out of the figures of shake; the crop counts every frame.`,
  ranges:
    'The figures that decide, and those of the shake of each axis, have a 95 % range or a noise floor; peak to peak, single kicks and the ways to stabilise are as measured. Shake under its noise floor is printed as “below”, never as a number.',
  metric:
    'Millimetres come from the travel or speed that was given; an error of 2 % there is 2 % of every millimetre figure. Angles do not depend on it.',
  relative: 'Without travel or speed, translation is in per cent of the median distance to the scene.',
  crop: 'Crop is per cent of the frame width, for the smallest centred zoom in the shape of the delivery that shows no border in any frame measured.',
  sampling: (pictures: number, nyquistHz: number): string =>
    `The clip samples ${pictures} pictures a second: shake faster than ${nyquistHz} Hz is folded to lower frequencies, and the exposure damps fast shake.`,
  oneSample: 'A test pass is one sample. A longer take meets more of the floor and may need more crop.',
  guidance:
    'The limits for visible shake are guidance built from published viewing experiments, no standard.',

  sources: 'Published sources',
  sourcesSentence:
    'What is not listed here is the project’s own derivation, told in its files. A mark (m) stands where a value or definition was written down from memory.',
  memoryMark: '(m)',
  memory: 'from memory',
  standards: 'Standards',
  standardList: [
    source('ISO 8608', 'roughness of the floor in classes; here finer steps below class A, and no road'),
    source(
      'EN ISO 3095:2013',
      'limit spectrum of rails, to show how fine a track is; no acoustic measurement',
    ),
    source('IEC 61260-1:2014', 'edges of the one-third-octave bands'),
    source('ASTM E1155', 'floor flatness FF; no survey by that standard', true),
    source('DIN 18202, table 3', 'gaps under a straightedge, rows for floors', true),
    source('BS 8204', 'gaps under a straightedge'),
    source('ISO 16610-21', 'Gaussian filter of the profile'),
    source('SMPTE ST 12-1', 'timecode and drop-frame counting', true),
    source('SMPTE ST 2046-1', 'safe areas in the frame', true),
    source('ITU-R BT.500 and BT.2022', 'design viewing distance, a line of the picture a minute of arc'),
    source('ISO 1007, SMPTE ST 59, ST 7, ST 201', 'sizes of film and sensor formats'),
  ],
  papers: 'Papers',
  paperList: [
    source('Longuet-Higgins and Prazdny 1980', 'how turning and moving shift near and far points'),
    source(
      'Shi and Tomasi 1994; Lucas and Kanade 1981; Bouguet 2000',
      'points that are worth following, and following them',
    ),
    source(
      'Sampson error, after Hartley and Zisserman',
      'first guess of the motion between two frames',
      true,
    ),
    source('Agarwal, Snavely, Seitz and Szeliski 2010', 'solving one fit over the whole clip', true),
    source('Brown 1966, after Conrady', 'lens distortion'),
    source('Welch 1967; Harris 1978', 'spectra, windows and their noise bandwidth'),
    source('Riedel and Sidorenko 1995', 'sine tapers, for short clips and third octaves', true),
    source('Carter, Knapp and Nuttall 1973', 'which axes shake together', true),
    source('Grundmann, Kwatra and Essa 2011', 'the smoothest path within a crop'),
    source('Liu, Yuan, Tan and Sun 2013', 'cropping, distortion and stability of a stabilised clip', true),
    source('Rice 1944; Pickands 1975', 'what a longer take may need'),
  ],

  cautions: 'Care for people',
  beforeThePass:
    'Walk the run before the pass. Keep people, cables and loose parts off the path and mark the ends of the track. Route or cover cables: they trip people, and they spoil the measurement too. Secure the camera. One person controls the dolly and can stop it at once; start slowly. Check that floor, deck or raised panels carry dolly, camera and riders, also on one wheel. Nobody stands in the path during a test pass.',
  noStatement:
    'The grade describes picture steadiness only; it is no statement on structural safety. Local rules and qualified grips decide.',
} as const;
