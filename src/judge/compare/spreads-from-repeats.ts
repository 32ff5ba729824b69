/**
 * What passes and lanes differ by, as repeated passes show it: standard deviations of ln RMS that take the place of the assumed ones once
 * there are enough of them.
 */
import { mean } from '../../numerics/index.js';
import { ANGULAR_AXES } from '../../run/index.js';
import { alignPasses, alikeOf } from './alignment.js';
import { clipKey, groupedBy, laneKey, SAME_SPEED, speedOf } from './pass-identity.js';
import { commonBand, preparePass, type PreparedPass } from './prepared-pass.js';
import { ASSUMED_SPREADS, type ComparedPass, type Spreads } from './types.js';

/** Enough repeats, in degrees of freedom (passes less one for each lane and setup), and enough lanes. */
const ENOUGH_DEGREES = 10;
const ENOUGH_LANES = 6;
/** No log makes a crew believe in less. */
const LEAST = 0.04;

/**
 * Pools repeats of one setup on one lane in one direction at one speed (within 5 %), and lanes of one floor alike. The three angles are
 * pooled as one, for they come from the same passes. What a run's own shortness spreads is taken off: variance - v (1 - r^2), and for
 * lanes also what their passes differ by.
 *
 * @param passes of any setups, lanes and floors; a clip that comes twice counts once
 * @returns the assumed spreads where there are fewer than 10 degrees of repeats, or 6 lanes
 */
export function spreadsFromRepeats(passes: readonly ComparedPass[]): Spreads {
  const once = [...groupedBy(passes, clipKey).values()].map(([first]) => first);
  const alike = [
    ...groupedBy(once, ({ setup, floor, direction }) =>
      [setup, floor ?? '', direction ?? ''].join('\n'),
    ).values(),
  ].flatMap(bySpeed);
  const groups = alike.map((group) => {
    const bandHz = commonBand(group);
    const prepared = group.map((pass) => preparePass(pass, bandHz));
    return [...groupedBy(prepared, ({ compared }) => laneKey(compared)).values()];
  });
  const betweenPasses = passSpread(groups.flat());
  const betweenLanes = laneSpread(groups, betweenPasses ?? ASSUMED_SPREADS.betweenPasses);
  return {
    ...ASSUMED_SPREADS,
    ...(betweenPasses !== null && { betweenPasses, betweenPassesFrom: 'log' }),
    ...(betweenLanes !== null && { betweenLanes, betweenLanesFrom: 'log' }),
  };
}

/** Passes whose speeds lie within 5 % of the slowest of them; those of unknown speed by themselves. */
function bySpeed(passes: readonly ComparedPass[]): ComparedPass[][] {
  const groups: ComparedPass[][] = [];
  let slowest = NaN;
  const sorted = passes.map((pass) => ({ pass, speed: speedOf(pass) ?? 0 }));
  for (const { pass, speed } of sorted.sort((one, other) => one.speed - other.speed)) {
    if (speed <= slowest * SAME_SPEED) groups[groups.length - 1].push(pass);
    else {
      groups.push([pass]);
      slowest = speed;
    }
  }
  return groups;
}

/** ln RMS of the passes on one axis; null where one of them cannot tell or noise hides them. */
function levelsOf(passes: readonly PreparedPass[], axis: (typeof ANGULAR_AXES)[number]) {
  const levels = passes.map(({ axes }) => axes[axis]?.level);
  const told = levels.filter((level) => level !== undefined);
  if (told.length < levels.length) return null;
  const clear = mean(told.map(({ power }) => power)) >= 2 * mean(told.map(({ wideNoise }) => wideNoise));
  return clear
    ? {
        lnRms: told.map(({ lnRms }) => lnRms),
        withinVariance: mean(told.map(({ withinVariance }) => withinVariance)),
      }
    : null;
}

function passSpread(lanes: readonly (readonly PreparedPass[])[]): number | null {
  let degrees = 0;
  let squares = 0;
  let weight = 0;
  let shortness = 0;
  for (const passes of lanes.filter(({ length }) => length > 1)) {
    degrees += passes.length - 1;
    const pairs = passes.flatMap((one, i) => passes.slice(i + 1).map((other) => alignPasses(one, other)));
    for (const axis of ANGULAR_AXES) {
      const levels = levelsOf(passes, axis);
      if (!levels) continue;
      squares += sumOfSquares(levels.lnRms);
      shortness += (passes.length - 1) * levels.withinVariance * (1 - alikeOf(pairs, axis) ** 2);
      weight += passes.length - 1;
    }
  }
  if (degrees < ENOUGH_DEGREES || weight === 0) return null;
  return Math.sqrt(Math.max(LEAST ** 2, (squares - shortness) / weight));
}

function laneSpread(
  groups: readonly (readonly (readonly PreparedPass[])[])[],
  betweenPasses: number,
): number | null {
  let count = 0;
  let squares = 0;
  let weight = 0;
  let fromPasses = 0;
  for (const lanes of groups.filter(({ length }) => length > 1)) {
    count += lanes.length;
    for (const axis of ANGULAR_AXES) {
      const levels = lanes.map((passes) => levelsOf(passes, axis)).filter((level) => level !== null);
      if (levels.length < 2) continue;
      squares += sumOfSquares(levels.map(({ lnRms }) => mean(lnRms)));
      const within = mean(
        levels.map(
          ({ lnRms, withinVariance }) =>
            withinVariance + (withinVariance + betweenPasses ** 2) / lnRms.length,
        ),
      );
      fromPasses += (levels.length - 1) * within;
      weight += levels.length - 1;
    }
  }
  if (count < ENOUGH_LANES || weight === 0) return null;
  return Math.sqrt(Math.max(LEAST ** 2, (squares - fromPasses) / weight));
}

function sumOfSquares(values: readonly number[]): number {
  const middle = mean(values);
  return values.reduce((sum, value) => sum + (value - middle) ** 2, 0);
}
