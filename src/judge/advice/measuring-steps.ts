/** Steps that let the next measurement tell what this one could not, or that a finding asks for by itself: depth, lens, readout, shutter. */
import { figure, type MotionSection } from '../../run/index.js';
import { measuringAdviceTexts } from '../../texts/index.js';
import { ASSUMED_SHUTTER_ANGLE_DEG, blurPulseLimitPx } from '../../stabilise/index.js';
import { figuresOf } from '../pass/outcome.js';
import { told, type AdviceInput, type Step } from './step.js';

/** The steps that the findings ask for, in the order of use. */
export function measuringSteps(input: AdviceInput): Step[] {
  const { findings, motion } = input;
  const codes = new Set(findings.map(({ reason }) => reason.code));
  const { readout, distortion } = motion;
  const { calibrateLens, fasterReadout, correctRows } = measuringAdviceTexts;
  const doubtful = codes.has('residual-not-reliable');
  return [
    ...(codes.has('translation-not-measured') ? [showDepth(motion)] : []),
    ...(doubtful && distortion.source !== 'given' && distortion.state !== 'notNeeded'
      ? [told('calibrate-lens', calibrateLens.text, calibrateLens.effect)]
      : []),
    ...(doubtful && readout.state === 'corrected'
      ? [told('faster-readout', fasterReadout.text, fasterReadout.effect)]
      : []),
    ...(codes.has('readout-wobble') ? [told('correct-rows', correctRows.text, correctRows.effect)] : []),
    ...(codes.has('blur-pulsing') ? [shorterShutter(input)] : []),
  ];
}

/** What would let the next pass tell translation from rotation. */
function showDepth({ separation }: MotionSection): Step {
  const [first] = separation.unsplit?.change ?? [];
  const { text, effect } = measuringAdviceTexts.showDepth;
  return told('show-depth', first?.text ?? text, effect);
}

/** Blur is no shift of the picture: neither crop nor shake left change with it. */
function shorterShutter(input: AdviceInput): Step {
  const { shutterAngleDeg } = input.stabilise.recommended;
  return told(
    'shorter-shutter',
    shutterText(shutterAngleDeg, blurPulseLimitPx(input.delivery)),
    measuringAdviceTexts.shorterShutter.effect(pulseFalls(input, shutterAngleDeg)),
  );
}

function shutterText(shutterAngleDeg: number | null, letPassPx: number): string {
  const { text, noAngle, shortest } = measuringAdviceTexts.shorterShutter;
  if (shutterAngleDeg === null) return noAngle(figure(letPassPx));
  // At one degree the search ended without an angle that is short enough.
  return shutterAngleDeg <= 1 ? shortest : text(shutterAngleDeg);
}

function pulseFalls({ pass }: AdviceInput, shutterAngleDeg: number | null): string {
  const { falls, fallsInStep } = measuringAdviceTexts.shorterShutter;
  if (pass === null || shutterAngleDeg === null) return fallsInStep;
  const pulsePx = (angleDeg: number): number | null =>
    figuresOf(pass, pass.motion, { shutterAngleDeg: angleDeg }).way.residual.causes.blur?.pulsePx ?? null;
  const now = pulsePx(pass.rig.shutterAngleDeg ?? ASSUMED_SHUTTER_ANGLE_DEG);
  const then = pulsePx(shutterAngleDeg);
  return now === null || then === null ? fallsInStep : falls(figure(now), figure(then));
}
