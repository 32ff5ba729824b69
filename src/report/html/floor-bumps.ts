/** The list for the grip: joints, steps, bumps and dips, worst first, with place, timecode and what each does to the picture. */
import { figure, type RunDocument, type SurfaceBump } from '../../run/index.js';
import { bumpInWords, placeInWords } from '../../texts/index.js';
import { worstFirst } from '../floor-words.js';
import { html, type Insert, type Markup } from './markup.js';
import { timecodeAt } from './setup.js';
import { behind, table, type TableData } from './table.js';

/** Lines that stand open; the rest is folded away. */
const OPEN = 12;

/** The table, its first twelve lines open. */
export function bumpTable({ surface, clip }: RunDocument): Markup {
  const rows = worstFirst(surface.bumps).map((bump, i): Insert[] => [
    i + 1,
    `${placeInWords(bump.atM, bump.atRangeM)} ± ${figure(1000 * bump.atRangeM)} mm`,
    timecodeAt(clip, bump.atS),
    bumpInWords(bump),
    sides(bump),
    bump.pictureShiftPx === null ? '–' : `${figure(bump.pictureShiftPx)} px`,
    sureness(bump),
  ]);
  const data = (caption: string, some: typeof rows): TableData => ({
    caption,
    head: ['No.', 'At', 'Timecode', 'What', 'Left / right', 'Kicks the picture by', 'Sure'],
    rows: some,
    numeric: [1, 2, 4, 5, 6],
    wideOnly: [4, 6],
  });
  const rest = rows.slice(OPEN);
  return html`${table(data('Joints, steps and bumps, worst first', rows.slice(0, OPEN)))}
    ${rest.length === 0 ? null : behind(data(`the other ${rest.length} joints and bumps`, rest))}
    <p class="legend">
      Worst first by height under a wheel line. A joint belongs to a row at even distances, a step stands
      alone; a dip is what this wheel sees of a gap. Timecode: when the front axle is over it (the rear axle
      where the front one passed before the clip). The kick is the largest shift anywhere in the frame, in px
      of the delivery, before any stabilising.
      ${
        surface.bumps.every(({ leftMm }) => leftMm === null)
          ? 'Heights are means of both wheel lines, where up on one side cancels down on the other: give the track width to see each.'
          : null
      }
    </p>`;
}

function sides({ leftMm, rightMm }: SurfaceBump): string {
  return leftMm === null || rightMm === null ? '–' : `${signed(leftMm)} / ${signed(rightMm)} mm`;
}

function signed(value: number): string {
  return `${value < 0 ? '−' : '+'}${figure(Math.abs(value))}`;
}

/** Never "100 %": no scan is that sure. */
function sureness({ confidence, foundBy }: SurfaceBump): string {
  const percent = Math.min(99, Math.floor(100 * confidence));
  return `${percent} %${foundBy === 'pattern' ? ', by the row' : ''}`;
}
