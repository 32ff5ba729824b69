/** Sources of shake and their peaks as the run document holds them: degrees, millimetres or per cent of depth, px of the clip. */
import { TWO_SIDED_95 } from '../numerics/index.js';
import type { Axis, Peak, ShakeSourceSection } from '../run/index.js';
import type { ShakeSource, Sighting } from './causes/types.js';
import { printedUnit } from './printed-unit.js';
import type { SeenSource, Spectrum } from './types.js';

type Shape = Peak['shape'];

/** Sources, what shifts the picture most first. @param pxScale px of the clip for one px of the analysed picture */
export function sourceSections(
  { sources, translationUnit }: Spectrum,
  pxScale: number,
): ShakeSourceSection[] {
  return sources.map((source) => ({
    freqHz: source.freqHz,
    ci95Hz: around(source.freqHz, source.freqSdHz),
    axes: source.sightings.map(({ axis }) => axis),
    shape: shapeOf(source),
    shiftPx: source.shiftPx * pxScale,
    cause: source.cause,
    confidence: source.probability,
    reason: source.reason,
    candidates: source.candidates.map((candidate) => ({ ...candidate })),
    trueHz: source.trueHz,
    exposureGain: source.exposureGain,
    trueRms: source.trueRms && source.trueRms * printedUnit(source.largestAxis, translationUnit).factor,
    trueRmsAxis: source.largestAxis,
    couldBeHz: [...source.couldBeHz],
    harmonic: source.harmonic && { ...source.harmonic },
    followsTravel: followsTravel(source),
    sound: source.sound && { ...source.sound },
    otherRun: source.otherRun && { ...source.otherRun },
    wobblePx: source.wobblePx === null ? null : source.wobblePx * pxScale,
  }));
}

/** Peaks of all axes, in the order of the axes and of their height over the threshold. */
export function peakSections(spectrum: Spectrum, axis: Axis): Peak[] {
  const { factor, name } = printedUnit(axis, spectrum.translationUnit);
  return (spectrum.axes[axis]?.finding.peaks ?? []).map((peak) => {
    const at = spectrum.sources.findIndex(({ sightings }) => sightings.some((one) => one.peak === peak));
    const source = spectrum.sources[at];
    const rms = peak.rms * factor;
    const half = TWO_SIDED_95 * peak.rmsShare * rms;
    return {
      axis,
      freqHz: peak.freqHz,
      ci95Hz: around(peak.freqHz, peak.freqSdHz),
      widthHz: peak.widthHz,
      rms,
      rmsCi95: [Math.max(0, rms - half), rms + half],
      unit: name,
      prominenceDb: peak.prominenceDb,
      shape: peak.resonance === null ? 'line' : 'resonance',
      wavelengthM: spectrum.speedMps === null ? null : spectrum.speedMps / source.trueHz,
      cause: source.cause,
      confidence: source.probability,
      source: at,
      mayBeRipple: peak.mayBeRipple,
    };
  });
}

function around(value: number, sd: number): [number, number] {
  return [Math.max(0, value - TWO_SIDED_95 * sd), value + TWO_SIDED_95 * sd];
}

/** A source is a resonance where most of what its peaks show, by power, is one. */
function shapeOf({ sightings }: ShakeSource): Shape {
  const strength = (shape: Shape): number =>
    sightings.reduce(
      (sum, { peak }) => sum + ((peak.resonance === null) === (shape === 'line') ? peak.strength : 0),
      0,
    );
  return strength('resonance') > strength('line') ? 'resonance' : 'line';
}

/** Of the axis that tells it most surely. */
function followsTravel({ sightings }: Pick<SeenSource, 'sightings'>): number | null {
  const told = sightings.flatMap(({ peak }: Sighting) =>
    peak.followsTravel === null ? [] : [peak.followsTravel],
  );
  return told.length === 0 ? null : told.reduce((a, b) => (Math.abs(b - 0.5) > Math.abs(a - 0.5) ? b : a));
}
