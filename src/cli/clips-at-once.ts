/** How many clips are measured at once, as asked for with `--jobs` and as this machine carries. */
import {
  MEASUREMENT_BYTES,
  fittingIn,
  layOut,
  thisMachine,
  type Layout,
  type Machine,
} from '../batch/index.js';
import { TrundleError } from '../run/index.js';
import { batchTexts } from '../texts/index.js';

/**
 * The layout of a command line; one that is asked for beyond what the machine carries is brought down to that.
 *
 * @param jobs as typed; undefined leaves it to the machine
 * @param say told in a sentence when it is brought down
 * @throws TrundleError `argument-invalid` on what is no whole number from 1
 */
export function clipsAtOnce(
  jobs: string | undefined,
  say: (sentence: string) => void,
  machine: Machine = thisMachine(),
): Layout {
  if (jobs === undefined) return layOut(machine);
  const asked = Number(jobs);
  if (!/^\d+$/.test(jobs) || asked < 1)
    throw new TrundleError('argument-invalid', batchTexts.jobsWhole(jobs));
  const layout = layOut(machine, asked);
  const { cores } = machine;
  if (layout.atOnce < asked)
    say(
      batchTexts.jobsTooMany(layout.atOnce, {
        ...{ asked: jobs, cores, fitting: fittingIn(machine), gigabytesEach: MEASUREMENT_BYTES / 1e9 },
      }),
    );
  return layout;
}
