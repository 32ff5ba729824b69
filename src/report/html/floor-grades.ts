/** The published grades of the floor, each with its standard, its limits and what it is not. */
import { figure, type SurfaceSection } from '../../run/index.js';
import { floorGradeTexts as texts } from '../../texts/index.js';
import { html, type Insert, type Markup } from './markup.js';
import { LEAST_HELD_SHARE, passForFlatness } from '../../surface/index.js';
import { table } from './table.js';

type Row = [string, Insert, string, string];

/** The table of grades. */
export function gradeTable(surface: SurfaceSection): Markup {
  const rows = [
    ...classRow(surface),
    ...flatnessRows(surface),
    ...straightedgeRows(surface),
    ...railRow(surface),
    ...textureRow(surface),
    ...spokenRow(surface),
  ];
  if (rows.length === 0) return html``;
  return html`<h3>${texts.heading}</h3>
    ${table({ caption: texts.caption, head: texts.heads, rows, wideOnly: [3] })}`;
}

function classRow({ isoClass, isoClassAsRolled, ci95Class }: SurfaceSection): Row[] {
  if (isoClass === null) return [];
  const { name, standard, not } = texts.classes;
  const ranged = ci95Class && ci95Class[0] !== ci95Class[1];
  const between = ranged ? texts.classRange(isoClass, ...ci95Class) : isoClass;
  return [[name, texts.classWords(between, isoClassAsRolled), standard, not]];
}

/** How far a pass would have to be rolled, and how fast; null where it is not known, or no dolly is that fast. */
function betterPass({ wavelengthsM, parts, profile }: SurfaceSection): string | null {
  if (wavelengthsM === null || parts === null) return null;
  const places = profile?.distanceM ?? [];
  const rolledM = places.length === 0 ? 0 : places[places.length - 1] - places[0];
  const pass = passForFlatness(wavelengthsM, parts.speedMps, rolledM);
  return pass === null ? null : texts.flatnessPass(figure(pass.speedMps), figure(pass.lengthM));
}

function flatnessRows(surface: SurfaceSection): Row[] {
  const { flatness } = surface;
  if (flatness === null) return [];
  const { equivalentFF, equivalentAsRolledFF, profileFF, band, reason, spacingM } = flatness;
  const { heldShare, curvatureSdMm, curvatureMeanMm, change95Mm, freeMovement } = flatness;
  const curvature =
    curvatureSdMm === null || curvatureMeanMm === null
      ? ''
      : texts.curvature(mm(1000 * spacingM), mm(curvatureMeanMm), mm(curvatureSdMm));
  const { name, standard, not } = texts.flatness;
  if (profileFF === null && heldShare < LEAST_HELD_SHARE) {
    const [held, needed] = [100 * heldShare, 100 * LEAST_HELD_SHARE].map((share) => share.toFixed(0));
    return [[name, texts.flatnessUntold(held, needed, betterPass(surface)), standard, not]];
  }
  const told =
    profileFF === null
      ? texts.flatnessFromRoughness(figure(equivalentFF), orNull(equivalentAsRolledFF, figure), reason)
      : texts.flatnessFromProfile(figure(profileFF), band, figure(equivalentFF), curvature);
  const rows: Row[] = [[name, told, standard, not]];
  if (change95Mm !== null) {
    const { change } = texts;
    const within = texts.changeWithin(mm(change95Mm), freeMovement);
    rows.push([change.name, within, change.standard, change.not]);
  }
  return rows;
}

type Straightedge = SurfaceSection['straightedges'][number];

/** One row for each bar that tells something, one for all that do not. */
function straightedgeRows({ straightedges }: SurfaceSection): Row[] {
  const told = straightedges.filter(({ gapMm }) => gapMm !== null).map(straightedgeRow);
  const untold = straightedges.filter(({ gapMm }) => gapMm === null);
  const shortest = untold[0];
  if (shortest === undefined) return told;
  const lengths = untold.map(({ lengthM }) => m(lengthM));
  return [
    ...told,
    [
      texts.straightedgeName(lengths),
      texts.straightedgeUntold(untold.length > 1 ? m(shortest.lengthM) : null, shortest.reason),
      texts.straightedgeFloors.untold,
      texts.straightedgeUntoldNot,
    ],
  ];
}

function straightedgeRow(bar: Straightedge): Row {
  const { lengthM, gapMm, gapRangeMm, gap95Mm, noiseGapMm, atM, spanM } = bar;
  const { dinRow, dinLimitMm, surfaceRegularity } = bar;
  const drowned = gapMm !== null && noiseGapMm !== null && gapMm <= noiseGapMm;
  const gap = drowned
    ? texts.gapBelow(mm(noiseGapMm))
    : texts.gap(mm(gapMm ?? 0), orNull(gapRangeMm, mm), orNull(atM, m), orNull(gap95Mm, mm));
  const met = [
    ...(dinRow === null ? [] : [texts.dinRow(dinRow, orNull(dinLimitMm, mm), orNull(spanM, m))]),
    ...(surfaceRegularity === null ? [] : [texts.surfaceRegularity(surfaceRegularity)]),
  ];
  const { twoMetres, other } = texts.straightedgeFloors;
  return [
    texts.straightedgeName([m(lengthM)]),
    texts.gapMeets(gap, met),
    lengthM === 2 ? twoMetres : other,
    texts.straightedgeNot,
  ];
}

function railRow({ rail }: SurfaceSection): Row[] {
  if (rail === null) return [];
  const { outcome, worstExcessDb, worstCentreM, bandsCompared, bandsUntold } = rail;
  const told = texts.railWords(
    texts.railOutcome[outcome],
    figure(Math.abs(worstExcessDb)),
    worstExcessDb < 0,
    mm(1000 * worstCentreM),
    bandsCompared,
    bandsCompared + bandsUntold,
  );
  return [[texts.rail.name, told, texts.rail.standard, texts.rail.not]];
}

function textureRow({ texture }: SurfaceSection): Row[] {
  if (texture === null) return [];
  const { cutoffM, shortestM, rqMm, raMm, rzMm, sections, noiseRqMm } = texture;
  return [
    [
      texts.texture.name,
      texts.textureWords(mm(rqMm), mm(raMm), mm(rzMm), sections, mm(noiseRqMm)),
      texts.textureStandard(mm(1000 * cutoffM), mm(1000 * shortestM)),
      texts.texture.not,
    ],
  ];
}

function spokenRow({ spoken }: SurfaceSection): Row[] {
  if (spoken === null) return [];
  const { word, orBetter, steadyUpToMm, withCropUpToMm } = spoken;
  return [
    [
      texts.spoken.name,
      texts.spokenWords(word, orBetter),
      texts.spokenStandard(Math.floor(steadyUpToMm), Math.floor(withCropUpToMm)),
      texts.spoken.not,
    ],
  ];
}

function mm(value: number): string {
  return `${figure(value)} mm`;
}

function m(value: number): string {
  return `${figure(value)} m`;
}

function orNull(value: number | null, words: (value: number) => string): string | null {
  return value === null ? null : words(value);
}
