/** One set of conditions for a pass: the motion that the camera then has, lens, delivery and way of stabilising. */
import type { Camera } from '../../optics/index.js';
import { motionSection } from '../../motion/index.js';
import type { MotionSection, ResolvedDelivery, Rig, StabiliseSection } from '../../run/index.js';
import type { StabiliseMode } from '../../stabilise/index.js';
import { applyChanges, changeFurther } from '../changes/apply-changes.js';
import {
  isRefused,
  unchanged,
  type ChangedMotion,
  type PassChange,
  type RefusedChange,
} from '../changes/types.js';
import type { MeasuredPass, StabiliseChoice } from '../pass/measured-pass.js';
import { otherLens } from './other-lens.js';
import type { ResolvedWish } from './wish.js';

/** The conditions. */
export interface Setting {
  readonly pass: MeasuredPass;
  readonly moved: ChangedMotion;
  /** The motion as a document says it; that of the run where it does not change. */
  readonly motion: MotionSection;
  readonly camera: Camera;
  readonly rig: Rig;
  /** Of the dolly; null when it is not known. */
  readonly speedMps: number | null;
  readonly delivery: ResolvedDelivery;
  readonly choice: StabiliseChoice;
  readonly assumes: readonly string[];
}

/** The pass as it was measured. */
export function asMeasured(pass: MeasuredPass): Setting {
  const { motion, rig, delivery, choice, sections } = pass;
  return {
    pass,
    moved: unchanged(motion),
    motion: sections.motion,
    camera: motion.camera,
    rig,
    speedMps: speedOf(pass) ?? null,
    delivery,
    choice,
    assumes: [],
  };
}

/** True when the motion is the one that was measured. */
export function isMeasuredMotion({ pass, moved }: Setting): boolean {
  return moved.expected === pass.motion;
}

/** True where the setting only names what was: nothing that a figure depends on is different. */
export function isAsItWas(setting: Setting): boolean {
  const { pass, camera, rig, delivery, choice } = setting;
  const now = pass.motion.camera;
  return (
    isMeasuredMotion(setting) &&
    camera.focalPx === now.focalPx &&
    camera.distortion === now.distortion &&
    rig.shutterAngleDeg === pass.rig.shutterAngleDeg &&
    alike(delivery, pass.delivery) &&
    alike(choice, pass.choice)
  );
}

function alike<Fields extends object>(a: Fields, b: Fields): boolean {
  return (Object.keys({ ...a, ...b }) as (keyof Fields)[]).every((name) => a[name] === b[name]);
}

/**
 * The pass as if it had been shot in the setting, which has to leave its motion as it was: what advice is foretold from. Shifts of the
 * picture grow with the focal length.
 */
export function passWith(
  { pass, camera, rig, delivery, choice }: Setting,
  stabilise: StabiliseSection,
): MeasuredPass {
  const { motion, sections } = pass;
  const longer = camera.focalPx / motion.camera.focalPx;
  const { spectrum } = sections;
  const sources = spectrum.sources.map((source) => ({ ...source, shiftPx: longer * source.shiftPx }));
  return {
    ...{ ...pass, rig, delivery, choice },
    motion: { ...motion, camera },
    sections: { ...sections, spectrum: { ...spectrum, sources }, stabilise },
  };
}

/** A motion that changes make of a pass, with its section. */
export type MovedSection = Pick<Setting, 'moved' | 'motion'>;

/** The motion after the changes, or why it cannot be foretold. @param changes at least one */
export function movedBy(pass: MeasuredPass, changes: readonly PassChange[]): MovedSection | RefusedChange {
  const moved = applyChanges(pass, changes);
  if (isRefused(moved)) return moved;
  return { moved, motion: moved.expected === pass.motion ? pass.sections.motion : sectionOf(pass, moved) };
}

/**
 * The pass under the conditions asked for, or why they cannot be foretold.
 *
 * @param move `movedBy`, or one that remembers what it found for the same pass and changes
 */
