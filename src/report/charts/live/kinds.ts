/** The charts that can be looked into, by the name that the page stores beside their data. */
import { floorDots } from '../floor-dots.js';
import { cropCurve } from '../crop-curve.js';
import { whatIfCrop } from '../what-if-chart.js';
import { floorStrip } from '../floor-strip.js';
import { profile } from '../profile-chart.js';
import { wavelengths } from '../wavelength-chart.js';
import { ratioChart } from '../ratio-chart.js';
import { motionTimeline } from '../motion-timeline.js';
import { spectrumChart } from '../spectrum-chart.js';
import { thirdOctaveChart } from '../third-octave-chart.js';
import type { ChartKind } from './types.js';

/** All kinds; a page names one of them beside the data of each of its charts. */
export const CHART_KINDS = {
  floorDots,
  cropCurve,
  whatIfCrop,
  floorStrip,
  profile,
  wavelengths,
  ratios: ratioChart,
  timeline: motionTimeline,
  spectrum: spectrumChart,
  thirdOctave: thirdOctaveChart,
} as const satisfies Record<string, ChartKind<never>>;

/** Name of a kind. */
export type ChartName = keyof typeof CHART_KINDS;

/** The data of every kind. */
type DataOf = { readonly [Name in ChartName]: Parameters<(typeof CHART_KINDS)[Name]['draw']>[0] };
/** The registry as a table from names to kinds, so that a name that is only known while the page runs keeps its data. */
type KindOf = { readonly [Name in ChartName]: ChartKind<DataOf[Name]> };

/** The data that a kind is drawn from. */
export type ChartData<Name extends ChartName> = DataOf[Name];

/** The kind of that name. */
export function chartKind<Name extends ChartName>(name: Name): ChartKind<ChartData<Name>> {
  const kinds: KindOf = CHART_KINDS;
  return kinds[name];
}
