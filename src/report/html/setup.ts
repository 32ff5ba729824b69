/** Clip, camera, dolly, pass and tool as a camera report lists them: every field that is missing says "not given". */
import { timecodeAt } from '../charts/index.js';
import { figure, parseFrameRate, type PassSheet, type RunDocument } from '../../run/index.js';
import { setupTexts } from '../../texts/index.js';
import { given, lensMm } from '../format.js';
import { wayInWords } from '../wording.js';
import { html, verbatim, type Insert, type Markup } from './markup.js';
import { facts } from './table.js';

type Fact = [string, Insert];
/** A fact that may be missing: null then. */
type Line = readonly [string, Insert | null];

/** Number of the frame that is shown from a point of the clip on; 0 is the first. */
function frameAt({ fpsFraction }: RunDocument['clip'], atS: number): number {
  const { numerator, denominator } = parseFrameRate(fpsFraction);
  return Math.round((atS * numerator) / denominator);
}

/** The section on clip, camera and dolly, the sheet of the pass, and how it was measured. */
export function setupSection(run: RunDocument): Markup {
  const part = (heading: string, entries: readonly Fact[]): Markup =>
    html`<div>
      <h3>${heading}</h3>
      ${facts(entries)}
    </div>`;
  return html`<section aria-labelledby="setup">
    <h2 id="setup">${setupTexts.setup}</h2>
    <div class="sheets">
      ${part(setupTexts.clip, clipFacts(run))} ${part(setupTexts.rig, rigFacts(run))}
      ${part(setupTexts.sheet, sheetFacts(run.pass))} ${part(setupTexts.analysis, analysisFacts(run))}
    </div>
  </section>`;
}

/** The lines of the sheet that were filled in, and the names of the others in one line. */
function sheetFacts(pass: PassSheet): Fact[] {
  const lines: [string, string | number | undefined][] = [
    [setupTexts.production, pass.production],
    [setupTexts.unit, pass.unit],
    [setupTexts.location, pass.location],
    [setupTexts.floor, pass.floor],
    [setupTexts.lane, pass.lane],
    [setupTexts.direction, pass.direction],
    [setupTexts.setupName, pass.setup],
    [setupTexts.wheels, pass.wheels],
    [setupTexts.track, pass.track],
    [setupTexts.operator, pass.operator],
    [setupTexts.passNumber, pass.passNumber],
    [setupTexts.roll, pass.roll],
    [setupTexts.slate, pass.slate],
    [setupTexts.take, pass.take],
    [setupTexts.mark, pass.mark && setupTexts.marks[pass.mark]],
    [setupTexts.tags, pass.tags?.join(', ')],
    [setupTexts.notes, pass.notes],
  ];
  return missingLast(
    lines.map(([name, value]): Line => [name, value === undefined ? null : verbatim(String(value))]),
  );
}

/** The lines that have a value, and the names of the others in one line. */
function missingLast(lines: readonly Line[]): Fact[] {
  const missing = lines.filter(([, value]) => value === null).map(([name]) => lowerFirst(name));
  return [
    ...lines.flatMap(([name, value]): Fact[] => (value === null ? [] : [[name, value]])),
    ...(missing.length === 0 ? [] : [[setupTexts.notGiven, missing.join(', ')] as Fact]),
  ];
}

function lowerFirst(text: string): string {
  return `${text.slice(0, 1).toLowerCase()}${text.slice(1)}`;
}

function clipFacts({ clip, tracking }: RunDocument): Fact[] {
  const [inS, outS] = clip.rangeS;
  const frameS = 1 / clip.fps;
  const { widthPx, heightPx, codec, bitDepth, interlaced } = clip;
  return [
    [setupTexts.clipName, verbatim(clip.file)],
    [setupTexts.picture, setupTexts.pictureWords(widthPx, heightPx, codec, bitDepth, interlaced)],
    [setupTexts.frameRate, setupTexts.frameRateWords(clip.fpsFraction, figure(clip.fps), clip.variableRate)],
    [
      setupTexts.timecode,
      clip.timecodeStart === null ? setupTexts.noTimecode : setupTexts.sourceTimecode(clip.timecodeStart),
    ],
    [setupTexts.in, setupTexts.inWords(timecodeAt(clip, inS), frameAt(clip, inS), figure(inS))],
    [
      setupTexts.out,
      setupTexts.outWords(
        timecodeAt(clip, outS),
        frameAt(clip, outS),
        figure(outS),
        timecodeAt(clip, outS - frameS),
      ),
    ],
    [
      setupTexts.duration,
      setupTexts.durationWords(figure(outS - inS), clip.frameCount, tracking.rejectedFrames),
    ],
    [setupTexts.checksum, html`<span class="mono">${setupTexts.sha256(clip.sha256)}</span>`],
  ];
}

