/** Reads an order of work as the page sends it. */
import { jobTexts } from '../../texts/index.js';
import type { JobOrder, Settings } from '../api.js';
import { WebProblem } from '../server/problem.js';

const LAYOUTS = ['alone', 'beside', 'above', 'split'] as const;
const WINDOWS = ['centred', 'offCentre', 'moving'] as const;
/** Longest text of a setting, characters: notes may take 4000. */
const LONGEST_SETTING = 4096;

/** @throws WebProblem 400 `order-unreadable`; what the settings say is looked at later */
export function readOrder(body: unknown): JobOrder {
  const order = recordOf(body);
  if (order?.['kind'] === 'measure') {
    const { clip, settings } = order;
    if (typeof clip === 'string' && isSettings(settings)) return { kind: 'measure', clip, settings };
  }
  if (order?.['kind'] === 'proof') {
    const { run } = order;
    const layout = LAYOUTS.find((name) => name === order['layout']);
    const window = WINDOWS.find((name) => name === order['window']);
    if (typeof run === 'number' && Number.isSafeInteger(run) && run > 0 && layout && window)
      return { kind: 'proof', run, layout, window };
  }
  throw new WebProblem(400, 'order-unreadable', jobTexts.orderUnreadable);
}

function recordOf(value: unknown): Record<string, unknown> | null {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
    ? (value as Record<string, unknown>)
    : null;
}

function isSettings(value: unknown): value is Settings {
  const settings = recordOf(value);
  return (
    settings !== null &&
    Object.values(settings).every((text) => typeof text === 'string' && text.length <= LONGEST_SETTING)
  );
}
