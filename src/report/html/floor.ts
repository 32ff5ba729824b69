/** The floor or rail: what it is in a word, its profile along the run, bumps worst first, and the waves it is made of. */
import { figure, type RunDocument, type SurfaceSection } from '../../run/index.js';
import { classInWords, placeInWords } from '../../texts/index.js';
import { profileChart, wavelengthChart } from '../charts/index.js';
import { scientific } from '../format.js';
import type { ReportBundle } from '../types.js';
import { worstFirst } from '../floor-words.js';
import { bumpTable } from './floor-bumps.js';
import { gradeTable } from './floor-grades.js';
import { setupTable } from './floor-setups.js';
import { html, trusted, type Insert, type Markup } from './markup.js';
import { behind, facts } from './table.js';

/** Bumps that are numbered in the chart; further ones are marked without a number. */
const NUMBERED = 12;

/** The section on the surface. */
export function floorSection({ run }: ReportBundle): Markup {
  const { surface } = run;
  const heading = html`<h2 id="floor">Floor or rail</h2>`;
  if (!surface.observable)
    return html`<section aria-labelledby="floor">
      ${heading}
      <p>Not graded${surface.reason ? `: ${surface.reason}` : '.'}</p>
    </section>`;
  return html`<section aria-labelledby="floor">
    ${heading} ${surface.reason === null ? null : html`<p>${surface.reason}</p>`}
    <p>The grade describes picture steadiness only; it is no statement on structural safety.</p>
    ${profileFigure(surface)} ${bumpsOf(run)}
    <div class="side">
      ${bandFigure(surface)}
      <div>${facts(inShort(surface))}</div>
    </div>
    ${gradeTable(surface)} ${setupTable(surface)}
  </section>`;
}

function profileFigure({ profile, wavelengthsM, bumps }: SurfaceSection): Markup | null {
  if (profile === null || profile.distanceM.length < 2) return null;
  const { distanceM, heightMm, bandMm, leftMm, rightMm } = profile;
  const rows = thinned(distanceM).map((i): Insert[] => [
    distanceM[i].toFixed(2),
    heightMm[i].toFixed(3),
    bandMm[i].toFixed(3),
    leftMm === null ? '–' : leftMm[i].toFixed(3),
    rightMm === null ? '–' : rightMm[i].toFixed(3),
  ]);
  return html`<figure class="chart-box wide-chart">
    <figcaption><b>Profile along the run</b> from the rear axle's place at the first frame</figcaption>
    ${trusted(
      profileChart({
        label: 'Height of the surface along the run, in millimetres, with its 95 % band and the wheel lines',
        distanceM,
        heightMm,
        bandMm,
        lines: leftMm && rightMm ? { leftMm, rightMm } : null,
        bumps: worstFirst(bumps).map(({ atM }, i) => ({ atM, mark: i < NUMBERED ? String(i + 1) : '' })),
      }),
    )}${
      wavelengthsM
        ? html`<p class="legend">
            Waves shorter than ${figure(wavelengthsM[0])} m and longer than ${figure(wavelengthsM[1])} m are
            not in this profile: a slow rise or sag of the floor does not show. Numbers mark the bumps of the
            table.
          </p>`
        : null
    }${behind({
      caption: 'profile (thinned; all of it is in run.json)',
      head: ['Distance, m', 'Height, mm', '95 % within, mm', 'Left, mm', 'Right, mm'],
      rows,
      numeric: [1, 2, 3, 4],
    })}
  </figure>`;
}

function thinned(values: readonly number[]): number[] {
  const step = Math.max(1, Math.ceil(values.length / 40));
  return values.map((_, i) => i).filter((i) => i % step === 0);
}