function analysisFacts({ tool, createdAt, tracking, motion, spectrum, stabilise }: RunDocument): Fact[] {
  const percent = (share: number): number => Math.round(100 * share);
  const { analysisWidthPx, analysisHeightPx, noisePx, refinedShare } = tracking;
  const points = setupTexts.pointsWords(
    figure(tracking.featuresMedian),
    percent(tracking.inlierShare),
    percent(tracking.coverage),
  );
  return [
    [setupTexts.analysed, html`<time datetime="${createdAt}">${setupTexts.utc(createdAt)}</time>`],
    [setupTexts.tool, setupTexts.toolWords(tool.version, tool.commit || null)],
    [
      setupTexts.settings,
      setupTexts.settingsWords(
        figure(motion.bandHz[0]),
        figure(spectrum.nyquistHz),
        analysisWidthPx,
        analysisHeightPx,
      ),
    ],
    [setupTexts.stabilised, wayInWords(stabilise)],
    [setupTexts.points, `${points}${refinedShare > 0.05 ? setupTexts.refined(percent(refinedShare)) : ''}`],
    [
      setupTexts.noise,
      noisePx === null ? setupTexts.notKnown : setupTexts.noiseWords(figure(noisePx), analysisWidthPx),
    ],
  ];
}

function rigFacts({ rig, delivery, motion }: RunDocument): Fact[] {
  const { lensDistortion: lens } = rig;
  const known = (value: number | undefined, unit: string): string | null =>
    value === undefined ? null : given(value, unit);
  const inMm = (value: number | undefined): string | null => (value === undefined ? null : lensMm(value));
  return [
    ...missingLast([
      [setupTexts.focalLength, inMm(rig.focalLengthMm)],
      [setupTexts.sensorWidth, inMm(rig.sensorWidthMm)],
      [
        setupTexts.focalCalibrated,
        known(rig.focalPx, rig.focalPxWidth === undefined ? 'px' : setupTexts.pxOf(rig.focalPxWidth)),
      ],
      [
        setupTexts.lensDistortion,
        lens
          ? setupTexts.distortionGiven(lens.k1, lens.k2, lens.p1, lens.p2, lens.k3)
          : distortionWords(motion.distortion),
      ],
      [setupTexts.shutterAngle, known(rig.shutterAngleDeg, '°')],
      [setupTexts.readout, readoutWords(rig.readoutMs, motion.readout)],
      [setupTexts.speed, known(rig.speedMps, 'm/s')],
      [setupTexts.travel, known(rig.travelM, 'm')],
      [setupTexts.wheelbase, known(rig.wheelbaseM, 'm')],
      [setupTexts.trackWidth, known(rig.trackWidthM, 'm')],
      [setupTexts.wheelDiameter, known(rig.wheelDiameterM, 'm')],
      [setupTexts.jointSpacing, known(rig.jointSpacingM, 'm')],
      [setupTexts.machines, rig.machinesHz?.map((hz) => given(hz, 'Hz')).join(', ') ?? null],
      [setupTexts.mountRings, known(rig.mountHz, 'Hz')],
      [setupTexts.mains, known(rig.mainsHz, 'Hz')],
      [setupTexts.cameraHeight, known(rig.cameraHeightM, 'm')],
      [setupTexts.cameraOffset, known(rig.cameraOffsetM, 'm')],
      [setupTexts.lensAzimuth, known(rig.lensAzimuthDeg, '°')],
      [setupTexts.head, rig.head ? setupTexts.heads[rig.head] : null],
    ]),
    [
      setupTexts.delivery,
      setupTexts.deliveryWords(
        delivery.name,
        `${delivery.widthPx} x ${delivery.heightPx}`,
        figure(delivery.viewingDistanceHeights),
        given(delivery.maxCropPercent),
        given(delivery.maxResidualPx),
      ),
    ],
  ];
}

/** The readout as given, as found in the clip, or why neither. */
function readoutWords(givenMs: number | undefined, readout: RunDocument['motion']['readout']): string {
  if (givenMs !== undefined) return given(givenMs, 'ms');
  const { source, readoutMs, ci95Ms, state } = readout;
  const range = ci95Ms === null ? '' : setupTexts.readoutRange(figure(ci95Ms[0]), figure(ci95Ms[1]));
  if (source === 'found')
    return readoutMs === null
      ? setupTexts.readoutBends(range)
      : setupTexts.readoutFound(figure(readoutMs), range);
  return state === 'notNeeded' ? setupTexts.readoutNotNeeded : setupTexts.notToBeFound;
}

/** The distortion that nobody gave, as found in the clip, or why it was not. */
function distortionWords({ source, k1, ci95, state }: RunDocument['motion']['distortion']): string {
  const fixed = (value: number): string => value.toFixed(3);
  if (source === 'found' && k1 !== null && ci95)
    return setupTexts.distortionFound(fixed(k1), fixed(ci95[0]), fixed(ci95[1]));
  if (k1 !== null) return setupTexts.distortionInPart(fixed(k1));
  if (ci95) return setupTexts.distortionNone(fixed(ci95[0]), fixed(ci95[1]));
  return state === 'notNeeded' ? setupTexts.distortionNotNeeded : setupTexts.notToBeFound;
}
