/** What a made-up pass is: scene, camera, move, vibration or deck, shutter, noise, coding; and the defaults of all of it. */
import type { AngularAxis, TranslationalAxis } from '../run/index.js';
import { SYNTH_SCENES, type SceneName } from './scene-list.js';

/** How the camera travels. */
export type Move = 'lateral' | 'arc' | 'pushIn' | 'static';

/** A narrow peak: its frequency and its share (0..1) of the axis' vibration power. */
export interface VibrationPeak {
  readonly freqHz: number;
  readonly share: number;
}

/** Vibration given axis by axis; RMS above 0.8 Hz over the frames of the clip, 0.5 s at each end left out. */
export interface VibrationOptions {
  readonly angularDegRms: Readonly<Record<AngularAxis, number>>;
  readonly translationMmRms: Readonly<Record<TranslationalAxis, number>>;
  /** Broad part: random sines between these frequencies. */
  readonly bandHz: readonly [number, number];
  readonly peaks: readonly VibrationPeak[];
}

/** Joints across the floor at even distances; each tile lies higher or lower than its neighbours by chance. */
export interface JointOptions {
  readonly spacingM: number;
  /** Standard deviation of the tiles' heights, each wheel track by itself. */
  readonly lippageMm: number;
  readonly gapWidthMm: number;
  readonly gapDepthMm: number;
  /** Place of the first joint, from the rear axle at time 0. */
  readonly firstAtM: number;
}

/** One step up (or down) of the floor under both wheel tracks. */
export interface StepOptions {
  /** From the rear axle at time 0, along the travel. */
  readonly atM: number;
  readonly heightMm: number;
}

/** A floor: its displacement power spectral density and what lies on it. */
export interface FloorOptions {
  /** Gd(n0) in cubic metres at n0 = 0.1 cycles per metre, in the form of ISO 8608; 0 for a perfect plane. */
  readonly gdM3: number;
  readonly waviness: number;
  /** Wavenumber at which the two wheel tracks have lost their likeness: coherence falls as exp(-2 n / this). */
  readonly coherencePerM: number;
  readonly joints: JointOptions | null;
  readonly steps: readonly StepOptions[];
}

/** A rigid deck on two axles. */
export interface DeckOptions {
  readonly wheelbaseM: number;
  readonly trackWidthM: number;
  readonly wheelRadiusM: number;
  /** Lens ahead of the middle between the axles. */
  readonly cameraOffsetM: number;
  readonly floor: FloorOptions;
}

/** A pass in full. */
export interface SynthOptions {
  readonly seed: number;
  readonly scene: SceneName;
  readonly durationS: number;
  readonly fps: number;
  /** Exact rate, for example "24000/1001". */
  readonly fpsFraction: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly focalLengthMm: number;
  readonly sensorWidthMm: number;
  readonly move: Move;
  readonly speedMps: number;
  /** Slow change of speed, as a share of it. */
  readonly speedWander: number;
  /** Slow pan and tilt of an operated head, amplitude; far below the vibration band. */
  readonly driftDeg: number;
  /** Lens against travel: 0 looks ahead, +90 to the right of it. */
  readonly lensAzimuthDeg: number;
  /** Distance of the point that an arc goes around. */
  readonly arcRadiusM: number;
  readonly cameraHeightM: number;
  readonly vibration: VibrationOptions;
  readonly deck: DeckOptions | null;
  /** A figure that walks beside the camera, at this distance; null for none. */
  readonly subjectDistanceM: number | null;
  /** 0 for a global shutter. */
  readonly readoutMs: number;
  /** 0 for an instant. */
  readonly shutterAngleDeg: number;
  /** Instants that are averaged over the exposure. */
  readonly motionSamples: number;
  /** Standard deviation, grey levels of 0..255. */
  readonly noiseGrey: number;
  /** Blur of the lens, standard deviation in pixels, up to 0.7. */
  readonly softnessPx: number;
  /** Light: 1 as drawn, 0.2 dark. */
  readonly brightness: number;
  /** Contrast around middle grey: 1 as drawn. */
  readonly contrast: number;
  readonly transfer: 'display' | 'log';
  /** Radial distortion k1; 0 for none. */
  readonly lensK1: number;
  readonly colour: boolean;
  readonly crf: number;
  readonly allIntra: boolean;
  /** Most B frames in a row; null for the encoder's choice. */
  readonly bFrames: number | null;
  /** Speed against size, in the encoder's words. */
  readonly preset: string;
}