function bumpsOf(run: RunDocument): Markup {
  const { bumps, joints, distanceRangePercent } = run.surface;
  const row =
    joints === null
      ? null
      : html`<p>
          A row of ${joints.count} joints, one every ${joints.spacingM.toFixed(3)} m (within
          ${figure(1000 * joints.spacingRangeM)} mm), the first at ${placeInWords(joints.firstM, 0.01)}; the
          plates differ by ${figure(joints.stepRmsMm)} mm RMS under a wheel line. ${seenInWords(joints)}
        </p>`;
  const scale =
    distanceRangePercent === null
      ? null
      : html`<p class="legend">
          Distances are from the rear axle's place at the first frame and are as good as the speed or travel
          that was given, about ${figure(distanceRangePercent)} % here: ${figure(10 * distanceRangePercent)}
          mm in each metre. The ± of a place leaves that out.
        </p>`;
  return bumps.length === 0
    ? html`<p>
        ${
          run.surface.atLeast
            ? 'Joints and bumps cannot be seen in this pass: the pitch of the deck does not show.'
            : 'No joint, step or bump stands out of the roughness of this run.'
        }
      </p>`
    : html`${row} ${bumpTable(run)} ${scale}`;
}

function seenInWords({ seen, count }: NonNullable<SurfaceSection['joints']>): string {
  return seen >= count
    ? 'Each of them stands out by itself.'
    : `${seen} of them stand out by themselves, the rest is listed because the row is there.`;
}

function inShort(surface: SurfaceSection): [string, Insert][] {
  const { atMost, psdAt01CyclesPerM, psdCi95, psdAsRolled, wavelengthsM, spoken, waviness, wavinessCi95 } =
    surface;
  const entries: [string, Insert][] = [];
  if (spoken !== null)
    entries.push([
      'In a word',
      `${spoken.word}${spoken.orBetter ? ' or better' : ''} (our own word; as rolled, joints counted)`,
    ]);
  entries.push([
    'Class',
    `${classInWords(surface) ?? 'none'}, ISO 8608-style; steps under A are our own, not the standard's`,
  ]);
  if (wavelengthsM)
    entries.push(['Holds for waves', `${figure(wavelengthsM[0])} to ${figure(wavelengthsM[1])} m long`]);
  if (surface.profileRmsMm !== null)
    entries.push(['Height, RMS', `${figure(surface.profileRmsMm)} mm within these waves, between joints`]);
  if (psdAt01CyclesPerM !== null)
    entries.push([
      'Roughness',
      `${atMost ? 'at most ' : surface.atLeast ? 'at least ' : ''}${scientific(psdAt01CyclesPerM)} m³ at 0.1 cycle/m${psdCi95 ? ` (${scientific(psdCi95[0])} to ${scientific(psdCi95[1])})` : ''}, ${surface.bumps.length > 0 ? 'joints and bumps left out' : 'no joints found'}, equivalent at w = 2`,
    ]);
  if (psdAsRolled !== null)
    entries.push(['As rolled', `${scientific(psdAsRolled)} m³, with everything that shook the deck`]);
  if (waviness !== null)
    entries.push([
      'Slope of the spectrum',
      `w = ${figure(waviness)}${wavinessCi95 ? ` (${figure(wavinessCi95[0])} to ${figure(wavinessCi95[1])})` : ''}; the classes are made for 2`,
    ]);
  return entries;
}

function bandFigure({ wavelengthBands }: SurfaceSection): Markup | null {
  if (wavelengthBands.length < 2) return null;
  const rows = wavelengthBands.map(
    ({ nominalM, levelDbRe1um, betweenJointsDb, sdDb, below, railLimitDb }): Insert[] => [
      figure(1000 * nominalM),
      `${below ? 'below ' : ''}${levelDbRe1um.toFixed(1)}`,
      betweenJointsDb === null ? '–' : betweenJointsDb.toFixed(1),
      below ? '–' : (2 * sdDb).toFixed(1),
      railLimitDb === null ? '–' : railLimitDb.toFixed(1),
    ],
  );
  return html`<figure class="chart-box">
    <figcaption><b>Waves of one wheel track</b> one-third-octave bands</figcaption>
    ${trusted(
      wavelengthChart({
        label: 'Roughness in one-third-octave bands of wavelength, decibels re one micrometre',
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
      }),
    )}
    <p class="legend">
      Thick: as rolled, with its 95 % range. Fine dashes: without joints and bumps. Long dashes: limit curve
      of EN ISO 3095:2013, made for railway rails.
    </p>
    ${behind({
      caption: 'roughness in bands of wavelength, dB re 1 µm',
      head: ['Wavelength, mm', 'As rolled', 'Without bumps', '95 % within', 'Rail limit'],
      rows,
      numeric: [1, 2, 3, 4],
    })}
  </figure>`;
}
