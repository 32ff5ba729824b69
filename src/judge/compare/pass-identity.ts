/** Which clip a compared pass is, on which lane of which floor, and how fast it rolled. */
import type { ComparedPass } from './types.js';

/** Speeds further apart than this, as a factor, are not the same. */
export const SAME_SPEED = 1.05;

/** Says which stretch of which clip was measured; two passes of one clip and range are one pass. */
export function clipKey({ pass }: ComparedPass): string {
  const { sha256, rangeS } = pass.sections.clip;
  return `${sha256} ${rangeS.join(' ')}`;
}

/** A lane together with its floor, as a key. */
export function laneKey({ floor, lane }: ComparedPass): string {
  return `${floor ?? ''}\n${lane}`;
}

/** The lane as it is printed: with its floor where the passes lie on several. */
export function laneName(compared: ComparedPass, all: readonly ComparedPass[]): string {
  const floors = new Set(all.map(({ floor }) => floor ?? ''));
  return floors.size > 1 && compared.floor ? `${compared.floor}, ${compared.lane}` : compared.lane;
}

/** Mean speed under way, m/s: as the floor or the spectrum was read with, as given, or travel over time; null when nothing is known. */
export function speedOf({ pass }: ComparedPass): number | null {
  const { floor, rig, motion, sections } = pass;
  const given = floor?.present.setup.speedMps ?? sections.spectrum.speedMps ?? rig.speedMps;
  if (given !== undefined) return given;
  const travelM = motion.travelM ?? rig.travelM ?? null;
  const durationS = motion.timeS.length / motion.rateHz;
  return travelM !== null && travelM > 0 && durationS > 0 ? travelM / durationS : null;
}

/** Largest over smallest of the speeds; null when one is not known. */
export function speedRange(speeds: readonly (number | null)[]): number | null {
  const known = speeds.filter((speed) => speed !== null && speed > 0) as number[];
  return known.length < speeds.length || known.length === 0 ? null : Math.max(...known) / Math.min(...known);
}

/** Groups in the order in which their keys first come. */
export function groupedBy<Value>(
  values: readonly Value[],
  keyOf: (value: Value) => string,
): Map<string, Value[]> {
  const groups = new Map<string, Value[]>();
  for (const value of values) {
    const group = groups.get(keyOf(value));
    if (group) group.push(value);
    else groups.set(keyOf(value), [value]);
  }
  return groups;
}
