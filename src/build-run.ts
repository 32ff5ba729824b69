/** Gathers what the rooms found into the run document: conversions to the document's units, assumptions, warnings, verdict. */
import path from 'node:path';
import type { MeasureRequest } from './measure-request.js';
import type { Camera } from './optics/index.js';
import type { ClipFacts } from './footage/index.js';
import type { Tracking } from './tracking/index.js';
import { deckDoubt, focalEffectInWords, motionSection, type Motion } from './motion/index.js';
import { spectrumSection, type Spectrum } from './spectrum/index.js';
import { smoothingFits, smoothingOf, stabiliseSection, type Stabilisation } from './stabilise/index.js';
import { surfaceSection, type Surface } from './surface/index.js';
import { choiceOf, storedFloor } from './build-series.js';
import { assumedDelivery, judge } from './judge/index.js';
import { toolVersion } from './tool-version.js';
import {
  ANGULAR_AXES,
  AXES,
  RUN_SCHEMA,
  doubtsAmong,
  hasFigure,
  parseRun,
  type Assumption,
  type Axis,
  type ClipSection,
  type ResolvedDelivery,
  type MotionLogSection,
  type Rig,
  type RunDocument,
  type TrackingSection,
  type Warning,
} from './run/index.js';
import {
  assumedDistortionTexts,
  assumedLensTexts,
  assumedReadoutTexts,
  clipFactTexts,
} from './texts/index.js';

/** Everything the line produced for one clip. */
export interface RunParts {
  readonly request: MeasureRequest;
  readonly facts: ClipFacts;
  readonly rig: Rig;
  readonly delivery: ResolvedDelivery;
  readonly tracking: Tracking;
  readonly camera: Camera;
  readonly motion: Motion;
  readonly spectrum: Spectrum;
  readonly stabilisation: Stabilisation;
  readonly surface: Surface;
  readonly assumed: readonly Assumption[];
  /** Warnings of decoding; those of the other rooms travel with their results. */
  readonly warnings: readonly Warning[];
  /** The motion log against the pictures; null when none was given. Its warnings are among those above. */
  readonly motionLog: MotionLogSection | null;
}

/**
 * Builds the run document and checks it against its schema.
 * @param sha256 checksum of the clip file
 */
export function buildRun(parts: RunParts, sha256: string): RunDocument {
  const { facts, rig, delivery, tracking, motion, stabilisation, surface } = parts;
  const spectrum = spectrumSection(parts.spectrum, facts.widthPx / parts.camera.widthPx);
  const sections = {
    tracking: trackingSection(tracking, motion),
    motion: motionSection(motion, { dominantHz: dominantFrequencies(parts.spectrum) }),
    stabilise: stabiliseSection(stabilisation),
    surface: surfaceSection(surface),
  };
  const clip = clipSection(facts, tracking, sha256);
  const pass = {
    motion,
    rig,
    delivery,
    source: { widthPx: facts.widthPx, heightPx: facts.heightPx },
    choice: choiceOf(parts),
    floor: storedFloor(surface),
  };
  const warnings = [
    ...factWarnings(facts),
    ...focalWarning(parts),
    ...smoothingWarning(parts),
    ...codingWarning(parts),
    ...parts.warnings,
    ...tracking.warnings,
    ...motion.warnings,
    ...(doubtsAmong(motion.warnings).some(({ code }) => code === 'stabilised-in-camera')
      ? []
      : deckDoubt(motion, rig)),
    ...surface.warnings,
  ];
  const assumed = [
    ...parts.assumed.filter(({ name }) => name !== 'lensDistortion'),
    ...distortionAssumption(parts),
    ...focalAssumption(parts),
    ...readoutAssumption(parts),
    ...stabilisation.assumed,
    ...surface.assumed,
    ...assumedDelivery(parts.request.delivery ?? {}),
  ];
  return parseRun({
    schema: RUN_SCHEMA,
    tool: toolVersion(),
    createdAt: new Date().toISOString(),
    units: parts.request.units ?? 'metric',
    clip,
    rig: { ...rig, assumed: uniqueByName(assumed) },
    pass: parts.request.pass ?? {},
    delivery,
    ...sections,
    motionLog: parts.motionLog,
    spectrum,
    verdict: judge({
      ...sections,
      delivery,
      warnings,
      clip,
      pass: { ...pass, sections: { clip, spectrum, ...sections } },
    }),
    warnings,
  });
}

