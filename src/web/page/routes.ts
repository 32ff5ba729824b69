/** Addresses of the page: which view stands at a path, and the path of each view. Pure functions. */

/** What is shown. */
export type Route =
  | { readonly view: 'start'; /** There is nothing at the address. */ readonly missed: boolean }
  | { readonly view: 'work' }
  | { readonly view: 'run'; /** Of the log. */ readonly id: number }
  | { readonly view: 'log' }
  | {
      readonly view: 'comparison';
      /** Of the log. */ readonly runs: readonly number[];
      /** What they are grouped by; null where the program chooses. */ readonly by: string | null;
      /** The plan of the lanes is what is looked for. */ readonly plan: boolean;
    };

/** Names of the views. */
export type ViewName = Route['view'];

/** The view at an address; the start where there is none. @example routeOf('/runs/12', query) // { view: 'run', id: 12 } */
export function routeOf(path: string, query: URLSearchParams): Route {
  const parts = path.split('/').filter((part) => part !== '');
  const [first, second] = parts;
  if (parts.length === 0) return { view: 'start', missed: false };
  if (parts.length === 1 && first === 'work') return { view: 'work' };
  if (parts.length === 1 && first === 'log') return { view: 'log' };
  if (parts.length === 2 && first === 'runs') {
    const [id] = idsOf(second);
    if (id !== undefined && String(id) === second) return { view: 'run', id };
  }
  if (parts.length === 1 && first === 'compare')
    return {
      view: 'comparison',
      runs: idsOf(query.get('runs')),
      by: query.get('by'),
      plan: query.has('plan'),
    };
  return { view: 'start', missed: true };
}

/** Path of the page of a run. */
export function runPath(id: number): string {
  return `/runs/${id}`;
}

/** Path of a comparison. @param by null to let the program choose. @example comparisonPath([1, 2], 'lane') // "/compare?runs=1,2&by=lane" */
export function comparisonPath(runs: readonly number[], by: string | null = null): string {
  return `/compare?runs=${runs.join(',')}${by === null ? '' : `&by=${encodeURIComponent(by)}`}`;
}

/** Path of a comparison by lane that begins at the plan of the lanes. @example lanePlanPath([1, 2]) // "/compare?runs=1,2&by=lane&plan=1" */
export function lanePlanPath(runs: readonly number[]): string {
  return `${comparisonPath(runs, 'lane')}&plan=1`;
}

/** Numbers of runs as they stand in an address, each once, in order; what is no number is left out. */
export function idsOf(text: string | null): readonly number[] {
  const ids = (text ?? '').split(',').flatMap((part) => (/^[1-9]\d{0,14}$/.test(part) ? [Number(part)] : []));
  return [...new Set(ids)];
}
