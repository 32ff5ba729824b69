/** Gathers what the line found into the series file of a run: the motion at full precision and how the dolly rolled. */
import type { RunParts } from './build-run.js';
import type { StabiliseChoice } from './judge/index.js';
import { DEFAULT_SEED } from './measure-request.js';
import { storeMotion } from './motion/index.js';
import { SERIES_SCHEMA, type RunDocument, type RunSeries, type StoredFloor } from './run/index.js';
import { storedFrame } from './stored-frame.js';
import type { Surface } from './surface/index.js';

/** What is read of the parts of a run. */
export type SeriesParts = Pick<RunParts, 'request' | 'motion' | 'stabilisation' | 'surface' | 'tracking'>;

/** The series that belong to `run`. @param pictureAtS where the frame of the report was taken, seconds */
export function buildSeries(
  { clip, createdAt }: Pick<RunDocument, 'clip' | 'createdAt'>,
  parts: SeriesParts,
  pictureAtS: number,
): RunSeries {
  const { motion, surface, tracking } = parts;
  return {
    schema: SERIES_SCHEMA,
    clipSha256: clip.sha256,
    createdAt,
    stabilise: { ...choiceOf(parts) },
    motion: storeMotion(motion),
    floor: storedFloor(surface),
    frame: storedFrame(tracking.table, motion.keptObservations, pictureAtS),
  };
}

/** How the clip was to be stabilised; a seed that was not given is the one that `measure` takes. */
export function choiceOf({
  request,
  stabilisation,
}: Pick<SeriesParts, 'request' | 'stabilisation'>): StabiliseChoice {
  return {
    mode: stabilisation.mode,
    smoothingS: request.stabilise?.smoothingS ?? null,
    takeS: stabilisation.takeS,
    seed: request.seed ?? DEFAULT_SEED,
  };
}

/** How the dolly rolled; null for a floor that was not graded. */
export function storedFloor({ pass, detail }: Surface): StoredFloor | null {
  if (pass === null || detail === null) return null;
  const { present, measured, runLengthM, frontAheadM } = detail;
  const { azimuthRad, tiltRad, offsetM, levellingHeightM, pitchShows, rollShows, heaveShows } = pass.mounting;
  return {
    present: { ...present, setup: { ...present.setup } },
    measured: { ...measured, setup: { ...measured.setup } },
    runLengthM,
    fromFrame: pass.travel.fromFrame,
    rearM: [...pass.travel.placeM],
    frontAheadM,
    mounting: { azimuthRad, tiltRad, offsetM, levellingHeightM, pitchShows, rollShows, heaveShows },
  };
}
