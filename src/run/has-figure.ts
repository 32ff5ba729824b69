/** Whether the figure of an axis stands. No schema is needed to ask it: pages ask, too. */
import type { AxisRms } from './document.js';

/** True for an axis whose figure stands, if with a wide interval. */
export function hasFigure(status: AxisRms['status']): boolean {
  return status === 'value' || status === 'wide';
}
