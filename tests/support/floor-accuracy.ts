/** Grade and list of a floor against the floor that was made: one clip through the whole program. Used by tests and by the accuracy table. */
import fs from 'node:fs';
import { measure } from '../../src/measure.js';
import { parseRigFile, type SurfaceBump, type SurfaceSection } from '../../src/run/index.js';
import { surfaceClass } from '../../src/surface/index.js';
import type { FloorPass } from './floor-passes.js';
import { madeUpClip } from './made-up-clip.js';

/** An event this near to a true joint is that joint, m. */
export const SAME_PLACE_M = 0.03;

/** One clip. */
export interface FloorAccuracy {
  readonly name: string;
  readonly surface: SurfaceSection;
  readonly trueGdM3: number;
  readonly trueClass: string;
  /** True joints that an axle met, m. */
  readonly jointsM: readonly number[];
  readonly jointSpacingM: number;
  /** Distance from each of them to the next event of the list, m. */
  readonly missedByM: readonly number[];
  /** Events of the list without a joint there. */
  readonly falseEvents: readonly SurfaceBump[];
  /** From the rear axle at the first frame to the front axle at the last. */
  readonly runM: number;
  readonly seconds: number;
}

/** Films a pass (or takes it from the cache), measures it without telling it of the joints, and compares. */
export async function floorAccuracyOf({ pass, wheelbaseM }: FloorPass, threads = 1): Promise<FloorAccuracy> {
  const { clipFile, rigFile, truth } = await madeUpClip(pass);
  const { rig } = parseRigFile(fs.readFileSync(rigFile, 'utf8'), rigFile);
  const startedMs = performance.now();
  const { run } = await measure({ clip: clipFile, rig: { ...rig, jointSpacingM: undefined } }, { threads });
  const seconds = (performance.now() - startedMs) / 1000;
  const floor = truth.floor!;
  const runM = truth.travelM + wheelbaseM;
  const jointsM = floor.joints.map(({ atM }) => atM).filter((atM) => atM >= 0 && atM <= runM);
  const { bumps } = run.surface;
  const nearest = (atM: number, places: readonly number[]): number =>
    Math.min(Infinity, ...places.map((place) => Math.abs(place - atM)));
  return {
    name: pass.name,
    surface: run.surface,
    trueGdM3: floor.gdM3,
    trueClass: surfaceClass(floor.gdM3).name,
    jointsM,
    jointSpacingM: truth.settings.deck!.floor.joints?.spacingM ?? 0,
    missedByM: jointsM.map((atM) =>
      nearest(
        atM,
        bumps.map((bump) => bump.atM),
      ),
    ),
    falseEvents: bumps.filter(({ atM }) => nearest(atM, jointsM) > SAME_PLACE_M),
    runM,
    seconds,
  };
}

/** False events that are let pass: two, and three more per 10 m. */
export function falseEventsAllowed({ runM }: FloorAccuracy): number {
  return 2 + 0.3 * runM;
}

/** Share of the true joints that are in the list; 1 where there are none. */
export function shareFound({ missedByM }: FloorAccuracy): number {
  if (missedByM.length === 0) return 1;
  return missedByM.filter((byM) => byM <= SAME_PLACE_M).length / missedByM.length;
}