function clipSection(facts: ClipFacts, tracking: Tracking, sha256: string): ClipSection {
  const { timeS, frameCount } = tracking.table;
  const endS = frameCount > 0 ? timeS[frameCount - 1] + 1 / facts.fps : 0;
  return {
    file: path.basename(facts.file),
    sha256,
    codec: facts.codec,
    pixelFormat: facts.pixelFormat,
    bitDepth: facts.bitDepth,
    widthPx: facts.widthPx,
    heightPx: facts.heightPx,
    rotationDeg: facts.rotationDeg,
    pixelAspect: facts.pixelAspect,
    fps: facts.fps,
    fpsFraction: facts.fpsFraction,
    variableRate: facts.variableRate,
    interlaced: facts.interlaced,
    interCoded: tracking.interCoded,
    colourTransfer: facts.colourTransfer,
    hasAudio: facts.hasAudio,
    // What was decoded is there, whatever the container says.
    durationS: endS > facts.durationS + 1 / facts.fps ? endS : facts.durationS,
    timecodeStart: facts.timecodeStart,
    frameCount,
    rangeS: frameCount > 0 ? [timeS[0], endS] : [0, 0],
  };
}

function trackingSection(tracking: Tracking, motion: Motion): TrackingSection {
  const live = Array.from(tracking.liveCount).sort((a, b) => a - b);
  let kept = 0;
  let all = 0;
  for (let t = 0; t < motion.tracksPerFrame.length; t++) {
    kept += motion.inliersPerFrame[t] ?? 0;
    all += motion.tracksPerFrame[t] ?? 0;
  }
  return {
    analysisWidthPx: tracking.table.widthPx,
    analysisHeightPx: tracking.table.heightPx,
    featuresMedian: live[live.length >> 1] ?? 0,
    refinedShare: tracking.refinedShare,
    inlierShare: all > 0 ? kept / all : 0,
    noisePx: tracking.noisePx,
    coverage: tracking.coverage,
    rejectedFrames: tracking.events.duplicates.length,
    warnings: [...tracking.warnings],
  };
}

function dominantFrequencies(spectrum: Spectrum): Partial<Record<Axis, number | null>> {
  return Object.fromEntries(AXES.map((axis) => [axis, spectrum.dominantHz[axis] ?? null]));
}

/** What the container says about itself that a crew should know. */
function factWarnings(facts: ClipFacts): Warning[] {
  const warnings: Warning[] = [];
  const warn = (code: string, text: string): number => warnings.push({ code, text, atS: null });
  if (facts.variableRate) warn('variable-rate', clipFactTexts.variableRate);
  if (facts.interlaced) warn('interlaced', clipFactTexts.interlaced);
  if (facts.skewDeg !== undefined) warn('turn-oblique', clipFactTexts.turnOblique(facts.skewDeg.toFixed(0)));
  const { misstatedFps, misstatedLengthS } = facts;
  const rate = (fps: number): string => String(Number(fps.toPrecision(5)));
  const length = (timeS: number): string => `${timeS.toFixed(2)} s`;
  if (!facts.hasTimeStamps) warn('no-time-stamps', clipFactTexts.noTimeStamps(rate(facts.fps)));
  if (facts.codec === 'gif' || facts.pixelFormat === 'pal8') warn('few-colours', clipFactTexts.fewColours);
  if (misstatedFps !== undefined)
    warn('rate-misstated', clipFactTexts.rateMisstated(rate(misstatedFps), rate(facts.fps)));
  if (misstatedLengthS !== undefined)
    warn(
      'length-misstated',
      clipFactTexts.lengthMisstated(length(misstatedLengthS), length(facts.durationS)),
    );
  return warnings;
}

/** A focal length in pixels wins over millimetres; worth a word where the two are not the same lens. */
function focalWarning({ rig, facts }: RunParts): Warning[] {
  const { focalPx, focalPxWidth = facts.widthPx, focalLengthMm, sensorWidthMm } = rig;
  if (focalPx === undefined || focalLengthMm === undefined || sensorWidthMm === undefined) return [];
  const takenMm = (focalPx / focalPxWidth) * sensorWidthMm;
  if (Math.abs(takenMm / focalLengthMm - 1) < 0.03) return [];
  const text = clipFactTexts.focalLengthsDiffer(takenMm.toPrecision(3), focalLengthMm);
  return [{ code: 'focal-lengths-differ', text, atS: null }];
}

