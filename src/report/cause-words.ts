/** What shakes, in words for page and terminal: name of a source, what else is known of it, where to look first. */
import { figure, type RunDocument, type ShakeSourceSection } from '../run/index.js';
import { causeInWords } from '../spectrum/index.js';
import { causeTexts } from '../texts/index.js';
import { deliveryPxPerClipPx } from './delivery-px.js';
import { axisNames } from './wording.js';

/** Folded frequencies that are named in a sentence; there are more, ever fainter. */
const NAMED_ORIGINS = 4;
/** Explanations less probable than this are left out. */
const WORTH_NAMING = 0.05;
/** Less wobble than this is not seen, px of the delivery. */
const VISIBLE_WOBBLE_PX = 0.3;
/** Two frequencies nearer than this share are one. */
const SAME_HZ = 0.01;
/** No name is printed as surer: of names that claimed more, 94 in 100 were right in simulated passes. */
const SUREST = 0.95;

/**
 * The name of a source, with the given distance of joints and frequency of machines where the rig knows them.
 * @example sourceName(source, run) // "Given machine at 31 Hz, seen at 6 Hz"
 */
export function sourceName(source: ShakeSourceSection, run: RunDocument): string {
  const { cause, candidates, freqHz, trueHz } = source;
  const order = candidates[0]?.order ?? 1;
  const seen = isFolded(source) ? causeTexts.seenAt(frequency(freqHz)) : '';
  switch (cause) {
    case 'wheel':
      return `${causeTexts.wheel(order)}${seen}`;
    case 'joint':
      return `${causeTexts.joints(jointSpacing(source, order, run), order)}${seen}`;
    case 'machine':
      return `${causeTexts.machine(frequency(run.rig.machinesHz?.[order - 1] ?? trueHz))}${seen}`;
    case 'mount':
      return `${causeTexts.mount(frequency(trueHz))}${seen}`;
    case 'lamp':
      return causeTexts.lamp;
    case 'unknown':
      return causeTexts.unknown;
  }
}

/** As given, else as the floor shows it, else as the speed makes it; null without any of them. */
function jointSpacing({ trueHz }: ShakeSourceSection, order: number, run: RunDocument): string | null {
  const { speedMps } = run.spectrum;
  const spacingM =
    run.rig.jointSpacingM ??
    run.surface.joints?.spacingM ??
    (speedMps === null ? null : (order * speedMps) / trueHz);
  return spacingM === null ? null : `${figure(1000 * spacingM)} mm`;
}

/** How sure, as printed; never surer than the share of names that were right in simulated passes. @example sureness({ confidence: 0.99 }) // "95 %" */
export function sureness({ confidence }: Pick<ShakeSourceSection, 'confidence'>): string {
  return confidence === null ? causeTexts.none : percent(Math.min(SUREST, confidence));
}

/**
 * The source that shakes most, in one line; null when it has no name, for then nothing can be said in a line.
 * @example shakesMost(run) // "Wheel, once a turn: out of round or a flat (1.62 Hz, 95 % sure)"
 */
export function shakesMost(run: RunDocument): string | null {
  const most = run.spectrum.sources.find(({ cause }) => cause !== 'lamp');
  if (most === undefined || most.cause === 'unknown') return null;
  const name = sourceName(most, run);
  return causeTexts.most(name, name.includes(' Hz') ? null : frequency(most.freqHz), sureness(most));
}

/** Where to look or what to do first. */
export function lookFirst(source: ShakeSourceSection, run: RunDocument): string {
  const { cause, candidates, trueHz } = source;
  switch (cause) {
    case 'wheel':
      return (candidates[0]?.order ?? 1) === 1 ? causeTexts.lookAtWheels : causeTexts.lookAtShape;
    case 'joint':
      return causeTexts.lookAtJoints;
    case 'machine':
      return causeTexts.lookAtMachine;
    case 'mount':
      return causeTexts.lookAtMount(frequency(trueHz));
    case 'lamp':
      return causeTexts.lookAtLamp;
    case 'unknown':
      return lookForUnknown(source, run);
  }
}

/** Without a name: where the other run points, else the run that would tell. */
function lookForUnknown({ otherRun, trueHz }: ShakeSourceSection, { spectrum }: RunDocument): string {
  const { speedMps } = spectrum;
  switch (otherRun?.behaves) {
    case 'constantFrequency':
      return causeTexts.lookAtMachines;
    case 'constantWavelength':
      return causeTexts.lookForRepeats(speedMps === null ? null : `${figure((1000 * speedMps) / trueHz)} mm`);
    default:
      return causeTexts.rollFaster;
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
    otherRunWords(source, run.spectrum.comparedWith?.name ?? causeTexts.otherRun),
  );
}

/** Further sentences on a source, for engineers. */
export function sourceDetails(source: ShakeSourceSection, run: RunDocument): string[] {
  const unknown = source.cause === 'unknown';
  return sentences(
    unknown ? '' : couldBeWords(source),
    unknown ? '' : seriesWords(source),
    travelWords(source),
    shutterWords(source),
    wobbleWords(source, run),
  );
}

