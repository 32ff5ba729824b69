/** A source of shake with its peak, as the spectrum of a pass names one. */
import type { Peak, ShakeSourceSection } from '../../../../src/run/index.js';
import type { MeasuredPass } from '../../../../src/judge/index.js';

export interface NamedSource {
  readonly cause: 'wheel' | 'machine' | 'mount' | 'joint';
  readonly freqHz: number;
  readonly shiftPx?: number;
  readonly tiltDegRms?: number;
  readonly widthHz?: number;
}

/** The pass with these sources in place of its own. */
export function withSources(pass: MeasuredPass, named: readonly NamedSource[]): MeasuredPass {
  const sources = named.map(({ cause, freqHz, shiftPx = 1 }): ShakeSourceSection => ({
    freqHz,
    ci95Hz: [freqHz - 0.05, freqHz + 0.05],
    axes: ['tilt'],
    shape: cause === 'mount' ? 'resonance' : 'line',
    shiftPx,
    cause,
    confidence: 0.9,
    reason: null,
    candidates: [],
    trueHz: freqHz,
    exposureGain: 1,
    trueRms: null,
    trueRmsAxis: 'tilt',
    couldBeHz: [freqHz],
    harmonic: null,
    followsTravel: null,
    sound: null,
    otherRun: null,
    wobblePx: null,
  }));
  const peaks = named.map(({ cause, freqHz, tiltDegRms = 0.01, widthHz = 0.3 }, source): Peak => ({
    axis: 'tilt',
    freqHz,
    ci95Hz: [freqHz - 0.05, freqHz + 0.05],
    widthHz,
    rms: tiltDegRms,
    rmsCi95: [0.95 * tiltDegRms, 1.05 * tiltDegRms],
    unit: 'deg',
    prominenceDb: 20,
    shape: cause === 'mount' ? 'resonance' : 'line',
    wavelengthM: null,
    cause,
    confidence: 0.9,
    source,
    mayBeRipple: false,
  }));
  const { sections } = pass;
  return { ...pass, sections: { ...sections, spectrum: { ...sections.spectrum, sources, peaks } } };
}
