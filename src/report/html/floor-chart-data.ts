/** What the charts of the floor are drawn from: wheel lines, bumps worst first, and when the front axle is where. */
import type { SurfaceSection } from '../../run/index.js';
import { bumpInWords } from '../../texts/index.js';
import type {
  AlongRun,
  FloorStripData,
  FrontAxle,
  ProfileChartData,
  StripLine,
  WavelengthChartData,
} from '../charts/index.js';
import { worstFirst } from '../floor-words.js';
import type { ReportBundle } from '../types.js';

/** Bumps that are numbered in the charts; further ones are marked without a number. */
export const NUMBERED = 12;
/** The front axle's places are stored this many times: between them the dolly rolls evenly. */
const PASSAGES = 80;

/** The strip of the run; null where neither its reach nor anything on it is known. */
export function stripData(bundle: ReportBundle): FloorStripData | null {
  const { surface } = bundle.run;
  const { profile, bumps, joints } = surface;
  const along = alongRun(bundle);
  // A line without shades and without marks says nothing.
  if (along === null || (profile === null && bumps.length === 0)) return null;
  return {
    ...along,
    distanceM: profile?.distanceM ?? [],
    lines: wheelLines(surface),
    bumps: worstFirst(bumps).map((bump, i) => ({
      mark: i < NUMBERED ? String(i + 1) : '',
      atM: bump.atM,
      kind: bump.kind,
      wheelLine: bump.wheelLine,
      heightMm: bump.heightMm,
      leftMm: bump.leftMm,
      rightMm: bump.rightMm,
      words: bumpInWords(bump),
    })),
    joints: joints && { firstM: joints.firstM, spacingM: joints.spacingM, count: joints.count },
  };
}

/** The profile; null where none is known. */
export function profileData(bundle: ReportBundle): ProfileChartData | null {
  const { profile, bumps } = bundle.run.surface;
  const along = alongRun(bundle);
  if (along === null || profile === null || profile.distanceM.length < 2) return null;
  const sides = sidesOf(profile);
  return {
    ...along,
    distanceM: profile.distanceM,
    lines: [{ id: 'mean', heightMm: profile.heightMm, bandMm: profile.bandMm }, ...sides],
    bumps: worstFirst(bumps).map(({ atM }, i) => ({ atM, mark: i < NUMBERED ? String(i + 1) : '' })),
  };
}

/** The waves; null for fewer bands than make a chart. */
export function wavesData({ run }: ReportBundle): WavelengthChartData | null {
  const { wavelengthBands } = run.surface;
  if (wavelengthBands.length < 2) return null;
  return {
    units: run.units,
    bands: wavelengthBands.map(
      ({ centreM, nominalM, levelDbRe1um, betweenJointsDb, sdDb, below, railLimitDb }) => ({
        centreM,
        nominalM,
        levelDb: levelDbRe1um,
        betweenJointsDb,
        rangeDb: below ? 0 : 2 * sdDb,
        below,
        limitDb: railLimitDb,
      }),
    ),
  };
}

function alongRun({ run, series, motion }: ReportBundle): AlongRun | null {
  const { profile, bumps } = run.surface;
  const { floor } = series;
  const places = [
    ...(profile === null ? [] : [profile.distanceM[0], profile.distanceM[profile.distanceM.length - 1]]),
    ...(floor === null || floor.rearM.length === 0
      ? []
      : [floor.rearM[0], floor.rearM[floor.rearM.length - 1] + floor.frontAheadM]),
    ...bumps.map(({ atM }) => atM),
  ].filter((place) => place !== undefined);
  if (places.length < 2) return null;
  const front = floor === null ? null : frontAxle(run.clip, motion.timeS, floor);
  return { units: run.units, fromM: Math.min(...places), toM: Math.max(...places), front };
}

function frontAxle(
  { fpsFraction, timecodeStart }: ReportBundle['run']['clip'],
  timeS: Readonly<Float64Array>,
  { fromFrame, rearM, frontAheadM }: NonNullable<ReportBundle['series']['floor']>,
): FrontAxle | null {
  const last = Math.min(rearM.length, timeS.length - fromFrame) - 1;
  if (last < 1) return null;
  const count = Math.min(PASSAGES, last + 1);
  const frames = Array.from({ length: count }, (_, k) => Math.round((k * last) / (count - 1)));
  return {
    placeM: frames.map((i) => rearM[i] + frontAheadM),
    timeS: frames.map((i) => Math.max(0, timeS[fromFrame + i])),
    clip: { fpsFraction, timecodeStart },
  };
}

type Profile = NonNullable<SurfaceSection['profile']>;

function sidesOf({ leftMm, rightMm, sideBandMm, bandMm }: Profile): StripLine[] {
  if (leftMm === null || rightMm === null) return [];
  const band = sideBandMm ?? bandMm;
  return [
    { id: 'left', heightMm: leftMm, bandMm: band },
    { id: 'right', heightMm: rightMm, bandMm: band },
  ];
}

/** Left and right where they are known apart, of bumps at least; else the mean. */
function wheelLines({ profile, bumps }: SurfaceSection): StripLine[] {
  const sides = profile === null ? [] : sidesOf(profile);
  if (sides.length > 0) return sides;
  if (profile !== null) return [{ id: 'mean', heightMm: profile.heightMm, bandMm: profile.bandMm }];
  const none = { heightMm: [], bandMm: [] };
  return bumps.some(({ leftMm }) => leftMm !== null)
    ? [
        { id: 'left', ...none },
        { id: 'right', ...none },
      ]
    : [{ id: 'mean', ...none }];
}
