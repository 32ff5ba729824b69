/** What the shake of this run is, in a sentence: the axis that shakes the picture most, and where it swings furthest. */
import { figure, toldShare, type Axis, type ToldShare } from '../../run/index.js';
import { firstScreenTexts, motionTexts } from '../../texts/index.js';
import { placeAt, timecodeAt } from '../charts/index.js';
import { axlePassages, frontAheadOf } from '../axle-passages.js';
import { worstFirst } from '../floor-words.js';
import { withUnit } from '../format.js';
import type { ReportBundle } from '../types.js';
import { axisNames } from '../wording.js';
import { pictureShakes, type PictureShake } from './axis-numbers.js';
import { seriesUnit, sentenceUnit } from './axis-units.js';
import { placesOfRun } from './shake-places.js';

/** An axle that met something at most this long before a swing made it; the ring of a mount comes after the hit. */
const AFTER_S = 0.3;
const BEFORE_S = 0.06;
/** Axes that shift the picture by less than this share of the strongest are not named beside it. */
const WORTH_NAMING = 0.1;

/** The sentence over the table of axes. */
export function shakeWords(bundle: ReportBundle): string {
  const [most, next] = pictureShakes(bundle);
  if (most === undefined) return motionTexts.noShake;
  const part = shareWords(toldShare(bundle.run.motion));
  return `${strongestWords(bundle, most, next)}${motionTexts.lineEnd}${part}`;
}

function shareWords(told: ToldShare): string {
  const percent = (share: number): string => `${Math.round(100 * share)}`;
  if (told.as === 'unknown') return motionTexts.shareUnknown;
  const words =
    told.as === 'figure'
      ? percent(told.share)
      : firstScreenTexts.shareRange(percent(told.ci95[0]), percent(told.ci95[1]));
  return motionTexts.angularPart(`${words} %`);
}

/** Two that print the same figure are told together. */
function strongestWords({ run }: ReportBundle, most: PictureShake, next: PictureShake | undefined): string {
  const names = axisNames(run);
  const { name } = names[most.axis];
  const px = figure(most.px);
  if (next === undefined || next.px < WORTH_NAMING * most.px) return motionTexts.mostShake(name, px);
  const second = figure(next.px);
  const other = names[next.axis].name;
  return second === px
    ? motionTexts.bothShake(name, other, px)
    : `${motionTexts.mostShake(name, px)}${motionTexts.thenShake(other, second)}`;
}

/** The sentence over the time line: the furthest swing of the axis that shakes the picture most, and what lay under the wheels. */
export function largestSwingWords(bundle: ReportBundle): string {
  const [most] = pictureShakes(bundle);
  if (most === undefined) return motionTexts.allQuiet;
  const { run, motion } = bundle;
  const { axis } = most;
  const at = largestAt(bundle, axis);
  const atS = motion.timeS[at];
  const metric = seriesUnit(axis, motion, { ...run, units: 'metric' });
  const value = Math.abs(motion.vibration[axis][at]) * metric.factor;
  const places = placesOfRun({ ...bundle, run: { ...run, units: 'metric' } });
  return [
    motionTexts.largest(
      axisNames(run)[axis].name,
      withUnit(figure(value), sentenceUnit(axis, run)),
      Math.max(0, atS).toFixed(2),
      timecodeAt(run.clip, atS),
    ),
    places === null ? '' : motionTexts.largestPlace(`${placeAt(places, atS).toFixed(2)} m`),
    underWheels(bundle, atS),
    motionTexts.lineEnd,
  ].join('');
}

function largestAt({ motion }: ReportBundle, axis: Axis): number {
  const values = motion.vibration[axis];
  const trim = Math.min(motion.trimFrames, Math.floor((values.length - 1) / 2));
  let largest = trim;
  for (let i = trim; i < values.length - trim; i++)
    if (Math.abs(values[i]) > Math.abs(values[largest])) largest = i;
  return largest;
}

/** The joint or bump that an axle met last before the swing; the worse of two that it met together. */
function underWheels(bundle: ReportBundle, atS: number): string {
  const aheadM = frontAheadOf(bundle);
  const met = worstFirst(bundle.run.surface.bumps).flatMap((bump, i) =>
    axlePassages(bump, aheadM).map((passage) => ({
      agoS: atS - passage.atS,
      kind: bump.kind,
      mark: String(i + 1),
      axle: motionTexts.axle(passage.axle),
    })),
  );
  const [nearest] = met
    .filter(({ agoS }) => agoS > -BEFORE_S && agoS < AFTER_S)
    .sort((a, b) => Math.abs(a.agoS) - Math.abs(b.agoS));
  return nearest === undefined ? '' : motionTexts.largestUnder(nearest.axle, nearest.kind, nearest.mark);
}
