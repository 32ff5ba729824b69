/** The published grades of the floor, each with its standard, its limits and what it is not. */
import { figure, type SurfaceSection } from '../../run/index.js';
import { html, type Insert, type Markup } from './markup.js';
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
  return html`<h3>Grades</h3>
    ${table({
      caption: 'The floor by published standards, within the waves that this run shows',
      head: ['Grade', 'This run', 'Standard and limits', 'What it is not'],
      rows,
      wideOnly: [3],
    })}`;
}

function classRow({ isoClass, ci95Class }: SurfaceSection): Row[] {
  if (isoClass === null) return [];
  const range = ci95Class && ci95Class[0] !== ci95Class[1] ? ` (${ci95Class[0]} to ${ci95Class[1]})` : '';
  return [
    [
      'Roughness class',
      `${isoClass}${range}`,
      'ISO 8608 scale: class A 16e-6 m³ at 0.1 cycle/m (limits half and twice that), each class × 4; A-1, A-2 ... are our own steps, each ÷ 4',
      'The standard fits its line to waves of 0.35 to 91 m; this class stands for centimetres and decimetres',
    ],
  ];
}

function flatnessRows({ flatness }: SurfaceSection): Row[] {
  if (flatness === null) return [];
  const { equivalentFF, equivalentAsRolledFF, profileFF, band, reason, spacingM } = flatness;
  const { curvatureSdMm, curvatureMeanMm, change95Mm, freeMovement } = flatness;
  const statistics =
    curvatureSdMm === null || curvatureMeanMm === null
      ? ''
      : `; curvature over ${figure(1000 * spacingM)} mm: mean ${figure(curvatureMeanMm)}, sd ${figure(curvatureSdMm)} mm`;
  const rows: Row[] = [
    [
      'Floor flatness FF',
      profileFF === null
        ? `about ${figure(equivalentFF)}${equivalentAsRolledFF === null ? '' : `, as rolled ${figure(equivalentAsRolledFF)}`}, from the roughness between joints. ${reason ?? ''}`
        : `${figure(profileFF)} from the profile: ${band}; ${figure(equivalentFF)} from the roughness${statistics}`,
      'ASTM E1155: readings every 12 in, FF = 116 mm / (3 sd + mean) of the curvature; 20 ordinary, 35 flat, 60 super flat (ACI 117)',
      'Blind to ripple of 305 mm and its fractions, such as 300 mm tiles; the standard itself excludes floors of fixed-path vehicles',
    ],
  ];
  if (change95Mm !== null)
    rows.push([
      'Change over 300 mm',
      `95 % within ${figure(change95Mm)} mm${freeMovement === null ? '' : `: ${freeMovement}`}`,
      'TR34, property F, free movement: FM1 1.8, FM2 2.0, FM3 2.2, FM4 2.4 mm (95 % is our reading)',
      'No levelness survey',
    ]);
  return rows;
}

type Straightedge = SurfaceSection['straightedges'][number];

/** One row for each bar that tells something, one for all that do not. */
function straightedgeRows({ straightedges }: SurfaceSection): Row[] {
  const told = straightedges.filter(({ gapMm }) => gapMm !== null).map(straightedgeRow);
  const untold = straightedges.filter(({ gapMm }) => gapMm === null);
  const shortest = untold[0];
  if (shortest === undefined) return told;
  const lengths = untold.map(({ lengthM }) => figure(lengthM));
  return [
    ...told,
    [
      `Gap under ${lengths.join(', ')} m`,
      `not shown. ${untold.length > 1 ? `${figure(shortest.lengthM)} m: ` : ''}${shortest.reason ?? 'The band of the run is too narrow.'}`,
      'DIN 18202 table 3; BS 8204 under 2 m',
      'Not judged at all: lay a bar on the floor',
    ],
  ];
}

