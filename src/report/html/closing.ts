/** The closing parts of the report: reasons in full, method and limits in brief, and the cautions for people. */
import {
  boundBeside,
  figure,
  figureBeside,
  limitFigure,
  percentBeside,
  type RunDocument,
} from '../../run/index.js';
import { separationFigures } from './separation.js';
import { html, type Insert, type Markup } from './markup.js';
import { table } from './table.js';

type Reason = RunDocument['verdict']['reasons'][number];

/** The reasons for the verdict, worst first, notes last. */
export function reasonsSection({ verdict }: Pick<RunDocument, 'verdict'>): Markup {
  const deciding = verdict.reasons.filter(({ limit }) => limit !== null);
  const notes = verdict.reasons.filter(({ limit }) => limit === null);
  return html`<section aria-labelledby="reasons">
    <h2 id="reasons">Why</h2>
    ${
      deciding.length === 0
        ? null
        : table({
            caption: 'What decided, worst first',
            head: ['Reason', 'Measured', '95 % range', 'Limit', 'Room left'],
            rows: deciding.map((reason): Insert[] => {
              const figures = reasonFigures(reason);
              return [html`${reason.text}${inOneLine(figures)}`, ...figures];
            }),
            numeric: [1, 2, 3, 4],
            wideOnly: [1, 2, 3, 4],
          })
    }
    ${
      notes.length === 0
        ? null
        : html`<ul class="notes">
            ${notes.map(({ text }) => html`<li>${text}</li>`)}
          </ul>`
    }
  </section>`;
}

/** Value, range, limit and margin as they stand in the table; a dash for what is not known. */
function reasonFigures({ value, limit, margin, ci95, unit }: Reason): string[] {
  const words = (text: string | null): string => (text === null ? '–' : `${text} ${unit}`);
  const beside = (of: number): string => {
    if (limit === null) return figure(of);
    return unit === '%' ? percentBeside(of, limit) : figureBeside(of, limit);
  };
  return [
    words(value === null ? null : beside(value)),
    words(ci95 && `${beside(ci95[0])} to ${limit === null ? beside(ci95[1]) : boundBeside(ci95[1], limit)}`),
    words(limit === null ? null : limitFigure(limit)),
    words(margin === null ? null : figure(margin).replace('-', '−')),
  ];
}

/** The figures in one line, for windows too narrow for their columns. @example "0.85 % (0.84 to 1.2 %), limit 1 %, room 0.15 %" */
function inOneLine([value, range, limit, room]: readonly string[]): Markup {
  const parts = [
    range === '–' ? value : `${value} (${range})`,
    `limit ${limit}`,
    ...(room === '–' ? [] : [`room ${room}`]),
  ];
  return html`<span class="sub narrow">${parts.join(', ')}</span>`;
}

/** How it was measured, and what the figures cannot say. */
export function methodSection(run: RunDocument): Markup {
  const { motion, spectrum } = run;
  return html`<section aria-labelledby="method">
    <h2 id="method">Method and limits in brief</h2>
    <ul class="columns">
      <li>
        Points of the picture are followed from frame to frame. One fit over the whole clip finds how the
        camera turned and moved in each frame and how far each point is; near and far points shifting
        differently is what tells translation from rotation.${separationFigures(run)}
      </li>
      <li>
        Each axis is split by frequency: below ${motion.bandHz[0]} Hz is the intended move, above is shake.
        The first and last half second are left out of every figure.
      </li>
      <li>
        Every figure has a 95 % range or a noise floor. What lies under the floor is printed as “below”, never
        as a number.
      </li>
      <li>
        ${motion.translational.unit === 'mm' ? 'Millimetres come from the travel or speed that was given; an error of 2 % there is 2 % of every millimetre figure. Angles do not depend on it.' : 'Without travel or speed, translation is in per cent of the median distance to the scene.'}
      </li>
      <li>
        Crop is per cent of the frame width, for the smallest centred zoom in the shape of the delivery that
        shows no border in any frame measured.
      </li>
      <li>
        The clip samples ${Math.round(2 * spectrum.nyquistHz)} pictures a second: shake faster than
        ${Math.round(10 * spectrum.nyquistHz) / 10} Hz is folded to lower frequencies, and the exposure damps
        fast shake.
      </li>
      <li>A test pass is one sample. A longer take meets more of the floor and may need more crop.</li>
      <li>
        The limits for visible shake are guidance built from published viewing experiments, no standard.
      </li>
    </ul>
  </section>`;
}

/** The cautions for people, in own words. */
export function cautionsSection(): Markup {
  return html`<section class="cautions" aria-labelledby="cautions">
    <h2 id="cautions">Care for people</h2>
    <div class="columns">
      <p>
        Walk the run before the pass. Keep people, cables and loose parts off the path and mark the ends of
        the track. Route or cover cables: they trip people, and they spoil the measurement too. Secure the
        camera. One person controls the dolly and can stop it at once; start slowly. Check that floor, deck or
        raised panels carry dolly, camera and riders, also on one wheel. Nobody stands in the path during a
        test pass.
      </p>
      <p>
        The grade describes picture steadiness only; it is no statement on structural safety. Local rules and
        qualified grips decide.
      </p>
    </div>
  </section>`;
}