function sentences(...all: readonly string[]): string[] {
  return all.filter((sentence) => sentence !== '');
}

function isFolded({ freqHz, trueHz }: Pick<ShakeSourceSection, 'freqHz' | 'trueHz'>): boolean {
  return Math.abs(trueHz - freqHz) > SAME_HZ * freqHz;
}

function seriesWords({ harmonic }: ShakeSourceSection): string {
  return harmonic === null ? '' : causeTexts.ofSeries(harmonic.order, frequency(harmonic.baseHz));
}

/** A frequency as it is told: to a hundredth, as finely as ten seconds know a strong line. @example frequency(7.3) // "7.3 Hz" */
export function frequency(hz: number): string {
  return causeTexts.hz(String(Number(hz.toFixed(hz < 100 ? 2 : 1))));
}

function percent(share: number): string {
  return causeTexts.percent(String(Math.round(100 * share)));
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
  const range = [threeDigits(low), threeDigits(high)] as const;
  return givenMps >= low && givenMps <= high
    ? causeTexts.speedAgrees(threeDigits(givenMps), ...range, sureness({ confidence }))
    : causeTexts.speedDiffers(threeDigits(mps), ...range, sureness({ confidence }), threeDigits(givenMps));
}

/** Flicker of lamps; empty without. */
export function flickerWords({ flicker }: RunDocument['spectrum']): string {
  if (flicker === null) return '';
  const { lampHz, seenHz, inBands, depthPercent } = flicker;
  return causeTexts.flicker(figure(lampHz), figure(seenHz), inBands, figure(depthPercent));
}

/** What became of the sound; empty for a clip without. */
export function soundInWords({ sound }: RunDocument['spectrum']): string {
  if (sound === null) return '';
  if (!sound.used) return causeTexts.soundUnused(sound.reason);
  if (sound.lines.length === 0) return causeTexts.soundPlain;
  const heard = [...sound.lines]
    .sort((a, b) => b.strength - a.strength)
    .slice(0, NAMED_ORIGINS)
    .map(({ freqHz, kind }) => causeTexts.soundLine(kind === 'tone', figure(freqHz)));
  return causeTexts.sound(heard, sound.lines.length > NAMED_ORIGINS);
}

function threeDigits(mps: number): string {
  return String(Number(mps.toPrecision(3)));
}

/** The likeliest is the name, or stands in the reason why there is none. */
function otherCandidates({ candidates }: ShakeSourceSection): string {
  const told = candidates
    .slice(1)
    .filter((one) => one.cause !== 'unknown' && one.probability >= WORTH_NAMING)
    .map(({ cause: other, order, trueHz, probability }) =>
      causeTexts.candidate(causeInWords(other, order), frequency(trueHz), percent(probability)),
    );
  return told.length === 0 ? '' : causeTexts.lessLikely(told);
}

function couldBeWords({ trueHz, couldBeHz }: ShakeSourceSection): string {
  const others = couldBeHz.filter((hz) => Math.abs(hz - trueHz) > SAME_HZ * trueHz);
  if (others.length === 0) return '';
  const list = others.slice(0, NAMED_ORIGINS).map((hz) => figure(hz));
  return causeTexts.couldBe(list, others.length > NAMED_ORIGINS);
}

function soundWords({ sound }: ShakeSourceSection): string {
  if (sound === null) return '';
  return causeTexts.inSound(sound.kind === 'tone', frequency(sound.trueHz), percent(sound.probability));
}

function otherRunWords({ otherRun, freqHz }: ShakeSourceSection, name: string): string {
  if (otherRun === null) return '';
  const { otherHz, behaves, probability, trueHz, reason } = otherRun;
  const sure = probability === null ? null : percent(probability);
  const there = otherHz === null ? null : frequency(otherHz);
  const agreed =
    trueHz === null || !isFolded({ freqHz, trueHz }) ? '' : causeTexts.runsAgree(frequency(trueHz));
  switch (behaves) {
    case 'constantFrequency':
      return `${causeTexts.otherKeepsHz(name, there, sure)}${agreed}`;
    case 'constantWavelength':
      return `${causeTexts.otherKeepsWave(name, there, sure)}${agreed}`;
    case 'neither':
    case 'open':
      return reason ?? causeTexts.otherOpen(name);
  }
}

function travelWords({ followsTravel }: ShakeSourceSection): string {
  if (followsTravel === null) return '';
  if (followsTravel > 0.95) return causeTexts.followsTravel;
  if (followsTravel < 0.05) return causeTexts.keepsHz;
  return '';
}

function shutterWords({ trueRms, exposureGain }: ShakeSourceSection): string {
  if (trueRms === null) return causeTexts.shutterHidesAll(percent(exposureGain));
  if (exposureGain > 0.9) return '';
  return causeTexts.shutterHides(percent(exposureGain));
}

function wobbleWords({ wobblePx }: ShakeSourceSection, run: RunDocument): string {
  const px = (wobblePx ?? 0) * deliveryPxPerClipPx(run);
  return px < VISIBLE_WOBBLE_PX ? '' : causeTexts.wobble(figure(px));
}