/** Three periods of the slowest motion have to fit, or move and shake cannot be told apart. */
function smoothingWarning({ motion, stabilisation: { smoothingS } }: RunParts): Warning[] {
  if (smoothingS === null || smoothingS <= smoothingOf(motion) || smoothingFits(motion, smoothingS))
    return [];
  const text = clipFactTexts.smoothingTooLong(smoothingS);
  return [{ code: 'smoothing-too-long', text, atS: null }];
}

/** Predicted frames raise the floors; worth a word where an axis drowns in them. */
function codingWarning({ tracking, motion, warnings }: RunParts): Warning[] {
  const drowned = AXES.some(
    (axis) => motion.axes[axis].status === 'below' || motion.axes[axis].status === 'wide',
  );
  // The doubt about heavy compression says the same, and more.
  const isSaid = warnings.some(({ code }) => code === 'heavy-compression');
  if (tracking.interCoded === false || !drowned || isSaid) return [];
  return [{ code: 'inter-coded', text: clipFactTexts.interCoded, atS: null }];
}

/** No lens is exactly as long as it says; what an error of it does depends on the move. */
function focalAssumption({ motion, rig, camera, facts }: RunParts): Assumption[] {
  if (motion.axes.pan.status === 'notObservable') return [];
  const taken =
    rig.focalPx === undefined && rig.focalLengthMm !== undefined
      ? assumedLensTexts.exactFocal.ofLens(rig.focalLengthMm)
      : assumedLensTexts.exactFocal.px(Math.round((camera.focalPx * facts.widthPx) / camera.widthPx));
  return [
    {
      name: assumedLensTexts.exactFocal.name,
      value: taken,
      matters: focalEffectInWords(motion.alongLens, motion.translationUnit === 'm'),
    },
  ];
}

/** What was taken for the readout of the sensor when the crew did not tell it. */
function readoutAssumption({ motion: { readout }, rig }: RunParts): Assumption[] {
  if (rig.readoutMs !== undefined || readout.state === 'notNeeded') return [];
  const { readoutS, ci95S, state } = readout;
  const ms = (seconds: number): string => (1000 * seconds).toFixed(1);
  const range = ci95S === null ? null : assumedReadoutTexts.range(ms(ci95S[0]), ms(ci95S[1]));
  return [
    {
      name: 'readoutMs',
      value:
        state === 'notMeasurable'
          ? assumedReadoutTexts.none
          : assumedReadoutTexts.found(readoutS === null ? null : ms(readoutS), range),
      matters: state === 'notMeasurable' ? assumedReadoutTexts.noneMatters : assumedReadoutTexts.foundMatters,
    },
  ];
}

/** What was taken for the distortion of a wide lens when the crew did not tell it. */
function distortionAssumption({ motion }: RunParts): Assumption[] {
  const { source, k1, ci95, state } = motion.distortion;
  if (source === 'given' || state === 'notNeeded') return [];
  const range = ci95 && assumedDistortionTexts.range(ci95[0].toFixed(3), ci95[1].toFixed(3));
  return [
    {
      name: 'lensDistortion',
      value:
        k1 === null ? assumedDistortionTexts.none(range) : assumedDistortionTexts.found(k1.toFixed(3), range),
      matters:
        k1 === null
          ? assumedDistortionTexts.noneMatters(angularEffect(motion))
          : state === 'notMeasurable'
            ? assumedDistortionTexts.partlyMatters
            : assumedDistortionTexts.foundMatters,
    },
  ];
}

/** What the angles that stand change by within the range of k1, per cent; null where none stands. */
function angularEffect({ axes, distortion: { rmsShare } }: Motion): string | null {
  const standing = ANGULAR_AXES.filter((axis) => hasFigure(axes[axis].status));
  if (rmsShare === null || standing.length === 0) return null;
  return (100 * Math.max(...standing.map((axis) => rmsShare[axis]))).toFixed(1);
}

function uniqueByName(assumed: readonly Assumption[]): Assumption[] {
  return [...new Map(assumed.map((entry) => [entry.name, entry])).values()];
}
