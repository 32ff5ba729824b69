/** Reads what a request gives: texts of an order, numbers of an address. */
import type { Context } from 'hono';
import { WebProblem } from '../server/problem.js';

/** Texts of an order by their names. @throws WebProblem 400 `order-invalid` */
export async function orderIn<Name extends string>(
  context: Context,
  names: readonly Name[],
  sentence: string,
): Promise<Record<Name, string>> {
  const order: unknown = await context.req.json().catch(() => null);
  const given = (typeof order === 'object' && order !== null ? order : {}) as Record<Name, unknown>;
  if (!names.every((name) => typeof given[name] === 'string'))
    throw new WebProblem(400, 'order-invalid', sentence);
  return given as Record<Name, string>;
}

/** A whole number as it is written, NaN for anything else. */
export function wholeIn(text: string): number {
  return /^\d{1,9}$/.test(text) ? Number(text) : NaN;
}

/** A decimal number, 0 or more, as scripts write it; NaN for anything else. */
export function figureIn(text: string | undefined): number {
  return text !== undefined && /^\d{1,9}(\.\d{1,20})?(e-\d{1,3})?$/.test(text) ? Number(text) : NaN;
}
