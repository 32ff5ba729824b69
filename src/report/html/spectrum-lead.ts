/** The axis whose spectrum is shown first and large, and what it shows, in a sentence. */
import { figure, inUnits, type Axis, type RunDocument } from '../../run/index.js';
import { spectrumTexts } from '../../texts/index.js';
import { frequency, sourceName } from '../cause-words.js';
import { withUnit } from '../format.js';
import type { ReportBundle } from '../types.js';
import { axisNames } from '../wording.js';
import { pictureShakes } from './axis-numbers.js';
import { sentenceUnit } from './axis-units.js';

/**
 * Of the axes that are drawn: the one that shows the strongest named source most; else that of the strongest source; else the axis that
 * shakes the picture most; else the first.
 */
export function leadAxis(bundle: ReportBundle, drawn: readonly Axis[]): Axis | null {
  const { sources } = bundle.run.spectrum;
  const wanted = [...sources.filter(({ cause }) => cause !== 'unknown' && cause !== 'lamp'), ...sources].map(
    ({ trueRmsAxis }) => trueRmsAxis,
  );
  const candidates = [...wanted, ...pictureShakes(bundle).map(({ axis }) => axis)];
  return candidates.find((axis) => drawn.includes(axis)) ?? drawn[0] ?? null;
}

/** What the large chart shows here. */
export function leadWords(bundle: ReportBundle, axis: Axis): string {
  const { run } = bundle;
  const { sources, peaks } = run.spectrum;
  const { name } = axisNames(run)[axis];
  const named = sources.findIndex((one) => one.trueRmsAxis === axis && one.cause !== 'unknown');
  const shown = named >= 0 ? named : sources.findIndex((one) => one.trueRmsAxis === axis);
  if (shown < 0) return sources.length === 0 ? bandWords(run, axis, name) : spectrumTexts.leadPlain(name);
  const peak = peaks.find((one) => one.source === shown && one.axis === axis);
  const source = sourceName(sources[shown], run);
  return spectrumTexts.leadSource(
    name,
    String(shown + 1),
    source,
    source.includes(' Hz') ? null : frequency(sources[shown].freqHz),
    peak === undefined ? null : figure(peak.prominenceDb),
  );
}

/** Without any peak: the band that holds most. */
function bandWords(run: RunDocument, axis: Axis, name: string): string {
  const bands = run.spectrum.thirdOctaves[axis] ?? [];
  const [most] = [...bands].sort((a, b) => (b.rms ?? 0) - (a.rms ?? 0));
  if (most === undefined || most.rms === null) return spectrumTexts.leadPlain(name);
  const band = spectrumTexts.readBand(figure(most.fromHz), figure(most.toHz));
  const value = withUnit(figure(most.rms), sentenceUnit(axis, run));
  return spectrumTexts.leadBand(name, band, inUnits(value, run.units));
}
