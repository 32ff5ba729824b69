/** What the time line of the six axes shows of a run: curves with their noise, places, and the marks of the floor. */
import {
  ANGULAR_AXES,
  AXES,
  hasFigure,
  inUnits,
  isAngular,
  TRANSLATIONAL_AXES,
  type Axis,
} from '../../run/index.js';
import { motionTexts } from '../../texts/index.js';
import {
  reachOf,
  thinOut,
  type EvenSeries,
  type TimelineAxis,
  type TimelineCurve,
  type TimelineData,
  type TimelineMark,
} from '../charts/index.js';
import { axlePassages, frontAheadOf } from '../axle-passages.js';
import { axisFigure } from '../format.js';
import { worstFirst } from '../floor-words.js';
import type { ReportBundle } from '../types.js';
import { axisNames } from '../wording.js';
import { numbersOf } from './axis-numbers.js';
import { seriesUnit, sentenceUnit } from './axis-units.js';
import { placesOfRun } from './shake-places.js';

/** A long clip keeps the extremes of so many stretches of each curve; one of up to four times as many frames stays whole. */
const STRETCHES = 900;
/** Intended moves are slow: so many places draw them. */
const MOVE_POINTS = 500;
/** Bumps that the floor's list numbers in the open; the rest are drawn by their place alone. */
const NUMBERED = 12;

/** The data of the chart. */
export function timelineData(bundle: ReportBundle): TimelineData {
  const { run, motion } = bundle;
  const axes = AXES.map((axis) => axisRow(bundle, axis));
  return {
    label: motionTexts.lineLabel(
      axes.map(({ name, shortWords }) => motionTexts.axisLabel(name, shortWords)).join('; '),
    ),
    axes,
    fromS: motion.timeS[0] ?? 0,
    rateHz: motion.rateHz,
    count: motion.timeS.length,
    trimFrames: motion.trimFrames,
    clip: { fpsFraction: run.clip.fpsFraction, timecodeStart: run.clip.timecodeStart },
    places: placesOfRun(bundle),
    marks: floorMarks(bundle),
  };
}

/** Each axle's passage, numbers as in the list of the floor: the worst first. */
function floorMarks(bundle: ReportBundle): TimelineMark[] {
  const aheadM = frontAheadOf(bundle);
  return worstFirst(bundle.run.surface.bumps).flatMap((bump, i) =>
    axlePassages(bump, aheadM).map((passage) => ({
      ...passage,
      mark: i < NUMBERED ? String(i + 1) : '',
      name: bump.kind,
    })),
  );
}

function axisRow(bundle: ReportBundle, axis: Axis): TimelineAxis {
  const { run, motion } = bundle;
  const numbers = numbersOf(run, axis);
  const { text } = axisFigure(numbers, sentenceUnit(axis, run));
  const shown = inUnits(text, run.units);
  const unreliable = run.motion.unreliable.some((one) => one.axis === axis);
  const remark = unreliable ? motionTexts.notReliable : '';
  const base = {
    id: axis,
    name: axisNames(run)[axis].name,
    kind: isAngular(axis) ? ('angular' as const) : ('translational' as const),
    unit: seriesUnit(axis, motion, run).unit,
  };
  if (hasFigure(numbers.status)) {
    const words = motionTexts.rms(shown) + remark;
    return { ...base, words, shortWords: words, quietWords: '', curve: curveOf(bundle, axis) };
  }
  const unseen = numbers.status === 'notObservable';
  return {
    ...base,
    words: unseen ? motionTexts.unseen : motionTexts.underNoise(shown),
    shortWords: unseen ? motionTexts.unseenShort : motionTexts.underNoiseShort(shown),
    quietWords: unseen ? motionTexts.unseenShort : motionTexts.belowNoiseRead,
    curve: null,
  };
}

function curveOf({ run, motion }: ReportBundle, axis: Axis): TimelineCurve {
  const { factor } = seriesUnit(axis, motion, run);
  const vibration = motion.vibration[axis];
  const kin: readonly Axis[] = isAngular(axis) ? ANGULAR_AXES : TRANSLATIONAL_AXES;
  const clear = kin.filter((other) => hasFigure(numbersOf(run, other).status));
  const at = thinOut(vibration, STRETCHES);
  return {
    at: at.length === vibration.length ? null : at,
    shake: at.map((i) => vibration[i] * factor),
    intended: evenSeries(motion.intended[axis], factor),
    noise: motion.axes[axis].floor * factor,
    reach: factor * Math.max(...clear.map((other) => reachOf(motion.vibration[other]))),
  };
}

function evenSeries(values: Readonly<Float64Array>, factor: number): EvenSeries {
  const every = Math.max(1, Math.ceil(values.length / MOVE_POINTS));
  const count = Math.ceil(values.length / every);
  return { every, values: Array.from({ length: count }, (_, i) => values[i * every] * factor) };
}
