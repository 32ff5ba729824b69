/** What shakes, in words for page and terminal: name of a source, what else is known of it, where to look first. */
import { figure, type RunDocument, type ShakeSourceSection } from '../run/index.js';
import { causeInWords } from '../spectrum/index.js';
import { axisNames } from './wording.js';

/** Folded frequencies that are named in a sentence; there are more, ever fainter. */
const NAMED_ORIGINS = 4;
/** Explanations less probable than this are left out. */
const WORTH_NAMING = 0.05;
/** Less wobble than this is not seen. */
const VISIBLE_WOBBLE_PX = 0.3;
/** Two frequencies nearer than this share are one. */
const SAME_HZ = 0.01;
/** No name is printed as surer: of names that claimed more, 94 in 100 were right in simulated passes. */
const SUREST = 0.95;
/** By how often in a turn of the wheel. */
const WHEEL_FAULTS = ['once a turn: out of round or a flat', 'twice a turn: oval'];

/**
 * The name of a source, with the given distance of joints and frequency of machines where the rig knows them.
 * @example sourceName(source, run) // "Given machine at 31 Hz, seen at 6 Hz"
 */
export function sourceName(source: ShakeSourceSection, run: RunDocument): string {
  const { cause, candidates, freqHz, trueHz } = source;
  const order = candidates[0]?.order ?? 1;
  const seen = isFolded(source) ? `, seen at ${frequency(freqHz)}` : '';
  switch (cause) {
    case 'wheel':
      return `Wheel, ${WHEEL_FAULTS[order - 1] ?? `${order} times a turn`}${seen}`;
    case 'joint': {
      const spacing = jointSpacing(source, order, run);
      return `Joints${spacing}${order === 1 ? '' : `, ${order} times their beat`}${seen}`;
    }
    case 'machine':
      return `Given machine at ${frequency(run.rig.machinesHz?.[order - 1] ?? trueHz)}${seen}`;
    case 'mount':
      return `Mount rings at ${frequency(trueHz)}${seen}`;
    case 'lamp':
      return 'Lamp flicker, no motion';
    case 'unknown':
      return 'Unknown';
  }
}

/** As given, else as the floor shows it, else as the speed makes it. */
function jointSpacing({ trueHz }: ShakeSourceSection, order: number, run: RunDocument): string {
  const { speedMps } = run.spectrum;
  const spacingM =
    run.rig.jointSpacingM ??
    run.surface.joints?.spacingM ??
    (speedMps === null ? null : (order * speedMps) / trueHz);
  return spacingM === null ? '' : ` every ${figure(1000 * spacingM)} mm`;
}

/** How sure, as printed; never surer than the share of names that were right in simulated passes. @example sureness({ confidence: 0.99 }) // "95 %" */
export function sureness({ confidence }: Pick<ShakeSourceSection, 'confidence'>): string {
  return confidence === null ? '–' : percent(Math.min(SUREST, confidence));
}

/**
 * The source that shakes most, in one line; null when it has no name, for then nothing can be said in a line.
 * @example shakesMost(run) // "Wheel, once a turn: out of round or a flat (1.62 Hz, 95 % sure)"
 */
export function shakesMost(run: RunDocument): string | null {
  const most = run.spectrum.sources.find(({ cause }) => cause !== 'lamp');
  if (most === undefined || most.cause === 'unknown') return null;
  const name = sourceName(most, run);
  const at = name.includes(' Hz') ? '' : `${frequency(most.freqHz)}, `;
  return `${name} (${at}${sureness(most)} sure)`;
}

/** Where to look or what to do first. */
export function lookFirst(source: ShakeSourceSection, run: RunDocument): string {
  const { cause, candidates, trueHz } = source;
  switch (cause) {
    case 'wheel':
      return (candidates[0]?.order ?? 1) === 1
        ? 'Turn each wheel by hand: look for a flat, dirt, play in the bearing. Swap wheels and roll again.'
        : 'Look for an oval wheel, lobes, or dirt in several places. Swap wheels and roll again.';
    case 'joint':
      return 'Shim or tape the joints, lay boards or rail over them, or roll slower.';
    case 'machine':
      return 'Roll a pass with that machine off; if it stays quiet, uncouple it from the camera.';
    case 'mount':
      return `Tighten and stiffen mount and column; choose a speed at which nothing else shakes near ${frequency(trueHz)}.`;
    case 'lamp':
      return 'Nothing to do on the dolly: set the shutter to the mains, or change the lamp.';
    case 'unknown':
      return lookForUnknown(source, run);
  }
}

