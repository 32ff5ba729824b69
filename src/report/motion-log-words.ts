/** What a motion log says about a clip, in sentences: how its clock lies, where it agrees, what a difference may mean, what it adds above the pictures' band. */
import {
  figure,
  ANGULAR_AXES,
  type AngularAxis,
  type MotionLogSection,
  type RunDocument,
} from '../run/index.js';
import { focalFactor } from '../motion/index.js';
import { motionLogTexts } from '../texts/index.js';
import { boundUp } from './format.js';

type LoggedAxis = NonNullable<MotionLogSection['axes']['pan']>;

/** The sentences, most important first; none when no log was given. */
export function motionLogWords({
  motionLog,
  motion,
  rig,
}: Pick<RunDocument, 'motionLog' | 'motion' | 'rig'>): string[] {
  if (!motionLog) return [];
  if (!motionLog.aligned) return [motionLogTexts.notAligned(motionLog.reason)];
  return [
    ...(motionLog.reason === null ? [] : [motionLogTexts.faulty(motionLog.reason)]),
    ...agreementWords(motionLog, motion.separation.unsplit !== null, rig),
    ...beyondWords(motionLog),
    ...clockWords(motionLog),
  ];
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
  if (agreeing.length > 0) words.push(motionLogTexts.agree(agreeing));
  if (quiet.length > 0) words.push(motionLogTexts.tooQuiet(quiet));
  for (const { name, axis } of differing)
    words.push(motionLogTexts.differs(name, figure(axis.rmsDifferenceDeg), axis.gain?.toFixed(3) ?? null));
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
  if (unsplit) return motionLogTexts.meansBoth;
  const factor = focalFactor(axes);
  if (factor !== null) return motionLogTexts.meansFocal(factor.toFixed(2), focalWords(factor, rig));
  return rollAgrees ? motionLogTexts.meansTranslation(turned) : null;
}

/** The focal length that would explain a factor, in the unit that the rig gives it in. */
function focalWords(factor: number, { focalLengthMm, focalPx }: RunDocument['rig']): string {
  // Large errors are known to a tenth at best: what parallax makes of them differs from axis to axis.
  const digits = Math.abs(Math.log(factor)) > 0.1 ? 2 : 3;
  const likely = (given: number): string => String(Number((given / factor).toPrecision(digits)));
  const asGiven = (given: number): string => String(Number(given.toPrecision(4)));
  if (focalLengthMm !== undefined)
    return motionLogTexts.focalMm(likely(focalLengthMm), asGiven(focalLengthMm));
  if (focalPx !== undefined) return motionLogTexts.focalPx(likely(focalPx), asGiven(focalPx));
  return factor > 1
    ? motionLogTexts.focalTooLong(factor.toFixed(2))
    : motionLogTexts.focalTooShort((1 / factor).toFixed(2));
}

function beyondWords({ beyondNyquist }: MotionLogSection): string[] {
  if (!beyondNyquist) return [];
  const [low, high] = beyondNyquist.bandHz.map(figure) as [string, string];
  return ANGULAR_AXES.flatMap((name) => {
    const axis = beyondNyquist.axes[name];
    if (!axis) return [];
    const { rmsDeg, belowDeg, dominantHz, blurredDeg, foldedDeg } = axis;
    if (rmsDeg === null) return [motionLogTexts.beyondBelow(name, low, high, boundUp(belowDeg ?? 0))];
    return [
      motionLogTexts.beyond(name, low, high, {
        deg: figure(rmsDeg),
        strongestHz: dominantHz === null ? null : figure(dominantHz),
        blurred: figure(blurredDeg ?? 0),
        folded: figure(foldedDeg ?? 0),
      }),
    ];
  });
}

/** Clocks that differ by less, as a share, are what two clocks do. */
const CLOCK_FAULT = 1e-3;

function clockWords({ offsetS, offsetSdS, clockRatio, sampleRateHz }: MotionLogSection): string[] {
  const offset = offsetS ?? 0;
  const lies = motionLogTexts.clockLies(
    figure(sampleRateHz),
    Math.abs(offset).toFixed(4),
    offset < 0,
    figure(2000 * (offsetSdS ?? 0)),
  );
  if (clockRatio === null) return [motionLogTexts.clockSteady(lies)];
  const drift = Math.abs(clockRatio - 1);
  const fast = clockRatio > 1;
  if (drift < CLOCK_FAULT) return [motionLogTexts.clockDrifts(lies, figure(drift * 1e6), fast)];
  return [motionLogTexts.clockFault((100 * drift).toFixed(1), fast), motionLogTexts.clockMiddle(lies)];
}
