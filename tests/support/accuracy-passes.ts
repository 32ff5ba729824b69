/** The made-up passes that accuracy is measured on: moves, lenses, a moving subject, a dark clip, silent axes, a locked-off camera. */
import type { Axis } from '../../src/run/index.js';
import type { Pass } from './accuracy.js';

/** Frequency that stands out on every axis of the passes below, Hz. */
export const DOMINANT_HZ = 4.3;

const VIBRATION = {
  angularDegRms: { pan: 0.02, tilt: 0.025, roll: 0.018 },
  translationMmRms: { lateral: 0.3, vertical: 0.4, axial: 0.3 },
  bandHz: [1.5, 10],
  peaks: [{ freqHz: DOMINANT_HZ, share: 0.4 }],
} as const;

const COMMON = { durationS: 5, fps: 30, widthPx: 1280, heightPx: 720, vibration: VIBRATION } as const;

/** Speed of a push-in is kept low enough that the nearest things stay in front of the lens. */
const SPEED_MPS = 0.2;

/** Distance at which the walking figure covers more than 15 % of the frame, by focal length. */
const SUBJECT_M: Record<number, number> = { 28: 2.2, 35: 2.6, 50: 3.4 };

type Move = 'lateral' | 'arc' | 'pushIn';

/** The moves and lenses that a subject walks through in the tests: every move and every lens with and without one. */
const WITH_SUBJECT: Readonly<Record<Move, readonly number[]>> = {
  lateral: [28, 50],
  arc: [35],
  pushIn: [28],
};

/** A pass as the tests film it: in grey and as large as it is analysed, at half the cost of the size that the table of accuracy has it in. */
export function asTested(pass: Pass): Pass {
  return { ...pass, colour: false, widthPx: 960, heightPx: 540 };
}

/** A pass whose silent axes need the full size: in grey and a sixth fewer frames; the shake ends at 10 Hz. */
export function atFullSize(pass: Pass): Pass {
  return { ...pass, colour: false, fps: 25 };
}

/** The passes of one move that the tests film: every lens once; the table of accuracy has them all. */
export function testedPassesOf(move: Move): Pass[] {
  return passesOf(move)
    .filter(
      ({ focalLengthMm = 0, subjectDistanceM }) =>
        (subjectDistanceM !== null) === WITH_SUBJECT[move].includes(focalLengthMm),
    )
    .map(asTested);
}

/** The passes of one move: three lenses, each with and without a moving subject. */
export function passesOf(move: Move): Pass[] {
  return [28, 35, 50].flatMap((focalLengthMm, i) =>
    [false, true].map((subject) => ({
      ...COMMON,
      name: `${move}-${focalLengthMm}${subject ? '-subject' : ''}`,
      move,
      speedMps: SPEED_MPS,
      focalLengthMm,
      seed: 10 + i,
      subjectDistanceM: subject ? (SUBJECT_M[focalLengthMm] ?? null) : null,
    })),
  );
}

/** Little light, little contrast, much noise. */
export const DARK_PASS: Pass = {
  ...COMMON,
  name: 'dark-noisy',
  move: 'lateral',
  speedMps: SPEED_MPS,
  focalLengthMm: 35,
  seed: 21,
  brightness: 0.4,
  contrast: 0.5,
  noiseGrey: 3,
  // A dark clip needs a strong shake to be worth measuring.
  vibration: { ...VIBRATION, angularDegRms: { pan: 0.03, tilt: 0.07, roll: 0.05 } },
};

/** Only angles shake. */
export const SILENT_TRANSLATION_PASS: Pass = {
  ...COMMON,
  name: 'angles-only',
  move: 'lateral',
  speedMps: SPEED_MPS,
  focalLengthMm: 35,
  seed: 31,
  vibration: { ...VIBRATION, translationMmRms: { lateral: 0, vertical: 0, axial: 0 } },
};

/** Only translation shakes. */
export const SILENT_ANGLES_PASS: Pass = {
  ...COMMON,
  name: 'translation-only',
  move: 'lateral',
  speedMps: SPEED_MPS,
  focalLengthMm: 35,
  seed: 32,
  vibration: { ...VIBRATION, angularDegRms: { pan: 0, tilt: 0, roll: 0 } },
};

/** A camera on a stand that nobody touches. */
export const LOCKED_OFF_PASS: Pass = {
  ...COMMON,
  name: 'locked-off',
  move: 'static',
  focalLengthMm: 35,
  seed: 33,
  driftDeg: 0,
  noiseGrey: 1.5,
  vibration: {
    ...VIBRATION,
    angularDegRms: { pan: 0, tilt: 0, roll: 0 },
    translationMmRms: { lateral: 0, vertical: 0, axial: 0 },
  },
};

/** One axis shakes, the others are still: a small clip is enough to see the sign. */
export function singleAxisPass(axis: Axis): Pass {
  const angular = axis === 'pan' || axis === 'tilt' || axis === 'roll';
  return {
    name: `sign-${axis}`,
    durationS: 3,
    fps: 25,
    widthPx: 640,
    heightPx: 360,
    move: 'lateral',
    speedMps: 0.2,
    focalLengthMm: 28,
    seed: 41,
    vibration: {
      angularDegRms: angular ? { [axis]: 0.06 } : {},
      translationMmRms: angular ? {} : { [axis]: 1.2 },
      bandHz: [2, 6],
    },
  };
}

/** The plain pass of a move and lens, filmed once more from another seed. */
function again(name: string, seed: number): Pass {
  return { ...plainPass(name), name: `${name}-s${seed}`, seed: 100 + seed };
}

/** The same pass with every frame coded by itself. */
function allIntra(name: string): Pass {
  return { ...plainPass(name), name: `${name}-intra`, allIntra: true };
}

function plainPass(name: string): Pass {
  const pass = [...passesOf('lateral'), ...passesOf('arc'), ...passesOf('pushIn')].find(
    (p) => p.name === name,
  );
  if (!pass) throw new Error(`no pass is called ${name}`);
  return pass;
}

const REPEATED = ['lateral-35', 'arc-50', 'pushIn-28'];

/** All passes of the accuracy table: those of the tests, and for three of them other seeds and all-intra coding. */
export const BENCH_PASSES: readonly Pass[] = [
  ...passesOf('lateral'),
  ...passesOf('arc'),
  ...passesOf('pushIn'),
  DARK_PASS,
  SILENT_TRANSLATION_PASS,
  SILENT_ANGLES_PASS,
  LOCKED_OFF_PASS,
  ...REPEATED.flatMap((name) => [again(name, 2), again(name, 3), allIntra(name)]),
];