/** Defaults of the vibration. */
export const VIBRATION_DEFAULTS: VibrationOptions = {
  angularDegRms: { pan: 0, tilt: 0, roll: 0 },
  translationMmRms: { lateral: 0, vertical: 0, axial: 0 },
  bandHz: [2, 10],
  peaks: [],
};

/** Defaults of the joints, where there are any. */
export const JOINT_DEFAULTS: JointOptions = {
  spacingM: 0.3,
  lippageMm: 0.3,
  gapWidthMm: 4,
  gapDepthMm: 2,
  firstAtM: 0.1,
};

/** Defaults of the floor. */
export const FLOOR_DEFAULTS: FloorOptions = {
  gdM3: 1e-6,
  waviness: 2,
  coherencePerM: 3,
  joints: null,
  steps: [],
};

/** Defaults of the deck, where there is one. */
export const DECK_DEFAULTS: DeckOptions = {
  wheelbaseM: 0.45,
  trackWidthM: 0.4,
  wheelRadiusM: 0.04,
  cameraOffsetM: 0.05,
  floor: FLOOR_DEFAULTS,
};

/** Defaults of a pass; the azimuth follows from the move. */
export const SYNTH_DEFAULTS: Omit<SynthOptions, 'lensAzimuthDeg' | 'fpsFraction'> = {
  seed: 1,
  scene: 'dairy-hall',
  durationS: 5,
  fps: 25,
  widthPx: 1280,
  heightPx: 720,
  focalLengthMm: 35,
  sensorWidthMm: 36,
  move: 'lateral',
  speedMps: 0.2,
  speedWander: 0.1,
  driftDeg: 0.05,
  arcRadiusM: 3.2,
  cameraHeightM: 1.1,
  vibration: VIBRATION_DEFAULTS,
  deck: null,
  subjectDistanceM: null,
  readoutMs: 0,
  shutterAngleDeg: 0,
  motionSamples: 6,
  noiseGrey: 0.5,
  softnessPx: 0.6,
  brightness: 1,
  contrast: 1,
  transfer: 'display',
  lensK1: 0,
  colour: true,
  crf: 16,
  allIntra: false,
  bFrames: null,
  preset: 'medium',
};

/** Every field may be left out, inside the groups too. */
export type PartialSynthOptions = Partial<
  Omit<SynthOptions, 'vibration' | 'deck' | 'fps'> & { readonly fps: number | string }
> & {
  readonly vibration?: Partial<
    Omit<VibrationOptions, 'angularDegRms' | 'translationMmRms'> & {
      readonly angularDegRms: Partial<VibrationOptions['angularDegRms']>;
      readonly translationMmRms: Partial<VibrationOptions['translationMmRms']>;
    }
  >;
  readonly deck?:
    | (Partial<Omit<DeckOptions, 'floor'>> & {
        readonly floor?: Partial<Omit<FloorOptions, 'joints'>> & {
          readonly joints?: Partial<JointOptions> | null;
        };
      })
    | null;
};

const AZIMUTH_DEG: Readonly<Record<Move, number>> = { lateral: -90, arc: -90, pushIn: 0, static: -90 };

/** Numeric fields: name, lowest, highest. */
const RANGES = [
  ['seed', 0, 2 ** 32 - 1],
  ['durationS', 0.04, 600],
  ['fps', 1, 240],
  ['widthPx', 16, 4096],
  ['heightPx', 16, 4096],
  ['focalLengthMm', 4, 400],
  ['sensorWidthMm', 3, 80],
  ['speedMps', 0, 3],
  ['speedWander', 0, 0.5],
  ['driftDeg', 0, 2],
  ['lensAzimuthDeg', -180, 180],
  ['arcRadiusM', 0.5, 50],
  ['cameraHeightM', 0.1, 3],
  ['readoutMs', 0, 100],
  ['shutterAngleDeg', 0, 360],
  ['motionSamples', 1, 64],
  ['noiseGrey', 0, 64],
  ['softnessPx', 0, 0.7],
  ['brightness', 0, 4],
  ['contrast', 0, 4],
  ['lensK1', -0.3, 0.3],
  ['crf', 0, 51],
] as const satisfies readonly (readonly [keyof SynthOptions, number, number])[];

/** Rate as number and as exact fraction. @throws RangeError on anything that is no rate */
function readFps(fps: number | string): { fps: number; fpsFraction: string } {
  if (typeof fps === 'number') return { fps, fpsFraction: String(fps) };
  const parts = /^(\d+)(?:\/(\d+))?$/.exec(fps.trim());
  if (!parts) throw new RangeError(`fps must be a number or a fraction such as 24000/1001, got "${fps}"`);
  return { fps: Number(parts[1]) / Number(parts[2] ?? 1), fpsFraction: fps.trim() };
}

