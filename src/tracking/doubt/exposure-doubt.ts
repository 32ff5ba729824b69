/** What people are told when the exposure changed: when, by about how many stops, and what to do. */
import type { Warning } from '../../run/index.js';
import { exposureDoubtTexts } from '../../texts/index.js';
import { exposureChange, type GreyCurve, type LightCourse } from './exposure-change.js';

/** Transfer functions, in FFmpeg's words, that give even steps of grey for even steps of exposure, or nearly. */
const LOG_TRANSFERS = /^(log|log100|log316|log_sqrt|smpte2084|arib-std-b67)$/;

/**
 * How grey of a clip stands for light, as far as it tells.
 *
 * @param transfer the file's word for its curve; null when it says none
 * @param contrastGain factor by which a flat picture was stretched; a picture that had to be is taken for a log curve
 */
export function greyCurveOf(transfer: string | null, contrastGain: number): GreyCurve {
  const isLog = contrastGain !== 1 || LOG_TRANSFERS.test(transfer ?? '');
  return { kind: isLog ? 'log' : 'display', contrastGain };
}

/** The doubt 'exposure-change'; empty where the exposure held. */
export function exposureDoubts(light: LightCourse, curve: GreyCurve): Warning[] {
  const change = exposureChange(light, curve);
  if (!change) return [];
  const { fromS, toS, stops, count } = change;
  const seconds = (timeS: number): string => `${timeS.toFixed(2)} s`;
  const isAtOnce = light.timeS.filter((timeS) => timeS > fromS && timeS <= toS).length <= 1;
  const text = exposureDoubtTexts.change({
    from: seconds(isAtOnce ? toS : fromS),
    to: seconds(toS),
    stops: Math.abs(stops).toFixed(1),
    isBrighter: stops > 0,
    count,
  });
  return [{ code: 'exposure-change', text, atS: isAtOnce ? toS : fromS }];
}
