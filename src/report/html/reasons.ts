/** The reasons for the verdict, with value, range, limit and room of each. */
import {
  boundBeside,
  figure,
  figureBeside,
  limitFigure,
  percentBeside,
  type RunDocument,
} from '../../run/index.js';
import { figureTexts, pageTexts } from '../../texts/index.js';
import { html, type Insert, type Markup } from './markup.js';
import { table } from './table.js';

type Reason = RunDocument['verdict']['reasons'][number];

/** What decided, worst first, and the notes under it. */
export function reasonsSection({ verdict }: Pick<RunDocument, 'verdict'>): Markup {
  const deciding = verdict.reasons.filter(({ limit }) => limit !== null);
  const notes = verdict.reasons.filter(({ limit }) => limit === null);
  return html`<section aria-labelledby="reasons">
    <h2 id="reasons">${pageTexts.reasons}</h2>
    ${
      deciding.length === 0
        ? null
        : table({
            caption: pageTexts.reasonsCaption,
            head: pageTexts.reasonHeads,
            rows: deciding.map((reason): Insert[] => {
              const figures = reasonFigures(reason);
              return [
                html`${reason.text}${inOneLine(figures)}`,
                ...figures.map((text) => text ?? pageTexts.none),
              ];
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

/** Value, range, limit and margin as they stand in the table; null for what is not known. */
type ReasonFigures = readonly [string | null, string | null, string | null, string | null];

function reasonFigures({ value, limit, margin, ci95, unit }: Reason): ReasonFigures {
  const words = (text: string | null): string | null => text && `${text} ${unit}`;
  const beside = (of: number): string => {
    if (limit === null) return figure(of);
    return unit === '%' ? percentBeside(of, limit) : figureBeside(of, limit);
  };
  const upper = (of: number): string => (limit === null ? beside(of) : boundBeside(of, limit));
  return [
    words(value === null ? null : beside(value)),
    words(ci95 && figureTexts.range(beside(ci95[0]), upper(ci95[1]))),
    words(limit === null ? null : limitFigure(limit)),
    words(margin === null ? null : figure(margin).replace('-', '−')),
  ];
}

/** The figures in one line, for windows too narrow for their columns. @example "0.85 % (0.84 to 1.2 %), limit 1 %, room 0.15 %" */
function inOneLine([value, range, limit, room]: ReasonFigures): Markup {
  const { none } = pageTexts;
  return html`<span class="sub narrow"
    >${pageTexts.reasonInLine(value ?? none, range, limit ?? none, room)}</span
  >`;
}
