/** What the log is asked for, as it stands in the address of the page: filters, order and the selected runs. Pure functions. */
import { idsOf } from '../routes.js';

/** Filters that hold one value, by the names of the log. */
export const ONE_VALUE = ['floor', 'lane', 'setup', 'delivery', 'grade', 'since', 'until'] as const;

/** Columns that runs can be sorted by. */
export const SORTS = ['measured', 'floor', 'grade', 'crop', 'left', 'surface'] as const;

/** One of them. */
export type SortBy = (typeof SORTS)[number];

/** Filters by name; empty ones are left out. */
export type Filters = Readonly<Partial<Record<(typeof ONE_VALUE)[number], string>>>;

/** All that the address of the log holds. */
export interface Asked {
  /** Words that must all occur. */
  readonly text: string;
  readonly filters: Filters;
  readonly tags: readonly string[];
  readonly sortBy: SortBy;
  readonly rising: boolean;
  /** Runs that are selected, in the order in which they were. */
  readonly selected: readonly number[];
  /** The run whose sheet is open; null for none. */
  readonly edited: number | null;
}

/** Nothing asked: every run, the newest first. */
export const NOTHING_ASKED: Asked = {
  text: '',
  filters: {},
  tags: [],
  sortBy: 'measured',
  rising: false,
  selected: [],
  edited: null,
};

/** Reads an address; what it holds besides is passed over. */
export function askedIn(query: URLSearchParams): Asked {
  const filters = ONE_VALUE.flatMap((name) => {
    const value = query.get(name)?.trim() ?? '';
    return value === '' ? [] : [[name, value] as const];
  });
  const sort = query.get('sort') ?? '';
  const sortBy = SORTS.find((name) => name === sort.replace(/^-/, ''));
  const [edited = null] = idsOf(query.get('run'));
  return {
    text: query.get('text') ?? '',
    filters: Object.fromEntries(filters),
    tags: query.getAll('tag').filter((tag) => tag.trim() !== ''),
    sortBy: sortBy ?? NOTHING_ASKED.sortBy,
    rising: sortBy === undefined ? NOTHING_ASKED.rising : !sort.startsWith('-'),
    selected: idsOf(query.get('selected')),
    edited,
  };
}

/** Writes it into an address; what is usual is left out. */
export function queryFor({ text, filters, tags, sortBy, rising, selected, edited }: Asked): URLSearchParams {
  const query = new URLSearchParams(conditionsOf({ text, filters, tags }));
  if (sortBy !== NOTHING_ASKED.sortBy || rising !== NOTHING_ASKED.rising)
    query.set('sort', `${rising ? '' : '-'}${sortBy}`);
  if (selected.length > 0) query.set('selected', selected.join(','));
  if (edited !== null) query.set('run', String(edited));
  return query;
}

/** The question to the server. Order and selection are matters of the page. */
export function listPath(asked: Pick<Asked, 'text' | 'filters' | 'tags'>): string {
  const query = new URLSearchParams(conditionsOf(asked)).toString();
  return `/api/runs${query === '' ? '' : `?${query}`}`;
}

/** How many filters are set, the words not counted. */
export function filterCount({ filters, tags }: Pick<Asked, 'filters' | 'tags'>): number {
  return Object.keys(filters).length + tags.length;
}

function conditionsOf({ text, filters, tags }: Pick<Asked, 'text' | 'filters' | 'tags'>): [string, string][] {
  const words: [string, string][] = text.trim() === '' ? [] : [['text', text]];
  return [...words, ...Object.entries(filters), ...tags.map((tag): [string, string] => ['tag', tag])];
}
