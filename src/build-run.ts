/** Gathers what the rooms found into the run document: conversions to the document's units, assumptions, warnings, verdict. */
import type { MeasureRequest } from './measure-request.js';
import type { Camera } from './optics/index.js';
import type { ClipFacts } from './footage/index.js';
import type { Tracking } from './tracking/index.js';
import { focalEffectInWords, motionSection, type Motion } from './motion/index.js';
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
    ...codingWarning(tracking, motion),
    ...parts.warnings,
    ...tracking.warnings,
    ...motion.warnings,
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
  return {
    file: facts.file.split(/[\\/]/).pop() ?? facts.file,
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
    durationS: facts.durationS,
    timecodeStart: facts.timecodeStart,
    frameCount,
    rangeS: frameCount > 0 ? [timeS[0], timeS[frameCount - 1] + 1 / facts.fps] : [0, 0],
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
  if (facts.variableRate)
    warn(
      'variable-rate',
      'The clip has no steady frame rate; the time stamps of the file are used. Record at a fixed rate for the finest figures.',
    );
  if (facts.interlaced)
    warn(
      'interlaced',
      'The clip is interlaced; it was deinterlaced, which softens small vertical shake. Record progressive.',
    );
  if (!facts.hasTimeStamps)
    warn(
      'no-time-stamps',
      'The file holds no time stamps; frames are taken as evenly spaced at the stated rate.',
    );
  return warnings;
}

/** A focal length in pixels wins over millimetres; worth a word where the two are not the same lens. */
function focalWarning({ rig, facts }: RunParts): Warning[] {
  const { focalPx, focalPxWidth = facts.widthPx, focalLengthMm, sensorWidthMm } = rig;
  if (focalPx === undefined || focalLengthMm === undefined || sensorWidthMm === undefined) return [];
  const takenMm = (focalPx / focalPxWidth) * sensorWidthMm;
  if (Math.abs(takenMm / focalLengthMm - 1) < 0.03) return [];
  const text = `The focal length in pixels makes a lens of ${takenMm.toPrecision(3)} mm, but a lens of ${focalLengthMm} mm was given; the pixels were used.`;
  return [{ code: 'focal-lengths-differ', text, atS: null }];
}

/** Three periods of the slowest motion have to fit, or move and shake cannot be told apart. */
function smoothingWarning({ motion, stabilisation: { smoothingS } }: RunParts): Warning[] {
  if (smoothingS === null || smoothingS <= smoothingOf(motion) || smoothingFits(motion, smoothingS))
    return [];
  const text = `The clip is too short for ${smoothingS} s of smoothing: three times that would have to fit. Nearly all of its motion is taken for shake.`;
  return [{ code: 'smoothing-too-long', text, atS: null }];
}

/** Predicted frames raise the floors; worth a word where an axis drowns in them. */
function codingWarning(tracking: Tracking, motion: Motion): Warning[] {
  const drowned = AXES.some(
    (axis) => motion.axes[axis].status === 'below' || motion.axes[axis].status === 'wide',
  );
  if (tracking.interCoded === false || !drowned) return [];
  const text =
    'The clip codes frames from one another, which hides very small shake; the noise floors are raised for it. Record all-intra for fine rails.';
  return [{ code: 'inter-coded', text, atS: null }];
}

/** No lens is exactly as long as it says; what an error of it does depends on the move. */
function focalAssumption({ motion, rig, camera, facts }: RunParts): Assumption[] {
  if (motion.axes.pan.status === 'notObservable') return [];
  const taken =
    rig.focalPx === undefined && rig.focalLengthMm !== undefined
      ? `exactly that of a ${rig.focalLengthMm} mm lens`
      : `exactly ${Math.round((camera.focalPx * facts.widthPx) / camera.widthPx)} px`;
  return [
    {
      name: 'focal length',
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
  const range = ci95S === null ? '' : ` (${ms(ci95S[0])} to ${ms(ci95S[1])} ms)`;
  return [
    {
      name: 'readoutMs',
      value:
        state === 'notMeasurable'
          ? '0 ms'
          : readoutS === null
            ? `found in the clip${range}`
            : `${ms(readoutS)} ms, found in the clip${range}`,
      matters:
        state === 'notMeasurable'
          ? 'a slow readout would turn pan and tilt into false lateral and vertical motion; this clip does not tell, so give it'
          : 'the figures are freed of it; a readout that is 1 ms off leaves a little of pan and tilt in lateral and vertical',
    },
  ];
}

/** What was taken for the distortion of a wide lens when the crew did not tell it. */
function distortionAssumption({ motion }: RunParts): Assumption[] {
  const { source, k1, ci95, state } = motion.distortion;
  if (source === 'given' || state === 'notNeeded') return [];
  const range = ci95 === null ? '' : ` (${ci95[0].toFixed(3)} to ${ci95[1].toFixed(3)})`;
  return [
    {
      name: 'lensDistortion',
      value:
        k1 === null
          ? `none; by this clip k1${range || ' is not known'}`
          : `k1 ${k1.toFixed(3)}, found in the clip${range}`,
      matters:
        k1 === null
          ? `a lens that bends lines makes pan and tilt read low and sideways shake high; ${angularEffect(motion)}"trundle lens" finds it`
          : state === 'notMeasurable'
            ? 'the lens bends lines by more than that, and the figures are freed of it in part only; "trundle lens" finds it'
            : 'the figures are freed of it; "trundle lens" finds it once for all passes, higher terms included',
    },
  ];
}

/** What the range of k1 leaves open for the angles that stand. */
function angularEffect({ axes, distortion: { rmsShare } }: Motion): string {
  const standing = ANGULAR_AXES.filter((axis) => hasFigure(axes[axis].status));
  if (rmsShare === null || standing.length === 0) return '';
  const most = Math.max(...standing.map((axis) => rmsShare[axis]));
  return `within this range the angles change by up to ${(100 * most).toFixed(1)} %; `;
}

function uniqueByName(assumed: readonly Assumption[]): Assumption[] {
  return [...new Map(assumed.map((entry) => [entry.name, entry])).values()];
}
