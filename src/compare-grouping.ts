/** What the runs of a comparison are grouped by: what was asked for, else the first thing in which they differ. */
import type { LabelledRun } from './compare-labels.js';
import { laneName } from './judge/index.js';
import { COMPARE_BY, TrundleError, figure, nearestName, type CompareBy, type Warning } from './run/index.js';
import { groupNameTexts, groupingTexts } from './texts/index.js';

/** Each run with its group. */
export interface Grouping {
  readonly by: CompareBy;
  /** Name of the group of each run. */
  readonly groups: readonly string[];
  readonly warnings: readonly Warning[];
}

/** Speeds, wheelbases and focal lengths that lie closer than this are one group: as even as a crew keeps them. */
const SAME_SHARE = 1.05;

/** Reads what to group by. @throws TrundleError `argument-invalid` with the nearest that there is */
export function parseCompareBy(word: string): CompareBy {
  const by = COMPARE_BY.find((known) => known === word.trim().toLowerCase());
  if (by === undefined)
    throw new TrundleError(
      'argument-invalid',
      `"--by ${word}" is none of ${COMPARE_BY.join(', ')}; the nearest is "${nearestName(word, COMPARE_BY)}".`,
    );
  return by;
}

/**
 * Groups the runs.
 *
 * @param wanted null: by setup, or where fewer than two setups are named by the first of the others in which the runs differ, in the
 *   end each run by itself; a warning says so
 * @param setupsGiven setups were named for this comparison, which asks for them to be compared where nothing else is asked for
 * @throws TrundleError `argument-invalid` when what was asked for leaves fewer than two groups
 */
export function groupRuns(
  runs: readonly LabelledRun[],
  wanted: CompareBy | null,
  setupsGiven = false,
): Grouping {
  if (runs.length < 2)
    throw new TrundleError(
      'argument-invalid',
      `A comparison needs two runs or more, and ${runs.length === 1 ? `only "${runs[0].place}" was` : 'none was'} found; name the report folders of both.`,
    );
  const setups = new Set(groupsBy(runs, 'setup'));
  if (wanted === null && setupsGiven && setups.size < 2) throw oneGroup(runs, 'setup');
  if (wanted !== null) {
    const groups = groupsBy(runs, wanted);
    if (new Set(groups).size < 2) throw oneGroup(runs, wanted);
    return { by: wanted, groups, warnings: unnamedGroup(groups, wanted) };
  }
  const by = COMPARE_BY.find((one) => one === 'run' || differsInNamed(runs, one)) ?? 'run';
  const groups = groupsBy(runs, by);
  const warnings = unnamedGroup(groups, by);
  if (by === 'setup') return { by, groups, warnings };
  return {
    ...{ by, groups },
    warnings: [note('compared-by', groupingTexts.comparedBy(by === 'run' ? null : by)), ...warnings],
  };
}

function oneGroup(runs: readonly LabelledRun[], by: CompareBy): TrundleError {
  return new TrundleError(
    'argument-invalid',
    `All ${runs.length} runs have the same ${by} (${groupsBy(runs, by)[0]}), so there is nothing to compare by it; compare by something else.`,
  );
}

/** At least two groups that have a name. */
function differsInNamed(runs: readonly LabelledRun[], by: CompareBy): boolean {
  return new Set(groupsBy(runs, by).filter((group) => group !== unnamed(by))).size > 1;
}

function groupsBy(runs: readonly LabelledRun[], by: CompareBy): string[] {
  switch (by) {
    case 'setup':
    case 'wheels':
    case 'track':
    case 'floor':
      return runs.map(({ sheet }) => sheet[by] ?? unnamed(by));
    case 'lane':
      return runs.map(({ sheet: { lane } }) => (lane === undefined ? unnamed(by) : laneName(lane)));
    case 'speed':
      return likeValues(
        by,
        runs.map(({ run }) => run.spectrum.speedMps ?? run.rig.speedMps ?? null),
        (speed) => groupNameTexts.speed(figure(speed)),
      );
    case 'wheelbase':
      return likeValues(
        by,
        runs.map(({ run }) => run.rig.wheelbaseM ?? null),
        (m) => groupNameTexts.wheelbase(figure(1000 * m)),
      );
    case 'lens':
      return likeValues(
        by,
        runs.map(
          ({
            pass: {
              motion: { camera },
            },
          }) => camera.focalPx / camera.widthPx,
        ),
        (perWidth) => groupNameTexts.lens(figure(36 * perWidth)),
      );
    case 'run':
      return runNames(runs);
  }
}

/** Names values so that those close to each other share one, that of their middle. */
function likeValues(
  by: CompareBy,
  values: readonly (number | null)[],
  words: (value: number) => string,
): string[] {
  const clusters: number[][] = [];
  for (const value of values.filter((one) => one !== null).sort((a, b) => a - b)) {
    const last = clusters[clusters.length - 1];
    if (last !== undefined && value <= last[0] * SAME_SHARE) last.push(value);
    else clusters.push([value]);
  }
  return values.map((value) => {
    const own = value === null ? undefined : clusters.find((cluster) => cluster.includes(value));
    return own === undefined ? unnamed(by) : words(own[Math.floor(own.length / 2)]);
  });
}

/** Runs by their clips; a number tells clips of one name apart. */
function runNames(runs: readonly LabelledRun[]): string[] {
  const names = runs.map(({ run }) => run.clip.file.replace(/\.[^.]*$/, ''));
  const before = new Map<string, number>();
  return names.map((name) => {
    const count = (before.get(name) ?? 0) + 1;
    before.set(name, count);
    return count === 1 ? name : `${name} (${count})`;
  });
}

function unnamed(by: CompareBy): string {
  return groupNameTexts.unnamed(by);
}

function unnamedGroup(groups: readonly string[], by: CompareBy): Warning[] {
  const count = groups.filter((group) => group === unnamed(by)).length;
  if (count === 0) return [];
  return [note('group-unnamed', groupingTexts.groupUnnamed(by, count))];
}

function note(code: string, text: string): Warning {
  return { code, text, atS: null };
}