function straightedgeRow(bar: Straightedge): Row {
  const {
    lengthM,
    gapMm,
    gapRangeMm,
    gap95Mm,
    noiseGapMm,
    atM,
    spanM,
    dinRow,
    dinLimitMm,
    surfaceRegularity,
  } = bar;
  const drowned = gapMm !== null && noiseGapMm !== null && gapMm <= noiseGapMm;
  const gap = drowned
    ? `below ${figure(noiseGapMm)} mm`
    : `${figure(gapMm ?? 0)} mm${gapRangeMm === null ? '' : ` ± ${figure(gapRangeMm)}`}${atM === null ? '' : ` at ${figure(atM)} m`}${gap95Mm === null ? '' : `, 95 % of places within ${figure(gap95Mm)} mm`}`;
  const at = dinLimitMm === null || spanM === null ? '' : ` (${figure(dinLimitMm)} mm at ${figure(spanM)} m)`;
  const met = [
    ...(dinRow === null ? [] : [`DIN 18202 row ${dinRow}${at}`]),
    ...(surfaceRegularity === null ? [] : [`BS 8204 ${surfaceRegularity}`]),
  ];
  return [
    `Gap under ${figure(lengthM)} m`,
    `${gap}; meets ${met.length > 0 ? met.join(', ') : 'no row for floors'}`,
    lengthM === 2
      ? 'BS 8204 under 2 m: SR1 3, SR2 5, SR3 10 mm; DIN 18202 table 3 between its points'
      : 'DIN 18202 table 3, floors rows 1 to 4 (numbers of the older editions)',
    'Along the wheel path only; sag longer than the waves shown is not in it',
  ];
}

const RAIL_WORDS = { meets: 'meets the limit', exceeds: 'exceeds the limit', cannotTell: 'cannot be told' };

function railRow({ rail }: SurfaceSection): Row[] {
  if (rail === null) return [];
  const { outcome, worstExcessDb, worstCentreM, bandsCompared, bandsUntold } = rail;
  const where = `, ${worstExcessDb < 0 ? `${figure(-worstExcessDb)} dB under` : `${figure(worstExcessDb)} dB over`} at ${figure(1000 * worstCentreM)} mm`;
  return [
    [
      'Rail roughness',
      `${RAIL_WORDS[outcome]}${where} (${bandsCompared} of ${bandsCompared + bandsUntold} bands told)`,
      'EN ISO 3095:2013 limit spectrum, one-third-octave bands, dB re 1 µm (the edition of 2015 in EU law prints other values above 400 mm)',
      'No acoustic measurement as EN 15610 asks for; a floor need not meet it, a fine rail comes near',
    ],
  ];
}

function textureRow({ texture }: SurfaceSection): Row[] {
  if (texture === null) return [];
  const { cutoffM, shortestM, rqMm, raMm, rzMm, sections, noiseRqMm } = texture;
  return [
    [
      'Profile Rq',
      `${figure(rqMm)} mm (Ra ${figure(raMm)}, Rz ${figure(rzMm)} over ${sections} sections), noise ${figure(noiseRqMm)} mm in it`,
      `Gaussian profile filter of ISO 16610-21, cut-off ${figure(1000 * cutoffM)} mm, waves down to ${figure(1000 * shortestM)} mm`,
      'No surface texture by ISO 4287, whose cut-offs are a thousand times shorter',
    ],
  ];
}

function spokenRow({ spoken }: SurfaceSection): Row[] {
  if (spoken === null) return [];
  return [
    [
      'In a word',
      `${spoken.word}${spoken.orBetter ? ' or better' : ''}`,
      `our own, from the roughness as rolled: lenses up to ${Math.floor(spoken.steadyUpToMm)} mm stay steady to the pixel, with 5 % crop up to ${Math.floor(spoken.withCropUpToMm)} mm (36 mm wide sensor, 1920 px, wheelbase 0.5 m, 0.3 m/s)`,
      'No verdict on this pass: lens, speed and dolly of the verdict are those of the clip',
    ],
  ];
}
