/** What a motion log says about a clip, in sentences: how its clock lies, where it agrees, what a difference may mean, what it adds above the pictures' band. */
import {
  figure,
  ANGULAR_AXES,
  type AngularAxis,
  type MotionLogSection,
  type RunDocument,
} from '../run/index.js';
import { focalFactor } from '../motion/index.js';
import { boundUp } from './format.js';

type LoggedAxis = NonNullable<MotionLogSection['axes']['pan']>;

/** The sentences, most important first; none when no log was given. */
export function motionLogWords({
  motionLog,
  motion,
  rig,
}: Pick<RunDocument, 'motionLog' | 'motion' | 'rig'>): string[] {
  if (!motionLog) return [];
  if (!motionLog.aligned)
    return [
      `The motion log could not be aligned with the clip: ${motionLog.reason ?? 'no reason is known'}. Nothing of it is used.`,
    ];
  return [
    ...(motionLog.reason === null ? [] : [`${motionLog.reason}. What is wrong there is not compared.`]),
    ...agreementWords(motionLog, motion.separation.unsplit !== null, rig),
    ...beyondWords(motionLog),
    ...clockWords(motionLog),
  ];
}

/** Names of axes in a sentence. @example listed(['pan', 'tilt']) // "pan and tilt" */
function listed(axes: readonly AngularAxis[]): string {
  return axes.length < 3
    ? axes.join(' and ')
    : `${axes.slice(0, -1).join(', ')} and ${axes[axes.length - 1]}`;
}

function sentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function agreementWords({ axes }: MotionLogSection, unsplit: boolean, rig: RunDocument['rig']): string[] {
  const compared = ANGULAR_AXES.flatMap((name) => {
    const axis = axes[name];
    return axis ? [{ name, axis }] : [];
  });
  const shown = ({ axis }: { axis: LoggedAxis }): boolean => axis.agrees && axis.gain !== null;
  const agreeing = compared.filter(shown).map(({ name }) => name);
  const quiet = compared.filter((one) => one.axis.agrees && !shown(one)).map(({ name }) => name);
  const differing = compared.filter(({ axis }) => !axis.agrees);
  const words: string[] = [];
  if (agreeing.length > 0)
    words.push(
      sentence(
        `${listed(agreeing)} ${agreeing.length === 1 ? 'agrees' : 'agree'} with the picture within the noise of both. A log sees only turning, so this checks the split of angle from translation by other means.`,
      ),
    );
  if (quiet.length > 0) words.push(`On ${listed(quiet)} there is too little shake to compare; both say so.`);
  for (const { name, axis } of differing)
    words.push(
      `${sentence(name)} differs by ${figure(axis.rmsDifferenceDeg)} deg RMS, more than the noise of both${axis.gain === null ? '' : `; the log turns ${axis.gain.toFixed(3)} times as much as the picture`}.`,
    );
  const meaning = meaningOf(
    axes,
    differing.map(({ name }) => name),
    agreeing.includes('roll'),
    unsplit,
    rig,
  );
  return meaning === null ? words : [...words, meaning];
}

/** What differences on pan or tilt may come from. */
function meaningOf(
  axes: MotionLogSection['axes'],
  differing: readonly AngularAxis[],
  rollAgrees: boolean,
  unsplit: boolean,
  rig: RunDocument['rig'],
): string | null {
  const turned = differing.filter((name) => name !== 'roll');
  if (turned.length === 0) return null;
  if (unsplit)
    return 'In this clip the picture could not tell translation from angle, so its pan and tilt hold both; the log has the angle alone.';
  const factor = focalFactor(axes);
  if (factor !== null)
    return `Pan and tilt both turn about ${factor.toFixed(2)} times as much in the log, roll does not: ${focalWords(factor, rig)}.`;
  if (!rollAgrees) return null;
  return `Roll agrees, so log and picture are in step: translation that the picture took for ${listed(turned)} would look like this.`;
}

/** The focal length that would explain a factor, in the unit that the rig gives it in. */
function focalWords(factor: number, { focalLengthMm, focalPx }: RunDocument['rig']): string {
  // Large errors are known to a tenth at best: what parallax makes of them differs from axis to axis.
  const digits = Math.abs(Math.log(factor)) > 0.1 ? 2 : 3;
  const about = (given: number, unit: string): string =>
    `the focal length is probably about ${Number((given / factor).toPrecision(digits))} ${unit} instead of ${Number(given.toPrecision(4))} ${unit}`;
  if (focalLengthMm !== undefined) return about(focalLengthMm, 'mm');
  if (focalPx !== undefined) return about(focalPx, 'px');
  return factor > 1
    ? `the focal length is probably about ${factor.toFixed(2)} times too long`
    : `the focal length is probably about ${(1 / factor).toFixed(2)} times too short`;
}

function beyondWords({ beyondNyquist }: MotionLogSection): string[] {
  if (!beyondNyquist) return [];
  const [low, high] = beyondNyquist.bandHz;
  const band = `from ${figure(low)} to ${figure(high)} Hz, too fast for this frame rate`;
  const words: string[] = [];
  for (const name of ANGULAR_AXES) {
    const axis = beyondNyquist.axes[name];
    if (!axis) continue;
    if (axis.rmsDeg === null) {
      words.push(`${sentence(name)} ${band}: below ${boundUp(axis.belowDeg ?? 0)} deg.`);
      continue;
    }
    const strongest = axis.dominantHz === null ? '' : `, strongest at ${figure(axis.dominantHz)} Hz`;
    words.push(
      `${sentence(name)} ${band}: ${figure(axis.rmsDeg)} deg RMS${strongest}; ${figure(axis.blurredDeg ?? 0)} deg of it blurs within the exposure, ${figure(axis.foldedDeg ?? 0)} deg shows as false slower shake.`,
    );
  }
  return words;
}

/** Clocks that differ by less, as a share, are what two clocks do. */
const CLOCK_FAULT = 1e-3;

function clockWords({ offsetS, offsetSdS, clockRatio, sampleRateHz }: MotionLogSection): string[] {
  const offset = offsetS ?? 0;
  const within = figure(2000 * (offsetSdS ?? 0));
  const lies = `The log (${figure(sampleRateHz)} samples a second) is ${Math.abs(offset).toFixed(4)} s ${offset < 0 ? 'behind' : 'ahead of'} the clip's time stamps, to ${within} ms`;
  if (clockRatio === null) return [`${lies}.`];
  const drift = Math.abs(clockRatio - 1);
  const way = clockRatio > 1 ? 'fast' : 'slow';
  if (drift < CLOCK_FAULT) return [`${lies} and runs ${figure(drift * 1e6)} millionths ${way} against it.`];
  return [
    `The log's clock runs ${(100 * drift).toFixed(1)} % ${way} against the clip's time stamps; the comparison allows for it.`,
    `${lies} in the middle of the clip.`,
  ];
}
