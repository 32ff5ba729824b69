/** Where the page is: its address by the History API, so that back, forward and a reload lead where they should. */
import { computed, signal } from '@preact/signals';
import { routeOf, type Route } from './routes.js';

/** An address of the page. */
export interface Place {
  readonly path: string;
  readonly query: URLSearchParams;
}

/** Where the page is now. */
export const place = signal<Place>(currentPlace());

/** The view that stands there. */
export const route = computed<Route>(() => routeOf(place.value.path, place.value.query));

/** Goes to an address of the page. @param options.replace puts it in the place of this one: no step for the back button */
export function go(address: string, { replace = false }: { readonly replace?: boolean } = {}): void {
  if (address === location.pathname + location.search) return;
  if (replace) history.replaceState(null, '', address);
  else history.pushState(null, '', address);
  place.value = currentPlace();
}

/** Changes what stands after the path; an empty query leaves the path alone. */
export function setQuery(query: URLSearchParams, options: { readonly replace?: boolean } = {}): void {
  // Commas part the numbers of runs; they may stand as they are.
  const text = query.toString().replaceAll('%2C', ',');
  go(`${location.pathname}${text === '' ? '' : `?${text}`}`, options);
}

function currentPlace(): Place {
  return { path: location.pathname, query: new URLSearchParams(location.search) };
}

addEventListener('popstate', () => {
  place.value = currentPlace();
});
