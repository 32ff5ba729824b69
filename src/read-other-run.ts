/** Reads from disk what another run of the same rig says of its sources of shake, for the test of two runs. */
import { TWO_SIDED_95 } from './numerics/index.js';
import { nameOfRun, readRun } from './read-run.js';
import { TrundleError } from './run/index.js';
import { speedSdShare, type OtherRun } from './spectrum/index.js';

/**
 * Reads the other run.
 *
 * @param place a run folder or its run.json
 * @throws TrundleError `run-unreadable` when there is no such run; `run-invalid` when it is none, is of another version, or has no
 *   spectrum
 */
export async function readOtherRun(place: string): Promise<OtherRun> {
  const run = await readRun(place);
  const { spectrum, rig, clip, motion } = run;
  if (Object.keys(spectrum.series).length === 0)
    throw new TrundleError(
      'run-invalid',
      `The run at "${place}" holds no spectrum; measure a longer pass and give its report folder.`,
    );
  return {
    name: nameOfRun(run),
    speedMps: spectrum.speedMps,
    speedSdShare: speedSdShare(rig),
    rateHz: clip.fps,
    bandHz: motion.bandHz,
    durationS: clip.rangeS[1] - clip.rangeS[0],
    wheelbaseM: rig.wheelbaseM ?? null,
    sources: spectrum.sources.map(({ freqHz, ci95Hz, axes }) => ({
      freqHz,
      freqSdHz: (ci95Hz[1] - ci95Hz[0]) / (2 * TWO_SIDED_95),
      axes,
    })),
  };
}
