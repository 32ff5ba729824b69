/** The figures behind the charts of the floor, in the units of the run. */
import { figure } from '../../run/index.js';
import { floorTexts as texts } from '../../texts/index.js';
import { heightUnit, placeUnit, type ProfileChartData, type WavelengthChartData } from '../charts/index.js';
import type { Insert, Markup } from './markup.js';
import { behind } from './table.js';

/** Rows of the profile: more are in the run document. */
const ROWS = 40;

/** The profile as a table, thinned. */
export function profileTable({ distanceM, lines, units }: ProfileChartData): Markup {
  const [place, height] = [placeUnit(units), heightUnit(units)];
  const decimals = height.size === 1 ? 3 : 4;
  const of = (value: number | undefined): string =>
    value === undefined ? '–' : (value / height.size).toFixed(decimals);
  const [mean, left, right] = lines;
  const every = Math.max(1, Math.ceil(distanceM.length / ROWS));
  const rows = distanceM
    .map((_, i) => i)
    .filter((i) => i % every === 0)
    .map((i): Insert[] => [
      (distanceM[i] / place.size).toFixed(2),
      of(mean?.heightMm[i]),
      of(mean?.bandMm[i]),
      of(left?.heightMm[i]),
      of(right?.heightMm[i]),
    ]);
  return behind({
    caption: texts.profileTable,
    head: texts.profileHeads(place.unit, height.unit),
    rows,
    numeric: [1, 2, 3, 4],
  });
}

/** The bands of wavelength as a table. */
export function wavesTable({ bands, units }: WavelengthChartData): Markup {
  const { unit, size } = heightUnit(units);
  return behind({
    caption: texts.wavesTable,
    head: texts.wavesHeads(unit),
    rows: bands.map(({ nominalM, levelDb, betweenJointsDb, rangeDb, below, limitDb }): Insert[] => [
      figure((1000 * nominalM) / size),
      below ? texts.below(levelDb.toFixed(1)) : levelDb.toFixed(1),
      betweenJointsDb === null ? '–' : betweenJointsDb.toFixed(1),
      below ? '–' : rangeDb.toFixed(1),
      limitDb === null ? '–' : limitDb.toFixed(1),
    ]),
    numeric: [1, 2, 3, 4],
  });
}
