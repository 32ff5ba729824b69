/** A setting of a pass in figures: crop (per cent of the width), shake left (px RMS of the delivery) and grade with what decides it. */
import type { StabiliseSection, VerdictSection } from '../../run/index.js';
import type { BareWay } from '../../stabilise/index.js';
import { decide } from '../decide.js';
import { bySeverity, worstGrade } from '../finding.js';
import { obstacles } from '../measurable.js';
import { foretell, outcomeWith, sectionsWithRepeat, type Foretold } from '../what-if/foretold.js';
import type { Setting } from '../what-if/setting.js';
import type { LiveAnswer } from './types.js';

/** An answer without what the picture shows and without the trade-off. */
export type LiveFigures = Omit<LiveAnswer, 'refused' | 'changed' | 'view' | 'curve'>;

/** The stored figures, bit for bit. */
export function storedFigures(setting: Setting, verdict: VerdictSection): LiveFigures {
  const { motion, stabilise } = setting.pass.sections;
  return {
    ...conditions(setting),
    grade: verdict.grade,
    reasons: verdict.reasons.filter(({ limit }) => limit !== null),
    outcome: outcomeWith(motion, stabilise, verdict.grade),
    remark: stabilise.modes.find(({ mode }) => mode === stabilise.mode)?.remark ?? null,
    ...costs(stabilise),
  };
}

/** Figures that are foretold, with the way that they were found on. */
export interface ForetoldFigures {
  readonly figures: LiveFigures;
  readonly way: BareWay;
}

/** What the plan of the same setting and the judge on it would say. @throws RangeError as `wayOf` */
export function foretoldFigures(setting: Setting, foretold: Foretold = foretell(setting)): ForetoldFigures {
  const { way } = foretold;
  const { motion, stabilise } = sectionsWithRepeat(setting, foretold);
  const { tracking, clip } = setting.pass.sections;
  const blocked = obstacles(tracking, motion, clip);
  const findings = blocked.length > 0 ? blocked : bySeverity(decide(motion, stabilise, setting.delivery));
  const grade = worstGrade(findings);
  return {
    way,
    figures: {
      ...conditions(setting),
      grade,
      reasons: findings.map(({ reason }) => reason),
      outcome: outcomeWith(motion, stabilise, grade),
      remark: way.remark,
      ...costs(stabilise),
    },
  };
}

function conditions(
  setting: Setting,
): Pick<LiveFigures, 'delivery' | 'focalLengthMm' | 'focalFactor' | 'speedMps' | 'assumes'> {
  const { pass, rig, camera, speedMps, delivery, assumes } = setting;
  return {
    delivery,
    focalLengthMm: rig.focalLengthMm ?? null,
    focalFactor: camera.focalPx / pass.motion.camera.focalPx,
    speedMps,
    assumes,
  };
}

function costs(
  stabilise: StabiliseSection,
): Pick<LiveFigures, 'cropPx' | 'zoom' | 'residualAtMost' | 'mode' | 'smoothingS'> {
  const { cropPx, zoom, residual, mode, smoothingS } = stabilise;
  return { cropPx, zoom, residualAtMost: residual.atMost, mode, smoothingS };
}
