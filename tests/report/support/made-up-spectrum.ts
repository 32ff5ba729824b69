/**
 * A made-up spectrum section that belongs to the made-up motion: densities, bands and pictures as they are analysed, and of causes one of
 * each kind that a report has words for. The rig: wheels of 50 mm, joints every 300 mm, a motor at 31 Hz, a mount that rings.
 */
import type { Motion } from '../../../src/motion/types.js';
import type { Axis, Peak, ShakeSourceSection, SpectrumSection } from '../../../src/run/index.js';
import { analyseSpectrum, spectrumSection } from '../../../src/spectrum/index.js';
import { madeUpMotion } from './made-up-motion.js';

const SPEED_MPS = 0.25;

/** A source with nothing special about it. */
function source(
  freqHz: number,
  axes: readonly Axis[],
  cause: ShakeSourceSection['cause'],
  more: Partial<ShakeSourceSection> = {},
): ShakeSourceSection {
  const named = cause !== 'unknown';
  const trueHz = more.trueHz ?? freqHz;
  return {
    freqHz,
    ci95Hz: [freqHz - 0.02, freqHz + 0.02],
    axes: [...axes],
    shape: 'line',
    shiftPx: 0.5,
    cause,
    confidence: named ? 0.91 : null,
    reason: named ? null : 'Nothing that was given shakes at 9.4 Hz.',
    candidates: [
      { cause, order: 1, trueHz, probability: named ? 0.91 : 0.55 },
      { cause: named ? 'unknown' : 'wheel', order: named ? 1 : 4, trueHz, probability: 0.09 },
    ],
    trueHz,
    exposureGain: 0.98,
    trueRms: 0.0185,
    trueRmsAxis: axes[0],
    couldBeHz: [freqHz, 25 - freqHz, 25 + freqHz],
    harmonic: null,
    followsTravel: null,
    sound: null,
    otherRun: null,
    wobblePx: null,
    ...more,
  };
}

const SOURCES: readonly ShakeSourceSection[] = [
  source(1.62, ['tilt', 'roll', 'vertical'], 'wheel', {
    shiftPx: 1.9,
    confidence: 0.95,
    harmonic: { family: 0, baseHz: 1.62, order: 1 },
    followsTravel: 0.97,
    wobblePx: 0.4,
    otherRun: {
      otherHz: 2.44,
      behaves: 'constantWavelength',
      probability: 0.95,
      trueHz: 1.62,
      reason: null,
    },
  }),
  source(7.3, ['tilt'], 'mount', {
    shiftPx: 1.1,
    trueRms: 0.0132,
    shape: 'resonance',
    confidence: 0.78,
    candidates: [
      { cause: 'mount', order: 1, trueHz: 7.3, probability: 0.78 },
      { cause: 'unknown', order: 1, trueHz: 7.3, probability: 0.2 },
    ],
  }),
  source(6, ['pan', 'tilt'], 'machine', {
    shiftPx: 0.6,
    trueRms: 0.0088,
    confidence: 0.93,
    trueHz: 31,
    exposureGain: 0.48,
    sound: { trueHz: 31, kind: 'tone', probability: 0.95 },
    candidates: [
      { cause: 'machine', order: 1, trueHz: 31, probability: 0.93 },
      { cause: 'unknown', order: 1, trueHz: 6, probability: 0.06 },
    ],
    wobblePx: 1.3,
  }),
  source(0.83 * 5, ['vertical'], 'joint', {
    shiftPx: 0.3,
    trueRms: 0.082,
    candidates: [
      { cause: 'joint', order: 5, trueHz: 0.83 * 5, probability: 0.91 },
      { cause: 'unknown', order: 1, trueHz: 0.83 * 5, probability: 0.09 },
    ],
    harmonic: { family: 1, baseHz: 0.83, order: 5 },
  }),
  source(9.4, ['roll'], 'unknown', { shiftPx: 0.1, trueRms: null, exposureGain: 0.2 }),
];

/** The motion with the lines that it does not have already: the motor, the joints and what nobody knows. */
function withLines(motion: Motion): Motion {
  const DEG = Math.PI / 180;
  const add = (axis: Axis, freqHz: number, rms: number): Float64Array =>
    motion.vibration[axis].map(
      (v, i) => v + Math.SQRT2 * rms * Math.sin(2 * Math.PI * freqHz * motion.timeS[i]),
    );
  const vibration = {
    ...motion.vibration,
    pan: add('pan', 6, 0.0042 * DEG),
    tilt: add('tilt', 6, 0.0061 * DEG),
    roll: add('roll', 9.4, 0.0011 * DEG),
    vertical: add('vertical', 0.83 * 5, 8e-5),
  };
  return { ...motion, vibration };
}

function peak(axis: Axis, at: number, rms: number): Peak {
  const from = SOURCES[at];
  return {
    axis,
    freqHz: from.freqHz,
    ci95Hz: [...from.ci95Hz],
    widthHz: from.shape === 'line' ? 0.1 : 0.4,
    rms,
    rmsCi95: [0.8 * rms, 1.2 * rms],
    unit: axis === 'vertical' ? 'mm' : 'deg',
    prominenceDb: 14,
    shape: from.shape,
    wavelengthM: SPEED_MPS / from.trueHz,
    cause: from.cause,
    confidence: from.confidence,
    source: at,
    mayBeRipple: false,
  };
}

/** The section. */
export function madeUpSpectrum(motion: Motion): SpectrumSection {
  const analysed = analyseSpectrum(withLines(motion), {
    ...{ rig: { speedMps: SPEED_MPS }, surface: null, exposureS: 0.02 },
    ...{ levels: null, sound: null, otherRun: null },
  });
  return {
    ...spectrumSection(analysed, 2),
    sources: structuredClone([...SOURCES]),
    peaks: [
      peak('pan', 2, 0.0042),
      peak('tilt', 0, 0.0181),
      peak('tilt', 1, 0.0129),
      peak('tilt', 2, 0.0061),
      peak('roll', 0, 0.0097),
      peak('roll', 4, 0.0011),
      peak('vertical', 0, 0.18),
      peak('vertical', 3, 0.08),
    ],
    falsePeaks: { inHundred: 2, axes: ['tilt', 'roll', 'vertical'] },
    suggestedSpeed: {
      mps: 0.2545,
      ci95Mps: [0.2535, 0.2555],
      givenMps: SPEED_MPS,
      confidence: 0.94,
      fromSources: 2,
    },
    sound: {
      used: true,
      reason: null,
      levelDb: -38,
      lines: [{ freqHz: 31, kind: 'tone', strength: 80 }],
    },
    flicker: { lampHz: 100, seenHz: 0.9, depthPercent: 1.2, inBands: false },
    comparedWith: { name: 'dairy-hall-faster', speedMps: 0.375 },
    notes: [
      'At 25 frames/s shake above 12.5 Hz shows at a lower frequency: each source lists what else it could be.',
    ],
  };
}

let plain: SpectrumSection | null = null;

/** The section of the made-up motion as it is, analysed once for all tests of a process; a copy for each caller. */
export function plainSpectrum(): SpectrumSection {
  plain ??= madeUpSpectrum(madeUpMotion());
  return structuredClone(plain);
}
