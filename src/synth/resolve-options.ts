/** Completes the options of a made-up pass and refuses what cannot be filmed. */
import {
  DECK_DEFAULTS,
  FLOOR_DEFAULTS,
  JOINT_DEFAULTS,
  SYNTH_DEFAULTS,
  VIBRATION_DEFAULTS,
} from './option-defaults.js';
import { resolveLamps, resolveLobes, resolveMachines, resolveMount } from './causes/resolve-causes.js';
import type {
  DeckOptions,
  Move,
  PartialSynthOptions,
  SynthOptions,
  TrackSide,
  VibrationOptions,
} from './options.js';
import { SYNTH_SCENES } from './scene-list.js';

const AZIMUTH_DEG: Readonly<Record<Move, number>> = { lateral: -90, arc: -90, pushIn: 0, static: -90 };

const SIDES: readonly TrackSide[] = ['left', 'right', 'both'];

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
  const steps = (floor.steps ?? []).map((step) => ({ side: 'both' as const, ...step }));
  const bumps = (floor.bumps ?? []).map((bump) => ({ side: 'both' as const, ...bump }));
  const resolved: DeckOptions = {
    ...DECK_DEFAULTS,
    ...body,
    lobes: resolveLobes(body.lobes),
    mount: resolveMount(body.mount),
    floor: { ...FLOOR_DEFAULTS, ...floor, joints, steps, bumps },
  };
  for (const name of ['wheelbaseM', 'trackWidthM', 'wheelRadiusM'] as const) {
    if (!(resolved[name] > 0)) throw new RangeError(`deck.${name} must be above 0, got ${resolved[name]}`);
  }
  if (!(resolved.contactPatchM >= 0 && resolved.contactPatchM <= 0.2))
    throw new RangeError(`deck.contactPatchM must lie in 0..0.2, got ${resolved.contactPatchM}`);
  if (!(resolved.floor.gdM3 >= 0))
    throw new RangeError(`deck.floor.gdM3 must be 0 or more, got ${resolved.floor.gdM3}`);
  if (joints && !(joints.spacingM > 0.01)) {
    throw new RangeError(`deck.floor.joints.spacingM must be above 0.01, got ${joints.spacingM}`);
  }
  for (const { lengthMm } of bumps)
    if (!(lengthMm > 0)) throw new RangeError(`deck.floor.bumps lengthMm must be above 0, got ${lengthMm}`);
  for (const { side } of [...steps, ...bumps])
    if (!SIDES.includes(side))
      throw new RangeError(`side of a step or bump must be one of ${SIDES.join(', ')}, got "${side}"`);
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
    machines: resolveMachines(given.machines),
    lamps: resolveLamps(given.lamps),
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
