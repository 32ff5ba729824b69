/**
 * The line of `trundle compare`: runs that were measured before -> setups against each other, and the lanes of their floor.
 *
 * places -> runs with series -> sheets -> groups -> compared passes -> comparison, lane plan. No clip is read.
 */
import os from 'node:os';
import { groupRuns } from './compare-grouping.js';
import { labelled, type LabelledRun, type RunNames } from './compare-labels.js';
import { readPlaces } from './compare-places.js';
import { logFile } from './log/index.js';
import { spreadsOfLog } from './compare-spreads.js';
import {
  compareSetups,
  focalPerWidthOf,
  lanePlan,
  type ComparedPass,
  type SetupComparison,
  type Spreads,
} from './judge/index.js';
import { DEFAULT_SEED } from './measure-request.js';
import {
  COMPARISON_SCHEMA,
  type CompareBy,
  type Comparison,
  type LanePlan,
  type Warning,
} from './run/index.js';
import { groupNameTexts, groupingTexts } from './texts/index.js';
import { toolVersion } from './tool-version.js';

/** What to compare. */
export interface CompareRequest extends RunNames {
  /** Report folders, run.json files, folders that hold report folders, or questions to the log ("log:floor=dairy hall", "log:12,14"). */
  readonly places: readonly string[];
  /** What to group by; null or missing: setup, else the first thing in which the runs differ. */
  readonly by?: CompareBy | null;
  /** Length of a take to foretell the crop for, seconds. */
  readonly takeS?: number | undefined;
  /** Folder of the log; that of the user when missing. */
  readonly dataDir?: string | undefined;
  readonly seed?: number | undefined;
}

/** A take of this length is foretold unless another is asked for, seconds. */
export const COMPARED_TAKE_S = 60;

/**
 * Compares runs.
 *
 * @throws TrundleError `argument-invalid` with fewer than two runs or groups; `run-unreadable`, `run-invalid` for a place without a
 *   run that can be compared
 */
export async function compareRuns(request: CompareRequest): Promise<Comparison> {
  const { by: wanted = null, takeS = COMPARED_TAKE_S, seed = DEFAULT_SEED } = request;
  const warnings: Warning[] = [];
  const onWarning = (warning: Warning): number => warnings.push(warning);
  const log = logFile(request.dataDir, process.env, process.platform, os.homedir());
  const runs = labelled(await readPlaces(request.places, log, onWarning), request);
  const {
    by,
    groups,
    warnings: grouped,
  } = groupRuns(runs, wanted, request.setups?.some((name) => name !== '') ?? false);
  warnings.push(...grouped);
  const places = by === 'lane' || by === 'floor';
  if (!places) warnings.push(...unnamedLanes(runs));

  const spreads = await spreadsOfLog(log, onWarning);
  // Where lanes or floors are compared each is a thing of its own, and setups are what both were seen under.
  const passes = runs.map((run, i) =>
    places
      ? { ...comparedPass(run, groups[i], run.sheet.setup ?? groupNameTexts.allPasses), floor: null }
      : comparedPass(run, groups[i], laneOf(run)),
  );
  const found = compareSetups(passes, { by, spreads, takeS, seed });
  const compared = places ? withOwnLanes(found, runs) : found;
  const plan = planOf(runs, spreads);
  if (places) warnings.push(placesCompared(by));
  return {
    schema: COMPARISON_SCHEMA,
    tool: toolVersion(),
    createdAt: new Date().toISOString(),
    by,
    ...compared,
    sentence: by === 'lane' && plan !== null ? plan.best.sentence : compared.sentence,
    lanePlan: plan,
    warnings: [...warnings, ...compared.warnings],
  };
}

function placesCompared(by: 'lane' | 'floor'): Warning {
  return {
    code: 'places-compared',
    text: groupingTexts.placesCompared(by),
    atS: null,
  };
}

/** The runs on the lanes that their sheets name, in place of the setups that they were matched by. */
function withOwnLanes(compared: SetupComparison, runs: readonly LabelledRun[]): SetupComparison {
  const lanes = new Map(runs.map((run) => [run.place, laneOf(run)]));
  const groups = compared.groups.map((group) => ({
    ...group,
    runs: group.runs.map((run) => ({ ...run, lane: lanes.get(run.place) ?? run.lane })),
  }));
  const lanesOf = (name: string): string[] =>
    groups.find((group) => group.name === name)?.runs.map(({ lane }) => lane) ?? [];
  const pairs = compared.pairs.map((pair) => ({
    ...pair,
    lanes: [...new Set([...lanesOf(pair.a), ...lanesOf(pair.b)])],
  }));
  return { ...compared, groups, pairs };
}

function comparedPass({ place, run, pass, sheet }: LabelledRun, setup: string, lane: string): ComparedPass {
  return {
    ...{ place, setup, lane, pass },
    clip: run.clip.file,
    createdAt: run.createdAt,
    floor: sheet.floor ?? null,
    direction: sheet.direction ?? null,
    passNumber: sheet.passNumber ?? null,
    grade: run.verdict.grade,
  };
}

function laneOf({ sheet }: LabelledRun): string {
  return sheet.lane ?? groupNameTexts.unnamedLane;
}

/** Runs without a lane are compared as if they had one in common, beside the lanes that are named, and that is said. */
function unnamedLanes(runs: readonly LabelledRun[]): Warning[] {
  const unnamed = runs.filter(({ sheet }) => sheet.lane === undefined);
  if (unnamed.length === 0) return [];
  const floors = new Set(unnamed.map(({ sheet }) => sheet.floor ?? null)).size;
  const text =
    unnamed.length === runs.length
      ? groupingTexts.noLaneNamed(floors)
      : groupingTexts.someLanesUnnamed(unnamed.length, runs.length, floors);
  return [{ code: 'lane-unnamed', text, atS: null }];
}

/** The plan of the floor with most lanes (then: most passes) of which a lane or a direction is named. */
function planOf(runs: readonly LabelledRun[], spreads: Spreads): LanePlan | null {
  const named = runs.filter(({ sheet }) => sheet.lane !== undefined || sheet.direction !== undefined);
  const floors = [...new Set(named.map(({ sheet }) => sheet.floor ?? null))].map((floor) => {
    const own = named.filter(({ sheet }) => (sheet.floor ?? null) === floor);
    return { floor, own, lanes: new Set(own.map(laneOf)).size };
  });
  const [most] = floors.sort((a, b) => b.lanes - a.lanes || b.own.length - a.own.length);
  if (most === undefined) return null;
  return lanePlan(
    most.own.map((run) => comparedPass(run, run.sheet.setup ?? groupNameTexts.theSetup, laneOf(run))),
    spreads,
    {
      floor: most.floor,
      focalPerWidth: Math.max(...runs.map(({ pass }) => focalPerWidthOf(pass))),
      delivery: runs[0].pass.delivery,
    },
  );
}
