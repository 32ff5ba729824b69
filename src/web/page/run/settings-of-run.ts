/** The settings that a run was measured with, as they would be typed: to measure its clip again. */
import type { DeliveryPresets } from '../../../judge/index.js';
import { parseFrameRate, type Delivery, type RunDocument, type RunSeries } from '../../../run/index.js';
import { settingsOfRig, type Settings } from '../../../settings/index.js';

const MODES = { keepMove: 'keep-move', holdStill: 'hold-still', smoothest: 'smoothest' } as const;

/**
 * Rig, delivery, sheet, stretch and way of stabilising of a run. Limits that the run took for granted stand there as figures, so that
 * they hold even where the names have changed since.
 *
 * @param series null where none were kept: the way of stabilising is then that of the document
 * @param presets what names of deliveries stand for
 */
export function settingsOfRun(
  run: RunDocument,
  series: RunSeries | null,
  presets: DeliveryPresets,
): Settings {
  const { assumed, ...rig } = run.rig;
  void assumed; // those are taken for granted again
  return {
    ...settingsOfRig({ rig, delivery: deliveryOf(run, presets), pass: run.pass, units: run.units }, presets),
    ...stretchOf(run),
    ...stabiliseOf(run, series),
  };
}

/** By name where the name still stands for the same figures. */
function deliveryOf({ delivery }: RunDocument, presets: DeliveryPresets): Delivery {
  const { name, ...figures } = delivery;
  if (name === null) return figures;
  const preset = Object.hasOwn(presets, name) ? presets[name] : undefined;
  const same =
    preset !== undefined &&
    (Object.keys(figures) as (keyof typeof figures)[]).every((field) => preset[field] === figures[field]);
  return same ? { name } : { name, ...figures };
}

/** In frames, which are exact at any rate; what is not there reaches to the end of the clip. */
function stretchOf({ clip }: RunDocument): Settings {
  const { numerator, denominator } = parseFrameRate(clip.fpsFraction);
  const [first, end] = clip.rangeS.map((atS) => Math.round((atS * numerator) / denominator));
  const whole = Math.round((clip.durationS * numerator) / denominator);
  return { ...(first > 0 && { in: `${first}f` }), ...(end < whole && { out: `${end}f` }) };
}

function stabiliseOf({ stabilise }: RunDocument, series: RunSeries | null): Settings {
  const { mode, takeS } = series?.stabilise ?? stabilise;
  const smoothingS = series === null ? null : series.stabilise.smoothingS;
  return {
    stabilise: MODES[mode],
    ...(mode === 'keepMove' && smoothingS !== null && { smoothing: `${smoothingS}s` }),
    take: `${takeS}s`,
  };
}
