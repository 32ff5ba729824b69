/** Setup, lane and floor of each run in a comparison: from the sheet of its pass, or as named for the comparison. */
import type { PlacedRun } from './compare-places.js';
import { TrundleError, type PassSheet } from './run/index.js';

/** A run with the sheet that counts for the comparison. */
export interface LabelledRun extends PlacedRun {
  readonly sheet: PassSheet;
}

/** Names for the runs, one each in the order of the runs; an empty one leaves what is on the sheet. */
export interface RunNames {
  readonly setups?: readonly string[] | undefined;
  readonly lanes?: readonly string[] | undefined;
  readonly directions?: readonly string[] | undefined;
}

/**
 * Puts the names onto the runs.
 * @throws TrundleError `argument-invalid` unless there are as many names as runs, and for a direction other than out and back
 */
export function labelled(runs: readonly PlacedRun[], names: RunNames): LabelledRun[] {
  const setups = namesFor(runs, 'setups', names.setups);
  const lanes = namesFor(runs, 'lanes', names.lanes);
  const directions = namesFor(runs, 'directions', names.directions).map(directionNamed);
  return runs.map((run, i) => ({
    ...run,
    sheet: {
      ...run.run.pass,
      ...(setups[i] !== '' && { setup: setups[i] }),
      ...(lanes[i] !== '' && { lane: lanes[i] }),
      ...(directions[i] !== undefined && { direction: directions[i] }),
    },
  }));
}

function namesFor(
  runs: readonly PlacedRun[],
  option: keyof RunNames,
  names: readonly string[] | undefined,
): string[] {
  if (names === undefined) return runs.map(() => '');
  if (names.length !== runs.length)
    throw new TrundleError(
      'argument-invalid',
      `"--${option}" has ${names.length} names for ${runs.length} runs (${runs.map(({ place }) => place).join(', ')}); give one for each, in this order.`,
    );
  return names.map((name) => name.trim());
}

function directionNamed(name: string): PassSheet['direction'] {
  if (name === '') return undefined;
  if (name !== 'out' && name !== 'back')
    throw new TrundleError('argument-invalid', `"--directions" knows out and back, not "${name}".`);
  return name;
}