/** Without a name: where the other run points, else the run that would tell. */
function lookForUnknown({ otherRun, trueHz }: ShakeSourceSection, { spectrum }: RunDocument): string {
  const { speedMps } = spectrum;
  switch (otherRun?.behaves) {
    case 'constantFrequency':
      return 'Switch motors and fans off one by one and roll again; then look at the mount.';
    case 'constantWavelength':
      return `Look at wheels and floor for what repeats ${speedMps === null ? 'evenly' : `every ${figure((1000 * speedMps) / trueHz)} mm`}.`;
    default:
      return 'Roll the same stretch at least 1.2 times as fast and measure it with --against: that tells floor and wheels from machines.';
  }
}

/** What a reader must know of a source beside its name: why it has none, what else it may be, what sound and another run say. */
export function sourceRemarks(source: ShakeSourceSection, run: RunDocument): string[] {
  const unknown = source.cause === 'unknown';
  return sentences(
    source.reason ?? '',
    otherCandidates(source),
    unknown ? seriesWords(source) : '',
    unknown ? couldBeWords(source) : '',
    soundWords(source),
    otherRunWords(source, run.spectrum.comparedWith?.name ?? 'the other run'),
  );
}

/** Further sentences on a source, for engineers. */
export function sourceDetails(source: ShakeSourceSection): string[] {
  const unknown = source.cause === 'unknown';
  return sentences(
    unknown ? '' : couldBeWords(source),
    unknown ? '' : seriesWords(source),
    travelWords(source),
    shutterWords(source),
    wobbleWords(source),
  );
}

function sentences(...all: readonly string[]): string[] {
  return all.filter((sentence) => sentence !== '');
}

function isFolded({ freqHz, trueHz }: Pick<ShakeSourceSection, 'freqHz' | 'trueHz'>): boolean {
  return Math.abs(trueHz - freqHz) > SAME_HZ * freqHz;
}

function seriesWords({ harmonic }: ShakeSourceSection): string {
  return harmonic === null
    ? ''
    : `Number ${harmonic.order} of a series at multiples of ${frequency(harmonic.baseHz)}.`;
}

/** A frequency as it is told: to a hundredth, as finely as ten seconds know a strong line. @example frequency(7.3) // "7.3 Hz" */
export function frequency(hz: number): string {
  return `${Number(hz.toFixed(hz < 100 ? 2 : 1))} Hz`;
}

function percent(share: number): string {
  return `${Math.round(100 * share)} %`;
}

/** The axes that show a source, by name. */
export function axesInWords({ axes }: ShakeSourceSection, run: RunDocument): string {
  const names = axisNames(run);
  return axes.map((axis) => names[axis].name.toLowerCase()).join(', ');
}

/** Speed that the sources speak for; empty where none does, or where it is the one that was given. */
export function speedWords({ suggestedSpeed }: RunDocument['spectrum']): string {
  if (suggestedSpeed === null) return '';
  const { mps, ci95Mps, givenMps, confidence } = suggestedSpeed;
  const [low, high] = ci95Mps;
  const agrees = givenMps >= low && givenMps <= high;
  const sure = `${sureness({ confidence })} sure that wheels or joints are among them`;
  return agrees
    ? `The sources agree with the speed taken, ${threeDigits(givenMps)} m/s (they say ${threeDigits(low)} to ${threeDigits(high)} m/s; ${sure}).`
    : `The sources speak for ${threeDigits(mps)} m/s (${threeDigits(low)} to ${threeDigits(high)}; ${sure}); ${threeDigits(givenMps)} m/s was taken and stays, for every figure. Measure the speed or the travel again.`;
}

/** Flicker of lamps; empty without. */
export function flickerWords({ flicker }: RunDocument['spectrum']): string {
  if (flicker === null) return '';
  const bands = flicker.inBands ? ', as bands that roll through the picture' : '';
  return `The light flickers at ${figure(flicker.lampHz)} Hz (a lamp on the mains), which this frame rate shows at ${figure(flicker.seenHz)} Hz${bands}: ${figure(flicker.depthPercent)} % of its level. That is no motion.`;
}

