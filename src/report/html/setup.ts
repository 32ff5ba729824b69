/** Clip, rig and tool as a camera report lists them: every field that is missing says "not given". */
import {
  figure,
  frameOfTimecode,
  parseFrameRate,
  supportsDropFrame,
  timecodeOf,
  type PassSheet,
  type RunDocument,
} from '../../run/index.js';
import { given } from '../format.js';
import { html, verbatim, type Insert, type Markup } from './markup.js';
import { facts, table } from './table.js';

/** The timecode of a point in the clip, counted from the clip's own start label or from 00:00:00:00. */
export function timecodeAt(clip: RunDocument['clip'], atS: number): string {
  const rate = parseFrameRate(clip.fpsFraction);
  const start = clip.timecodeStart === null ? 0 : frameOfTimecode(clip.timecodeStart, rate);
  const drop = clip.timecodeStart !== null && clip.timecodeStart.includes(';') && supportsDropFrame(rate);
  return timecodeOf(start + Math.round((atS * rate.numerator) / rate.denominator), rate, drop);
}

/** The section on clip, rig and tool. */
export function setupSection(run: RunDocument): Markup {
  return html`<section aria-labelledby="setup">
    <h2 id="setup">Clip and setup</h2>
    <div class="side">
      <div>
        <h3>Clip</h3>
        ${facts(clipFacts(run))}
      </div>
      <div>
        <h3>Camera and dolly</h3>
        ${facts(rigFacts(run))}
      </div>
    </div>
    <h3>Pass</h3>
    ${facts(sheetFacts(run.pass))}
  </section>`;
}

const MARKS = { good: 'good', noGood: 'no-good' } as const;

/** The lines of the sheet that were filled in, and the names of the others in one line. */
function sheetFacts(pass: PassSheet): [string, Insert][] {
  const lines: [string, string | number | undefined][] = [
    ['Production', pass.production],
    ['Unit', pass.unit],
    ['Location', pass.location],
    ['Floor or rail run', pass.floor],
    ['Lane', pass.lane],
    ['Direction', pass.direction],
    ['Setup', pass.setup],
    ['Wheels', pass.wheels],
    ['Track', pass.track],
    ['Operator', pass.operator],
    ['Pass number', pass.passNumber],
    ['Camera roll', pass.roll],
    ['Slate', pass.slate],
    ['Take', pass.take],
    ['Mark', pass.mark && MARKS[pass.mark]],
    ['Tags', pass.tags?.join(', ')],
    ['Notes', pass.notes],
  ];
  const missing = lines.filter(([, value]) => value === undefined).map(([name]) => name.toLowerCase());
  return [
    ...lines.flatMap(([name, value]): [string, Insert][] =>
      value === undefined ? [] : [[name, verbatim(String(value))]],
    ),
    ...(missing.length === 0 ? [] : [['Not given', missing.join(', ')] as [string, Insert]]),
  ];
}

function clipFacts({ clip, tool, createdAt, tracking }: RunDocument): [string, Insert][] {
  const [inS, outS] = clip.rangeS;
  return [
    ['Clip name', verbatim(clip.file)],
    [
      'Picture',
      `${clip.widthPx} x ${clip.heightPx} px, ${clip.codec}, ${clip.bitDepth} bit${clip.interlaced ? ', interlaced' : ''}`,
    ],
    [
      'Frame rate',
      `${clip.fpsFraction} = ${figure(clip.fps)} frames per second${clip.variableRate ? ', variable' : ''}`,
    ],
    ['In', `${timecodeAt(clip, inS)} (${figure(inS)} s)`],
    ['Out', `${timecodeAt(clip, outS)} (${figure(outS)} s), first frame left out`],
    [
      'Timecode',
      clip.timecodeStart === null
        ? 'none in the file; counted from clip start'
        : `source timecode, starts at ${clip.timecodeStart}`,
    ],
    ['Frames measured', `${clip.frameCount}, ${tracking.rejectedFrames} of them rejected`],
    [
      'Points followed',
      `${figure(tracking.featuresMedian)} a frame, ${Math.round(100 * tracking.inlierShare)} % kept, in ${Math.round(100 * tracking.coverage)} % of the frame${tracking.refinedShare > 0.05 ? `; ${Math.round(100 * tracking.refinedShare)} % refined by templates, since the move changes scale` : ''}`,
    ],
    [
      'Tracking noise',
      tracking.noisePx === null
        ? 'not known'
        : `${figure(tracking.noisePx)} px at ${tracking.analysisWidthPx} px width`,
    ],
    ['Checksum', html`<span class="mono">SHA-256 ${clip.sha256}</span>`],
    ['Analysed', html`<time datetime="${createdAt}">${createdAt}</time>`],
    ['Tool', `Trundle ${tool.version}${tool.commit ? ` (${tool.commit})` : ''}`],
  ];
}

