/** Everything that a report is written from, out of a stored run: its series take the place of the clip. */
import { passOfRun } from './judge/index.js';
import type { Measured } from './measure.js';
import { decodePicture } from './report/index.js';
import type { RunDocument, RunSeries } from './run/index.js';
import { planStabilisation } from './stabilise/index.js';

/**
 * The bundle of a run that was measured before, as `measure` gave it.
 *
 * @param series of the same run as the document
 * @param jpeg the frame of its report; null for a report without pictures
 */
export async function restoreBundle(
  run: RunDocument,
  series: RunSeries,
  jpeg: Uint8Array | null,
): Promise<Measured> {
  const { motion, delivery, rig, source, choice } = passOfRun(run, series);
  const { mode, smoothingS, takeS, seed } = choice;
  const stabilisation = planStabilisation(
    { motion, camera: motion.camera, delivery, rig, source },
    { mode, smoothingS: smoothingS ?? undefined, takeS, seed },
  );
  const [fromS, toS] = run.clip.rangeS;
  const picture = jpeg && (await decodePicture(jpeg));
  return {
    run,
    series,
    motion,
    stabilisation,
    picture,
    pictureAtS: picture && (series.frame?.atS ?? stabilisation.worstFrameS ?? (fromS + toS) / 2),
  };
}
