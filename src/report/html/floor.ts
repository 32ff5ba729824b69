/** The floor or rail: grade, profile along the run, bumps worst first. */
import { figure, type RunDocument } from '../../run/index.js';
import { profileChart } from '../charts/index.js';
import { scientific } from '../format.js';
import type { ReportBundle } from '../types.js';
import { html, trusted, type Insert, type Markup } from './markup.js';
import { behind, facts, table } from './table.js';

type Surface = RunDocument['surface'];

/** The section on the surface. */
export function floorSection({ run }: ReportBundle): Markup {
  const { surface } = run;
  const heading = html`<h2 id="floor">Floor or rail</h2>`;
  if (!surface.observable)
    return html`<section aria-labelledby="floor">
      ${heading}
      <p>Not graded${surface.reason ? `: ${surface.reason}` : '.'}</p>
    </section>`;
  const bumps = [...surface.bumps].sort((a, b) => Math.abs(b.heightMm) - Math.abs(a.heightMm));
  const { profile } = surface;
  const chart =
    profile === null || profile.distanceM.length < 2
      ? null
      : html`<figure class="chart-box">
          <figcaption><b>Profile along the run</b></figcaption>
          ${trusted(
            profileChart({
              label: 'Height of the surface along the run, in millimetres',
              distanceM: profile.distanceM,
              heightMm: profile.heightMm,
              bumps: bumps.slice(0, 12).map(({ atM }, i) => ({ atM, mark: String(i + 1) })),
            }),
          )}${surface.wavelengthsM ? html`<p class="legend">Waves shorter than ${figure(surface.wavelengthsM[0])} m and longer than ${figure(surface.wavelengthsM[1])} m are not in this profile. Numbers mark the bumps of the table.</p>` : null}${behind(
            {
              caption: 'profile (thinned; all of it is in run.json)',
              head: ['Distance, m', 'Height, mm'],
              rows: thinned(profile.distanceM).map((i): Insert[] => [
                figure(profile.distanceM[i]),
                figure(profile.heightMm[i]),
              ]),
              numeric: [1],
            },
          )}
        </figure>`;
  return html`<section aria-labelledby="floor">
    ${heading}
    <p>The grade describes picture steadiness only; it is no statement on structural safety.</p>
    <div class="side">
      ${chart}
      <div>${facts(grades(surface))}${bandTable(surface)}</div>
    </div>
    ${bumps.length === 0 ? html`<p>Joints and bumps are part of the grade; this version does not list them one by one.</p>` : bumpTable(bumps)}
  </section>`;
}

function thinned(values: readonly number[]): number[] {
  const step = Math.max(1, Math.ceil(values.length / 40));
  return values.map((_, i) => i).filter((i) => i % step === 0);
}

function grades(surface: Surface): [string, Insert][] {
  const {
    isoClass,
    ci95Class,
    atMost,
    psdAt01CyclesPerM,
    psdCi95,
    psdAsRolled,
    waviness,
    profileRmsMm,
    flatnessFF,
    wavelengthsM,
  } = surface;
  const entries: [string, Insert][] = [
    [
      'Class',
      isoClass === null
        ? 'none'
        : `${isoClass}${atMost ? ' or smoother' : ''}${ci95Class ? ` (${ci95Class[0]} to ${ci95Class[1]})` : ''}, ISO 8608-style; steps under A are ours`,
    ],
  ];
  if (wavelengthsM)
    entries.push(['Holds for waves', `${figure(wavelengthsM[0])} to ${figure(wavelengthsM[1])} m long`]);
  if (profileRmsMm !== null) entries.push(['Height, RMS', `${figure(profileRmsMm)} mm`]);
  if (psdAt01CyclesPerM !== null)
    entries.push([
      'Roughness',
      `${scientific(psdAt01CyclesPerM)} m³ at 0.1 cycle/m${psdCi95 ? ` (${scientific(psdCi95[0])} to ${scientific(psdCi95[1])})` : ''}, ${surface.bumps.length > 0 ? 'joints left out' : 'joints included, narrow lines of machines left out'}`,
    ]);
  if (psdAsRolled !== null)
    entries.push(['As rolled', `${scientific(psdAsRolled)} m³, with everything that shook the deck`]);
  if (waviness !== null) entries.push(['Slope of the spectrum', `${figure(waviness)} (2 is usual)`]);
  if (flatnessFF !== null)
    entries.push([
      'Flatness FF',
      `about ${figure(flatnessFF)}, computed from the roughness; it cannot see ripple of 300 mm`,
    ]);
  return entries;
}

function bandTable(surface: Surface): Markup | null {
  if (surface.wavelengthBands.length === 0) return null;
  return behind({
    caption: 'roughness in bands of wavelength, dB re 1 µm',
    head: ['Wavelength, mm', 'Level, dB'],
    rows: surface.wavelengthBands.map(({ centreM, levelDbRe1um }): Insert[] => [
      figure(1000 * centreM),
      figure(levelDbRe1um),
    ]),
    numeric: [1],
  });
}

function bumpTable(bumps: Surface['bumps']): Markup {
  return table({
    caption: 'Bumps and joints, worst first',
    head: ['No.', 'At', 'Time', 'What', 'Height', 'Wheels', 'Shifts the picture by', 'Sure'],
    rows: bumps.map((bump, i): Insert[] => [
      i + 1,
      `${figure(bump.atM)} m`,
      `${figure(bump.atS)} s`,
      bump.kind,
      `${figure(bump.heightMm)} mm`,
      bump.wheelLine,
      bump.pictureShiftPx === null ? '–' : `${figure(bump.pictureShiftPx)} px`,
      `${Math.round(100 * bump.confidence)} %`,
    ]),
    numeric: [1, 2, 4, 6, 7],
    wideOnly: [2, 5, 7],
  });
}