function rigFacts({ rig, delivery, motion }: RunDocument): [string, Insert][] {
  const heads = { locked: 'locked', operated: 'operated', selfLevelling: 'self-levelling' };
  const { lensDistortion: lens } = rig;
  return [
    ['Focal length', given(rig.focalLengthMm, 'mm')],
    ['Sensor width', given(rig.sensorWidthMm, 'mm')],
    [
      'Focal length, calibrated',
      given(rig.focalPx, rig.focalPxWidth === undefined ? 'px' : `px of ${rig.focalPxWidth}`),
    ],
    [
      'Lens distortion',
      lens
        ? `k1 ${lens.k1}, k2 ${lens.k2}, p1 ${lens.p1}, p2 ${lens.p2}, k3 ${lens.k3}`
        : distortionWords(motion.distortion),
    ],
    ['Shutter angle', given(rig.shutterAngleDeg, '°')],
    ['Sensor readout', readoutWords(rig.readoutMs, motion.readout)],
    ['Speed', given(rig.speedMps, 'm/s')],
    ['Travel', given(rig.travelM, 'm')],
    ['Wheelbase', given(rig.wheelbaseM, 'm')],
    ['Track width', given(rig.trackWidthM, 'm')],
    ['Wheel diameter', given(rig.wheelDiameterM, 'm')],
    ['Joint spacing', given(rig.jointSpacingM, 'm')],
    ['Machines', given(rig.machinesHz?.map((hz) => given(hz, 'Hz')).join(', '))],
    ['Mount rings at', given(rig.mountHz, 'Hz')],
    ['Mains', given(rig.mainsHz, 'Hz')],
    ['Camera height', given(rig.cameraHeightM, 'm')],
    ['Lens ahead of the axles’ middle', given(rig.cameraOffsetM, 'm')],
    ['Lens against travel', given(rig.lensAzimuthDeg, '°')],
    ['Head', rig.head ? heads[rig.head] : 'not given'],
    [
      'Delivery',
      `${delivery.name === null ? '' : `${delivery.name}: `}${delivery.widthPx} x ${delivery.heightPx} px, watched from ${figure(delivery.viewingDistanceHeights)} heights of the screen, crop up to ${given(delivery.maxCropPercent)} %, shake left up to ${given(delivery.maxResidualPx)} px RMS`,
    ],
  ];
}

/** The readout as given, as found in the clip, or why neither. */
function readoutWords(givenMs: number | undefined, readout: RunDocument['motion']['readout']): string {
  if (givenMs !== undefined) return given(givenMs, 'ms');
  const { source, readoutMs, ci95Ms, state } = readout;
  const range = ci95Ms === null ? '' : ` (${figure(ci95Ms[0])} to ${figure(ci95Ms[1])} ms)`;
  if (source === 'found')
    return readoutMs === null
      ? `not given; the picture bends as with${range}, corrected`
      : `not given; found in the clip: ${figure(readoutMs)} ms${range}, corrected`;
  return state === 'notNeeded'
    ? 'not given; too little shake for it to matter'
    : 'not given and not to be found in this clip';
}

/** The distortion that nobody gave, as found in the clip, or why it was not. */
function distortionWords({ source, k1, ci95, state }: RunDocument['motion']['distortion']): string {
  if (source === 'found' && k1 !== null && ci95)
    return `not given; found in the clip: k1 ${k1.toFixed(3)} (${ci95[0].toFixed(3)} to ${ci95[1].toFixed(3)}), corrected`;
  if (k1 !== null)
    return `not given; stronger than the clip can tell, k1 ${k1.toFixed(3)} or less, corrected in part`;
  if (ci95)
    return `not given; none found in the clip: k1 between ${ci95[0].toFixed(3)} and ${ci95[1].toFixed(3)}`;
  return state === 'notNeeded'
    ? 'not given; too little for it to matter'
    : 'not given and not to be found in this clip';
}

/** The section on what was assumed. */
export function assumedSection({ rig }: RunDocument): Markup {
  return html`<section aria-labelledby="assumed">
    <h2 id="assumed">What was assumed and how much it matters</h2>
    ${
      rig.assumed.length === 0
        ? html`<p>Nothing: everything that was needed was given.</p>`
        : table({
            caption: 'Assumed because it was not given',
            head: ['What', 'Taken as', 'How much it matters'],
            rows: rig.assumed.map(({ name, value, matters }): Insert[] => [name, value, matters]),
          })
    }
  </section>`;
}

/** The section on warnings. */
export function warningsSection(run: RunDocument): Markup {
  return html`<section aria-labelledby="warnings">
    <h2 id="warnings">Warnings</h2>
    ${
      run.warnings.length === 0
        ? html`<p>None.</p>`
        : html`<ul>
            ${run.warnings.map(({ text, atS }) => html`<li>${text}${atS === null ? '' : ` (at ${figure(atS)} s, ${timecodeAt(run.clip, atS)})`}</li>`)}
          </ul>`
    }
  </section>`;
}
