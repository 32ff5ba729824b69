/** Where the dolly was during a clip, for charts over time: as its floor was graded by, else by its travel or speed. */
import { travelOf } from '../../surface/index.js';
import type { TimelinePlaces } from '../charts/index.js';
import { placeUnit } from '../charts/axis-units.js';
import type { ReportBundle } from '../types.js';

/** More places than this say no more along a time line. */
const MOST = 400;

/** The places, in metres or feet from where the rear axle began; null where neither travel nor speed is known. */
export function placesOfRun({ run, series, motion }: ReportBundle): TimelinePlaces | null {
  const known = series.floor ?? travelled(motion, run.rig);
  if (known === null || known.rearM.length < 2) return null;
  const { unit, size } = placeUnit(run.units);
  const last = known.rearM.length - 1;
  const every = Math.max(1, Math.ceil(last / MOST));
  const count = Math.floor(last / every) + 1;
  return {
    unit,
    fromS: motion.timeS[known.fromFrame],
    stepS: every / motion.rateHz,
    place: Array.from({ length: count }, (_, i) => known.rearM[i * every] / size),
  };
}

type Known = Pick<NonNullable<ReportBundle['series']['floor']>, 'fromFrame' | 'rearM'>;

function travelled(motion: ReportBundle['motion'], rig: ReportBundle['run']['rig']): Known | null {
  const travel = travelOf(motion, rig);
  return travel && { fromFrame: travel.fromFrame, rearM: [...travel.placeM] };
}
