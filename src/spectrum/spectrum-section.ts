/** Writes spectra into the run document: degrees for angles, millimetres or per cent of depth for translation. */
import { ANGULAR_AXES, AXES, type Axis, type SpectrumSection } from '../run/index.js';
import type { Spectrum } from './types.js';

/** Factor from the inside unit to the printed one, and the printed unit's name. */
interface PrintedUnit {
  readonly factor: number;
  readonly name: 'deg' | 'mm' | 'percent';
}

function printedUnit(axis: Axis, translationUnit: Spectrum['translationUnit']): PrintedUnit {
  if ((ANGULAR_AXES as readonly string[]).includes(axis)) return { factor: 180 / Math.PI, name: 'deg' };
  return translationUnit === 'm' ? { factor: 1000, name: 'mm' } : { factor: 100, name: 'percent' };
}

/** What the document says beyond the spectra themselves. */
export interface SpectrumSectionOptions {
  /** Speed of the dolly along its track, m/s; with it every peak gets a wavelength on the floor. */
  readonly speedMps?: number | undefined;
}

/**
 * The spectrum section of the run document.
 *
 * Densities are in deg^2/Hz, mm^2/Hz or percent^2/Hz, the RMS of peaks in deg, mm or percent. `wavelengthM` is
 * speed / frequency, null without a speed. `cause: null` and `confidence: null` mean not attributed. Peaks are
 * ordered by axis, then by height over the background.
 *
 * @throws RangeError when the speed is given and not positive
 */
export function spectrumSection(spectrum: Spectrum, options: SpectrumSectionOptions = {}): SpectrumSection {
  const { speedMps } = options;
  if (speedMps !== undefined && !(speedMps > 0))
    throw new RangeError(`speedMps must be positive, got ${speedMps}`);
  const section: SpectrumSection = {
    method: spectrum.method,
    resolutionHz: spectrum.resolutionHz,
    noiseBandwidthHz: spectrum.noiseBandwidthHz,
    degreesOfFreedom: spectrum.degreesOfFreedom,
    ci95Factors: [...spectrum.ci95Factors],
    nyquistHz: spectrum.nyquistHz,
    speedMps: speedMps ?? null,
    series: {},
    noiseFloor: {},
    background: {},
    thirdOctaves: {},
    spectrogram: null,
    peaks: [],
    sources: [],
    falsePeaks: null,
    suggestedSpeed: null,
    sound: null,
    flicker: null,
    comparedWith: null,
    notes: [],
  };
  for (const axis of AXES) {
    const found = spectrum.axes[axis];
    if (!found) continue;
    const { factor, name } = printedUnit(axis, spectrum.translationUnit);
    section.series[axis] = {
      freqHz: [...found.freqHz],
      psd: Array.from(found.psd, (s) => s * factor * factor),
      unit: `${name}^2/Hz`,
    };
    section.noiseFloor[axis] = found.noiseFloorPsd * factor * factor;
    for (const peak of found.peaks) {
      section.peaks.push({
        axis,
        freqHz: peak.freqHz,
        widthHz: peak.widthHz,
        rms: peak.rms * factor,
        unit: name,
        prominenceDb: peak.prominenceDb,
        wavelengthM: speedMps === undefined ? null : speedMps / peak.freqHz,
        ci95Hz: [peak.freqHz, peak.freqHz],
        rmsCi95: [peak.rms * factor, peak.rms * factor],
        shape: 'line',
        cause: 'unknown',
        confidence: null,
        source: 0,
        mayBeRipple: false,
      });
    }
  }
  return section;
}