function resolveDeck(deck: PartialSynthOptions['deck']): DeckOptions | null {
  if (!deck) return null;
  const { floor = {}, ...body } = deck;
  const joints = floor.joints ? { ...JOINT_DEFAULTS, ...floor.joints } : null;
  const resolved: DeckOptions = { ...DECK_DEFAULTS, ...body, floor: { ...FLOOR_DEFAULTS, ...floor, joints } };
  for (const name of ['wheelbaseM', 'trackWidthM', 'wheelRadiusM'] as const) {
    if (!(resolved[name] > 0)) throw new RangeError(`deck.${name} must be above 0, got ${resolved[name]}`);
  }
  if (!(resolved.floor.gdM3 >= 0))
    throw new RangeError(`deck.floor.gdM3 must be 0 or more, got ${resolved.floor.gdM3}`);
  if (joints && !(joints.spacingM > 0.01)) {
    throw new RangeError(`deck.floor.joints.spacingM must be above 0.01, got ${joints.spacingM}`);
  }
  return resolved;
}

function resolveVibration(given: PartialSynthOptions['vibration'] = {}): VibrationOptions {
  const d = VIBRATION_DEFAULTS;
  const resolved: VibrationOptions = {
    ...d,
    ...given,
    angularDegRms: { ...d.angularDegRms, ...given.angularDegRms },
    translationMmRms: { ...d.translationMmRms, ...given.translationMmRms },
  };
  const shares = resolved.peaks.reduce((sum, peak) => sum + peak.share, 0);
  if (!(shares <= 1))
    throw new RangeError(`the shares of vibration.peaks must sum to 1 or less, got ${shares}`);
  if (!(resolved.bandHz[0] > 0 && resolved.bandHz[0] < resolved.bandHz[1]))
    throw new RangeError(`vibration.bandHz must rise from above 0, got ${resolved.bandHz.join('..')}`);
  return resolved;
}

/**
 * Completes the options of a pass.
 *
 * @param given fields to set; the rest comes from {@link SYNTH_DEFAULTS}
 * @throws RangeError naming field, rule and value on anything that cannot be filmed: numbers out of range, an unknown scene
 *   or move, odd picture sizes, a deck that stands still or goes round a bend
 * @example resolveSynthOptions({ move: 'pushIn' }).lensAzimuthDeg // 0
 */
export function resolveSynthOptions(given: PartialSynthOptions = {}): SynthOptions {
  const move = given.move ?? SYNTH_DEFAULTS.move;
  if (!Object.hasOwn(AZIMUTH_DEG, move)) {
    throw new RangeError(`move must be one of ${Object.keys(AZIMUTH_DEG).join(', ')}, got "${move}"`);
  }
  const options: SynthOptions = {
    ...SYNTH_DEFAULTS,
    lensAzimuthDeg: AZIMUTH_DEG[move],
    ...given,
    ...readFps(given.fps ?? SYNTH_DEFAULTS.fps),
    ...(move === 'static' ? { speedMps: 0 } : {}),
    vibration: resolveVibration(given.vibration),
    deck: resolveDeck(given.deck),
  };
  for (const [name, lowest, highest] of RANGES) {
    const value = options[name];
    if (!(value >= lowest && value <= highest))
      throw new RangeError(`${name} must lie in ${lowest}..${highest}, got ${value}`);
  }
  for (const name of ['widthPx', 'heightPx'] as const) {
    if (options[name] % 2 !== 0) throw new RangeError(`${name} must be even, got ${options[name]}`);
  }
  if (!SYNTH_SCENES.some((scene) => scene.name === options.scene)) {
    const names = SYNTH_SCENES.map((scene) => scene.name).join(', ');
    throw new RangeError(`scene must be one of ${names}, got "${options.scene}"`);
  }
  if (options.deck && (move === 'static' || move === 'arc'))
    throw new RangeError(`a deck rolls straight: move must be lateral or pushIn, got "${move}"`);
  if (move === 'arc' && Math.abs(options.lensAzimuthDeg) !== 90)
    throw new RangeError(`lensAzimuthDeg of an arc must be -90 or 90, got ${options.lensAzimuthDeg}`);
  return options;
}

/** Frames of the clip. */
export function frameCountOf(options: SynthOptions): number {
  return Math.max(1, Math.round(options.durationS * options.fps));
}

/** Time stamp of a frame, in seconds: frame 0 at 0, exact for fractions. */
export function frameTimeS(options: SynthOptions, frame: number): number {
  const [over, under = '1'] = options.fpsFraction.split('/');
  return (frame * Number(under)) / Number(over);
}