export function settingFor(
  pass: MeasuredPass,
  wish: ResolvedWish,
  move: typeof movedBy = movedBy,
): Setting | RefusedChange {
  const lens = otherLens(pass, wish);
  if ('refused' in lens) return lens;
  const changes = changesOf(pass, wish);
  const after = changes.length === 0 ? asMeasured(pass) : move(pass, changes);
  if ('refused' in after) return after;
  const { rig } = pass;
  const { shutterAngleDeg, speedMps, wheelbaseM, wheelDiameterM } = wish;
  return {
    pass,
    moved: after.moved,
    motion: after.motion,
    camera: lens.camera,
    rig: {
      ...(lens.focalFactor === 1 ? rig : inMillimetres(rig)),
      ...(lens.focalLengthMm !== null && { focalLengthMm: lens.focalLengthMm }),
      ...(lens.sensorWidthMm !== null && { sensorWidthMm: lens.sensorWidthMm }),
      ...(shutterAngleDeg !== undefined && { shutterAngleDeg }),
      ...(speedMps !== undefined && { speedMps }),
      ...(wheelbaseM !== undefined && { wheelbaseM }),
      ...(wheelDiameterM !== undefined && { wheelDiameterM }),
    },
    speedMps: speedMps ?? speedOf(pass) ?? null,
    delivery: wish.delivery ?? pass.delivery,
    choice: choiceFor(pass.choice, wish),
    assumes: [...lens.assumes, ...after.moved.assumes],
  };
}

/** The same conditions at another speed. @param setting at the speed of the pass */
export function atOtherSpeed(setting: Setting, speedMps: number): Setting | RefusedChange {
  const { pass } = setting;
  const [change] = changesOf(pass, { speedMps });
  if (change === undefined) return setting;
  const moved = changeFurther(pass, setting.moved, change);
  if (isRefused(moved)) return moved;
  return {
    ...setting,
    moved,
    motion: sectionOf(pass, moved),
    rig: { ...setting.rig, speedMps },
    speedMps,
    assumes: [...setting.assumes, ...moved.assumes],
  };
}

/** The speed that the pass goes by: as given, else as the travel made it. */
export function speedOf({ rig, floor }: Pick<MeasuredPass, 'rig' | 'floor'>): number | undefined {
  return rig.speedMps ?? floor?.present.setup.speedMps;
}

/** What the wish changes about the shake itself; what is as it was does not count. */
export function changesOf(pass: Pick<MeasuredPass, 'rig' | 'floor'>, wish: ResolvedWish): PassChange[] {
  const { rig, floor } = pass;
  const { wheelbaseM, wheelDiameterM, tyre } = wish;
  const changes: PassChange[] = [];
  const was = speedOf(pass);
  if (wish.speedMps !== undefined && wish.speedMps !== was) {
    // The floor was graded with a speed of its own, which a little differs from the one given: only the ratio counts.
    const graded = floor?.present.setup.speedMps;
    const speedMps =
      was === undefined || graded === undefined ? wish.speedMps : graded * (wish.speedMps / was);
    changes.push({ what: 'speed', speedMps });
  }
  if (wheelbaseM !== undefined && wheelbaseM !== rig.wheelbaseM)
    changes.push({ what: 'wheelbase', wheelbaseM });
  const diameterM = wheelDiameterM === rig.wheelDiameterM ? undefined : wheelDiameterM;
  if (diameterM !== undefined || tyre !== undefined)
    changes.push({
      what: 'wheel',
      ...(diameterM !== undefined && { diameterM }),
      ...(tyre !== undefined && { tyre }),
    });
  return changes;
}

/** Without the focal length in pixels, which is that of the lens used. */
function inMillimetres(rig: Rig): Rig {
  const other = { ...rig };
  delete other.focalPx;
  delete other.focalPxWidth;
  return other;
}

function choiceFor(choice: StabiliseChoice, { mode, smoothingS, takeS }: ResolvedWish): StabiliseChoice {
  // A smoothing asks for a way that has one.
  const other: StabiliseMode = mode ?? (smoothingS === undefined ? choice.mode : 'keepMove');
  return {
    ...choice,
    mode: other,
    smoothingS: smoothingS ?? choice.smoothingS,
    takeS: takeS ?? choice.takeS,
  };
}

/** The section of a foretold motion. Strongest frequencies are those of the pass: where they then lie is not asked. */
export function sectionOf(
  { sections }: MeasuredPass,
  { expected }: Pick<ChangedMotion, 'expected'>,
): MotionSection {
  const { angular, translational } = sections.motion;
  return motionSection(expected, {
    dominantHz: {
      pan: angular.pan.dominantHz,
      tilt: angular.tilt.dominantHz,
      roll: angular.roll.dominantHz,
      lateral: translational.lateral.dominantHz,
      vertical: translational.vertical.dominantHz,
      axial: translational.axial.dominantHz,
    },
  });
}
