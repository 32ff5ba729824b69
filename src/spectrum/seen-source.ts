/** What the camera hides of a source of shake: how large the motion itself is, what else could hide there, wobble, sound; SI units and px. */
import type { Motion } from '../motion/index.js';
import { exposureGain } from '../optics/index.js';
import { isAngular, type Axis } from '../run/index.js';
import type { ObservedBand, RunToRun, ShakeSource, Sighting } from './causes/types.js';
import { picturePxPerUnit } from './picture-shift.js';
import { motionAmplitude } from './shutter/exposure.js';
import { couldBe } from './shutter/folded.js';
import { wobblePx } from './shutter/wobble.js';
import { soundSays } from './sound/sound-says.js';
import type { Heard, SoundSays } from './sound/types.js';
import type { SeenSource } from './types.js';

/** A frequency that the sound speaks for this surely is taken for that of the motion, where no cause says otherwise. */
const SOUND_DECIDES = 0.7;

/** What the source is looked at with. */
export interface SourceView {
  readonly motion: Motion;
  readonly band: ObservedBand;
  readonly heard: Heard | null;
  readonly otherRun: RunToRun | null;
}

/** Adds what shutter, frame rate, sound and another run say. */
export function seenSource(source: ShakeSource, { motion, band, heard, otherRun }: SourceView): SeenSource {
  const shifts = source.sightings.map(({ axis, peak }) => peak.rms * picturePxPerUnit(motion, axis));
  const largest = source.sightings[shifts.indexOf(Math.max(...shifts))];
  const couldBeHz = couldBe(source, band).map(({ trueHz }) => trueHz);
  const sound = heard && soundSays(source, couldBeHz, heard);
  const trueHz = trueFrequencyHz(source, sound);
  return {
    ...source,
    trueHz,
    shiftPx: Math.hypot(...shifts),
    largestAxis: largest.axis,
    exposureGain: exposureGain(trueHz, band.exposureS),
    trueRms: motionAmplitude(largest.peak.rms, trueHz, band.exposureS),
    couldBeHz,
    wobblePx: wobbleOf(source.sightings, trueHz, motion),
    sound,
    otherRun,
  };
}

function trueFrequencyHz({ cause, trueHz }: ShakeSource, sound: SoundSays | null): number {
  return cause === 'unknown' && sound !== null && sound.probability > SOUND_DECIDES ? sound.trueHz : trueHz;
}

/** The largest bend that one of the axes makes; null where the readout is not known. */
function wobbleOf(sightings: readonly Sighting[], trueHz: number, motion: Motion): number | null {
  const { camera, readout, depth } = motion;
  if (readout.readoutS === null) return null;
  const { focalPx, widthPx } = camera;
  const picture = { focalPx, widthPx, readoutS: readout.readoutS };
  const perDistance = (axis: Axis): number => (isAngular(axis) ? 1 : (depth?.meanInverse ?? 0));
  return Math.max(
    ...sightings.map(({ axis, peak }) =>
      wobblePx(axis, Math.SQRT2 * peak.rms * perDistance(axis), trueHz, picture),
    ),
  );
}
