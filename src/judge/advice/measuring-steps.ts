/** Steps that let the next measurement tell what this one could not, or that a finding asks for by itself: depth, lens, readout, shutter. */
import { figure, type MotionSection } from '../../run/index.js';
import { ASSUMED_SHUTTER_ANGLE_DEG, blurPulseLimitPx } from '../../stabilise/index.js';
import { figuresOf } from '../pass/outcome.js';
import { told, type AdviceInput, type Step } from './step.js';

/** The steps that the findings ask for, in the order of use. */
export function measuringSteps(input: AdviceInput): Step[] {
  const { findings, motion } = input;
  const codes = new Set(findings.map(({ reason }) => reason.code));
  const { readout, distortion } = motion;
  const doubtful = codes.has('residual-not-reliable');
  return [
    ...(codes.has('translation-not-measured') ? [showDepth(motion)] : []),
    ...(doubtful && distortion.source !== 'given' && distortion.state !== 'notNeeded' ? [CALIBRATE] : []),
    ...(doubtful && readout.state === 'corrected' ? [FASTER_READOUT] : []),
    ...(codes.has('readout-wobble') ? [CORRECT_ROWS] : []),
    ...(codes.has('blur-pulsing') ? [shorterShutter(input)] : []),
  ];
}

const CALIBRATE = told(
  'calibrate-lens',
  'Calibrate the lens once with "trundle lens" and measure this clip again.',
  'Tells how the lens bends lines, so that the translational part can be relied upon.',
);
const FASTER_READOUT = told(
  'faster-readout',
  'Shoot the pass again in a recording mode with a faster readout, or at a higher frame rate.',
  'Lets the frames follow the knocks, so that the translational part can be relied upon.',
);
const CORRECT_ROWS = told(
  'correct-rows',
  'Correct the rolling shutter row by row in post, or use a recording mode with a faster readout.',
  'Takes the wobble within the frame down with the readout time.',
);

/** What would let the next pass tell translation from rotation. */
function showDepth({ separation }: MotionSection): Step {
  const [first] = separation.unsplit?.change ?? [];
  return told(
    'show-depth',
    first?.text ??
      'Put things at two or three distances in the shot, some within 2.5 m and some beyond 4 m, and roll the pass again.',
    'Lets the translational part be measured.',
  );
}

/** Blur is no shift of the picture: neither crop nor shake left change with it. */
function shorterShutter(input: AdviceInput): Step {
  const { shutterAngleDeg } = input.stabilise.recommended;
  return told(
    'shorter-shutter',
    shutterText(shutterAngleDeg, blurPulseLimitPx(input.delivery)),
    `${pulseFalls(input, shutterAngleDeg)} The exposure has to be made up by light or stop.`,
  );
}

function shutterText(shutterAngleDeg: number | null, letPassPx: number): string {
  // Pulsing over the limit of shake left may still be less than an angle is looked for.
  if (shutterAngleDeg === null)
    return `Use a shutter as short as the light allows; no angle is named, for pulsing below ${figure(letPassPx)} px is let pass.`;
  // At one degree the search ended without an angle that is short enough.
  if (shutterAngleDeg <= 1) return 'Use the shortest shutter there is; none takes the pulsing away.';
  return `Use a shutter of ${shutterAngleDeg} degrees or less.`;
}

function pulseFalls({ pass }: AdviceInput, shutterAngleDeg: number | null): string {
  const inStep = 'Blur that pulses falls in step with the shutter angle.';
  if (pass === null || shutterAngleDeg === null) return inStep;
  const pulsePx = (angleDeg: number): number | null =>
    figuresOf(pass, pass.motion, { shutterAngleDeg: angleDeg }).way.residual.causes.blur?.pulsePx ?? null;
  const now = pulsePx(pass.rig.shutterAngleDeg ?? ASSUMED_SHUTTER_ANGLE_DEG);
  const then = pulsePx(shutterAngleDeg);
  return now === null || then === null
    ? inStep
    : `Blur that pulses falls from ${figure(now)} to ${figure(then)} px.`;
}
