/** The settings that a run was measured with, as they would be typed: to measure its clip again. */
import { resolveDelivery, type DeliveryPresets } from '../../../judge/index.js';
import { parseFrameRate, type Delivery, type RunDocument, type RunSeries } from '../../../run/index.js';
import { DELIVERY_SETTINGS, settingsOfRig, type Settings } from '../../../settings/index.js';
import { STABILISE_DEFAULTS } from '../../../stabilise/index.js';
import type { Asked } from '../what-if/asked.js';

const MODES = { keepMove: 'keep-move', holdStill: 'hold-still', smoothest: 'smoothest' } as const;

/**
 * Rig, delivery, sheet, stretch and way of stabilising of a run, as they were given: what is taken anyway is left out. Limits under a
 * name that has changed since stand there as figures, so that they still hold.
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

/** Figures of a delivery that can be left out, those that follow from others first. */
const FOLLOWING: readonly (readonly (keyof Delivery)[])[] = [
  ['maxResidualPx'],
  ['viewingDistanceHeights'],
  ['maxCropPercent'],
  ['widthPx', 'heightPx'],
];

/** By name where the name still stands for the same figures; of figures only those that would not be taken anyway. */
function deliveryOf({ delivery }: RunDocument, presets: DeliveryPresets): Delivery {
  const { name, ...figures } = delivery;
  const preset = name !== null && Object.hasOwn(presets, name) ? presets[name] : undefined;
  const fields = Object.keys(figures) as (keyof typeof figures)[];
  if (name !== null && preset !== undefined && fields.every((field) => preset[field] === figures[field]))
    return { name };
  let given: Delivery = figures;
  for (const left of FOLLOWING) {
    const others = Object.fromEntries(
      Object.entries(given).filter(([field]) => !(left as readonly string[]).includes(field)),
    );
    const resolved = resolveDelivery(others, presets);
    if (fields.every((field) => resolved[field] === figures[field])) given = others;
  }
  if (name === null) return given;
  // A name of the crew's own says nothing without a figure beside it.
  const { maxCropPercent } = figures;
  return Object.keys(given).length > 0 && preset === undefined
    ? { ...given, name }
    : { ...(preset === undefined ? { maxCropPercent } : figures), name };
}

/** In frames, which are exact at any rate; what is not there reaches to the end of the clip. */
function stretchOf({ clip }: RunDocument): Settings {
  const { numerator, denominator } = parseFrameRate(clip.fpsFraction);
  const [first, end] = clip.rangeS.map((atS) => Math.round((atS * numerator) / denominator));
  const whole = Math.round((clip.durationS * numerator) / denominator);
  return { ...(first > 0 && { in: `${first}f` }), ...(end < whole && { out: `${end}f` }) };
}

/** Only what would not be taken anyway. */
function stabiliseOf({ stabilise }: RunDocument, series: RunSeries | null): Settings {
  const { mode, takeS } = series?.stabilise ?? stabilise;
  const smoothingS = series === null ? null : series.stabilise.smoothingS;
  return {
    ...(mode !== 'keepMove' && { stabilise: MODES[mode] }),
    ...(mode === 'keepMove' && smoothingS !== null && { smoothing: `${smoothingS}s` }),
    ...(takeS !== STABILISE_DEFAULTS.takeS && { take: `${takeS}s` }),
  };
}

/**
 * The settings with what is asked of the result: delivery, limits, way and smoothing. Lens and speed stay as they were: the clip was shot
 * with those, whatever another pass would give.
 *
 * @param asked what the address of the result asks
 */
export function settingsAsAsked(
  settings: Settings,
  { delivery, maxCrop, maxLeft, mode, smoothing }: Asked,
): Settings {
  const kept = new Map(Object.entries(settings));
  if (delivery !== undefined) {
    for (const name of DELIVERY_SETTINGS) kept.delete(name);
    kept.set('for', delivery);
  }
  if (maxCrop !== undefined) kept.set('max-crop', `${maxCrop}%`);
  if (maxLeft !== undefined) kept.set('max-residual', `${maxLeft}px`);
  if (mode !== undefined) {
    kept.delete('stabilise');
    kept.delete('smoothing');
    if (mode !== 'keepMove') kept.set('stabilise', MODES[mode]);
  }
  // Other ways have no smoothing.
  if (smoothing !== undefined && !kept.has('stabilise')) kept.set('smoothing', `${smoothing}s`);
  return Object.fromEntries(kept);
}

/** Whether something is asked that can be measured of the same clip. */
export function asksOfClip({ lens, speed, ...others }: Asked): boolean {
  void [lens, speed];
  return Object.keys(others).length > 0;
}