/** What became of the sound; empty for a clip without. */
export function soundInWords({ sound }: RunDocument['spectrum']): string {
  if (sound === null) return '';
  if (!sound.used) return `Sound: ${sound.reason ?? 'not used.'}`;
  if (sound.lines.length === 0) return 'Sound: heard, but no tone and no beat stands out of it.';
  const heard = [...sound.lines]
    .sort((a, b) => b.strength - a.strength)
    .slice(0, NAMED_ORIGINS)
    .map(({ freqHz, kind }) => `${kind === 'tone' ? 'a tone at' : 'a beat of'} ${figure(freqHz)} Hz`);
  return `Sound: ${heard.join(', ')}${sound.lines.length > NAMED_ORIGINS ? ' and more' : ''}. Sound supports a frequency, it does not prove a cause.`;
}

function threeDigits(mps: number): string {
  return String(Number(mps.toPrecision(3)));
}

/** The likeliest is the name, or stands in the reason why there is none. */
function otherCandidates({ candidates }: ShakeSourceSection): string {
  const told = candidates
    .slice(1)
    .filter((one) => one.cause !== 'unknown' && one.probability >= WORTH_NAMING)
    .map(
      ({ cause: other, order, trueHz, probability }) =>
        `${causeInWords(other, order)} at ${frequency(trueHz)} (${percent(probability)})`,
    );
  return told.length === 0 ? '' : `Less likely: ${told.join('; ')}.`;
}

function couldBeWords({ trueHz, couldBeHz }: ShakeSourceSection): string {
  const others = couldBeHz.filter((hz) => Math.abs(hz - trueHz) > SAME_HZ * trueHz);
  if (others.length === 0) return '';
  const list = others.slice(0, NAMED_ORIGINS).map((hz) => figure(hz));
  return `This frame rate would show motions of ${list.join(', ')}${others.length > NAMED_ORIGINS ? ' ...' : ''} Hz here, too.`;
}

function soundWords({ sound }: ShakeSourceSection): string {
  if (sound === null) return '';
  const heard = sound.kind === 'tone' ? 'a tone' : 'a beat of the loudness';
  return `In the sound there is ${heard} at ${frequency(sound.trueHz)} (${percent(sound.probability)}).`;
}

function otherRunWords({ otherRun, freqHz }: ShakeSourceSection, name: string): string {
  if (otherRun === null) return '';
  const { otherHz, behaves, probability, trueHz, reason } = otherRun;
  const sure = probability === null ? '' : ` (${percent(probability)})`;
  const there = otherHz === null ? '' : ` at ${frequency(otherHz)}`;
  const agreed =
    trueHz === null || !isFolded({ freqHz, trueHz })
      ? ''
      : ` Both runs agree on a motion of ${frequency(trueHz)}.`;
  switch (behaves) {
    case 'constantFrequency':
      return `In ${name} it is${there}: it keeps its frequency, so it is a machine or the mount${sure}.${agreed}`;
    case 'constantWavelength':
      return `In ${name} it is${there}: it keeps its wavelength, so it is the floor or a wheel${sure}.${agreed}`;
    case 'neither':
    case 'open':
      return reason ?? `${name} does not decide it.`;
  }
}

function travelWords({ followsTravel }: ShakeSourceSection): string {
  if (followsTravel === null) return '';
  if (followsTravel > 0.95) return 'It follows the changes of the speed within this pass: floor or wheel.';
  if (followsTravel < 0.05) return 'It keeps its frequency while the speed changes: a machine or the mount.';
  return '';
}

function shutterWords({ trueRms, exposureGain }: ShakeSourceSection): string {
  if (trueRms === null)
    return `The shutter lets only ${percent(exposureGain)} of such a motion through: how large it is cannot be told.`;
  if (exposureGain > 0.9) return '';
  return `The shutter hides part of it: ${percent(exposureGain)} came through.`;
}

function wobbleWords({ wobblePx }: ShakeSourceSection): string {
  return wobblePx === null || wobblePx < VISIBLE_WOBBLE_PX
    ? ''
    : `The rolling shutter bends the frame by up to ${figure(wobblePx)} px with it.`;
}
