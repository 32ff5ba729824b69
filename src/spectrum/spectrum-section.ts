/** Writes spectra into the run document: degrees for angles, millimetres or per cent of depth for translation, px of the clip. */
import { TWO_SIDED_95 } from '../numerics/index.js';
import { exposureGain } from '../optics/index.js';
import { AXES, type Axis, type Spectrogram, type SpectrumSection, type ThirdOctave } from '../run/index.js';
import { printedUnit, type PrintedUnit } from './printed-unit.js';
import { peakSections, sourceSections } from './sources-section.js';
import type { AxisSpectrum, Spectrum } from './types.js';

/** Digits of a cell of the spectrogram: its chance error is that of one cell, a factor of two. */
const CELL_DIGITS = 3;

/**
 * The spectrum section of the run document.
 *
 * Densities are in deg^2/Hz, mm^2/Hz or percent^2/Hz, the RMS of peaks and bands in deg, mm or percent. `wavelengthM` is speed over the
 * frequency of the motion itself, null without a speed. Peaks are ordered by axis, sources by how far they shift the picture.
 *
 * @param pxScale px of the clip for one px of the analysed picture
 */
export function spectrumSection(spectrum: Spectrum, pxScale: number): SpectrumSection {
  const present = AXES.flatMap((axis) => spectrum.axes[axis] ?? []);
  const inUnits = <T>(of: (one: AxisSpectrum, unit: PrintedUnit) => T): Partial<Record<Axis, T>> =>
    Object.fromEntries(
      present.map((one) => [one.axis, of(one, printedUnit(one.axis, spectrum.translationUnit))]),
    );
  const densities = (psd: Float64Array, { factor }: PrintedUnit): number[] =>
    Array.from(psd, (s) => s * factor * factor);
  return {
    method: spectrum.method,
    resolutionHz: spectrum.resolutionHz,
    noiseBandwidthHz: spectrum.noiseBandwidthHz,
    degreesOfFreedom: spectrum.degreesOfFreedom,
    ci95Factors: [...spectrum.ci95Factors],
    nyquistHz: spectrum.nyquistHz,
    speedMps: spectrum.speedMps,
    series: inUnits(({ freqHz, psd }, unit) => ({
      freqHz: [...freqHz],
      psd: densities(psd, unit),
      unit: `${unit.name}^2/Hz`,
    })),
    noiseFloor: inUnits(({ noiseFloorPsd }, { factor }) => noiseFloorPsd * factor * factor),
    background: inUnits(({ finding: { background } }, unit) => ({
      freqHz: [...background.freqHz],
      psd: densities(background.psd, unit),
      unit: `${unit.name}^2/Hz`,
    })),
    thirdOctaves: inUnits((one, { factor }) => bandSections(one, factor, spectrum.exposureS)),
    spectrogram: spectrogramSection(present, spectrum),
    peaks: AXES.flatMap((axis) => peakSections(spectrum, axis)),
    sources: sourceSections(spectrum, pxScale),
    falsePeaks: falsePeaks(present),
    suggestedSpeed: suggestedSpeed(spectrum),
    sound: soundSection(spectrum),
    flicker: spectrum.flicker && {
      lampHz: spectrum.flicker.lampHz,
      seenHz: spectrum.flicker.seenHz,
      depthPercent: spectrum.flicker.depthPercent,
      inBands: spectrum.flicker.inBands,
    },
    comparedWith: spectrum.comparedWith && {
      name: spectrum.comparedWith.name,
      speedMps: spectrum.comparedWith.speedMps,
    },
    notes: [...spectrum.notes],
  };
}

function bandSections({ thirdOctaves }: AxisSpectrum, factor: number, exposureS: number): ThirdOctave[] {
  return thirdOctaves.map(({ label, centreHz, fromHz, toHz, rms, ci95, belowRms }) => ({
    label,
    centreHz,
    fromHz,
    toHz,
    rms: rms === null ? null : rms * factor,
    ci95: ci95 && [ci95[0] * factor, ci95[1] * factor],
    belowRms: belowRms * factor,
    exposureGain: exposureGain(centreHz, exposureS),
  }));
}

/** Rows and columns are those of the first axis: all axes have the same frames. */
function spectrogramSection(
  present: readonly AxisSpectrum[],
  { translationUnit }: Spectrum,
): Spectrogram | null {
  const first = present.find(({ spectrogram }) => spectrogram !== null)?.spectrogram;
  if (!first) return null;
  const rounded = (value: number): number => Number(value.toPrecision(CELL_DIGITS));
  return {
    windowS: first.windowS,
    resolutionHz: first.resolutionHz,
    timeS: Array.from(first.timeS, (t) => Number(t.toFixed(3))),
    placeM: first.placeM && Array.from(first.placeM, (place) => Number(place.toFixed(4))),
    freqHz: [...first.freqHz],
    axes: Object.fromEntries(
      present.flatMap(({ axis, spectrogram }) => {
        const { factor } = printedUnit(axis, translationUnit);
        const cells = spectrogram?.rows.map((row) => Array.from(row, (s) => rounded(s * factor * factor)));
        return cells ? [[axis, cells]] : [];
      }),
    ),
  };
}

/** The rate of the axes whose false peaks were measured; the highest where they differ. */
function falsePeaks(present: readonly AxisSpectrum[]): SpectrumSection['falsePeaks'] {
  const measured = present.filter(({ finding }) => finding.falseInHundred !== null);
  if (measured.length === 0) return null;
  return {
    inHundred: Math.max(...measured.map(({ finding }) => finding.falseInHundred!)),
    axes: measured.map(({ axis }) => axis),
  };
}

function suggestedSpeed({ suggestedSpeed: told, speedMps }: Spectrum): SpectrumSection['suggestedSpeed'] {
  if (told === null || speedMps === null) return null;
  const half = TWO_SIDED_95 * told.sdMps;
  return {
    mps: told.speedMps,
    ci95Mps: [told.speedMps - half, told.speedMps + half],
    givenMps: speedMps,
    confidence: told.confidence,
    fromSources: told.fromSources,
  };
}

function soundSection({ heard }: Spectrum): SpectrumSection['sound'] {
  if (heard === null) return null;
  return {
    used: heard.refusal === null,
    reason: heard.refusal,
    levelDb: Number.isFinite(heard.levelDb) ? heard.levelDb : null,
    lines: heard.lines.map(({ freqHz, kind, strength }) => ({ freqHz, kind, strength })),
  };
}
