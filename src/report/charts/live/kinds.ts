/** The charts that can be looked into, by the name that the page stores beside their data. */
import type { ChartKind } from './types.js';

/** All kinds; a page names one of them beside the data of each of its charts. */
export const CHART_KINDS = {} as const satisfies Record<string, ChartKind<never>>;

/** Name of a kind. */
export type ChartName = keyof typeof CHART_KINDS;

/** The data that a kind is drawn from. */
export type ChartData<Name extends ChartName> = Parameters<(typeof CHART_KINDS)[Name]['draw']>[0];
