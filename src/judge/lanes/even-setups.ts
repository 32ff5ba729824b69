/** Which passes of a floor can rank its lanes, and by how much each setup shakes beside the commonest one (ln RMS). */
import { mean } from '../../numerics/index.js';
import type { LanePass } from './lane-pass.js';

/** The passes that count, with what is taken off each. */
export interface EvenPasses {
  readonly lanes: readonly string[];
  /** The setup that the figures are of; null where each lane has its own. */
  readonly setup: string | null;
  /** Other setups that were run on all these lanes: their passes count after what they shake more is taken off. */
  readonly others: readonly string[];
  /** Lanes that the setup was not run on. */
  readonly leftOut: readonly string[];
  /**
   * Lanes with the setups that were run on them, where there are several lanes and no setup was run on two: nothing is then taken off,
   * all lanes are shown, and none can be ranked.
   */
  readonly confounded: readonly { readonly lane: string; readonly setups: readonly string[] }[] | null;
  readonly passes: readonly LanePass[];
  /** ln RMS to take off a pass. */
  readonly excess: (pass: LanePass) => number;
}

/**
 * The setup that was run on most lanes (then: with most passes, then: first by name) makes the plan. Another one helps when it was
 * run on every one of these lanes: the mean of its lane means less that of the first is then the setup alone. Where every setup has one
 * lane, lanes and setups cannot be told apart.
 */
export function evenPasses(passes: readonly LanePass[]): EvenPasses {
  const setups = [...new Set(passes.map(setupOf))].sort();
  const lanesOf = (setup: string): string[] => [
    ...new Set(passes.filter((pass) => setupOf(pass) === setup).map(laneOf)),
  ];
  const count = (setup: string): number => passes.filter((pass) => setupOf(pass) === setup).length;
  const [setup] = setups.sort(
    (a, b) => lanesOf(b).length - lanesOf(a).length || count(b) - count(a) || (a < b ? -1 : 1),
  );
  const byName = (a: string, b: string): number => a.localeCompare(b, 'en', { numeric: true });
  const all = [...new Set(passes.map(laneOf))].sort(byName);
  const lanes = lanesOf(setup).sort(byName);
  if (lanes.length === 1 && all.length > 1)
    return {
      ...{ lanes: all, setup: null, others: [], leftOut: [], passes },
      confounded: all.map((lane) => ({
        lane,
        setups: [...new Set(passes.filter((pass) => laneOf(pass) === lane).map(setupOf))].sort(),
      })),
      excess: () => 0,
    };
  const others = setups.filter(
    (other) => other !== setup && lanes.every((lane) => lanesOf(other).includes(lane)),
  );
  const level = (of: string): number =>
    mean(
      lanes.map((lane) =>
        mean(
          passes.filter((pass) => setupOf(pass) === of && laneOf(pass) === lane).map((pass) => pass.lnRms),
        ),
      ),
    );
  const excesses = new Map([setup, ...others].map((of) => [of, level(of) - level(setup)]));
  const counted = passes.filter((pass) => excesses.has(setupOf(pass)) && lanes.includes(laneOf(pass)));
  return {
    ...{ lanes, setup, others, passes: counted, confounded: null },
    leftOut: all.filter((lane) => !lanes.includes(lane)),
    excess: (pass) => excesses.get(setupOf(pass)) ?? 0,
  };
}

function setupOf({ compared }: LanePass): string {
  return compared.setup;
}

function laneOf({ compared }: LanePass): string {
  return compared.lane;
}
