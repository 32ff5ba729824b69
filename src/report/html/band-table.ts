/** The figures behind the thirds of an octave, all axes side by side. */
import { figure, type Axis, type RunDocument } from '../../run/index.js';
import { causeTexts, motionTexts, spectrumTexts } from '../../texts/index.js';
import { axisNames } from '../wording.js';
import { figureUnit } from './axis-units.js';
import { html, type Insert, type Markup } from './markup.js';
import { behind } from './table.js';

/** RMS in third octaves; bands that one axis joins because of its length are joined on all. */
export function bandTable(run: RunDocument, present: readonly Axis[]): Markup {
  const { thirdOctaves } = run.spectrum;
  const first = present.flatMap((axis) => (thirdOctaves[axis] ? [thirdOctaves[axis]] : []))[0] ?? [];
  return behind({
    caption: spectrumTexts.bandsTable,
    head: [
      spectrumTexts.bandHead,
      ...present.map((axis) => motionTexts.axisIn(axisNames(run)[axis].name, figureUnit(axis, run).unit)),
      spectrumTexts.shutterHead,
    ],
    rows: first.map((band, i): Insert[] => [
      html`${spectrumTexts.readBand(figure(band.fromHz), figure(band.toHz))}<span class="sub"
          >${spectrumTexts.bandNominal(band.label)}</span
        >`,
      ...present.map((axis): Insert => {
        const own = thirdOctaves[axis]?.[i];
        if (!own) return causeTexts.none;
        const { factor } = figureUnit(axis, run);
        const shown = (value: number): string => figure(value * factor);
        if (own.rms === null || own.ci95 === null) return spectrumTexts.below(shown(own.belowRms));
        const [low, high] = own.ci95.map(shown);
        return html`${shown(own.rms)}<span class="sub">${spectrumTexts.range(low, high)}</span>`;
      }),
      causeTexts.percent(String(Math.round(100 * band.exposureGain))),
    ]),
    numeric: [...present.map((_, i) => i + 1), present.length + 1],
  });
}
