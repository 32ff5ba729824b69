/** The list for the grip: joints, steps, bumps and dips, worst first, with place, timecode and what each does to the picture. */
import { figure, type SurfaceBump } from '../../run/index.js';
import { bumpInWords, floorTexts, placeInWords } from '../../texts/index.js';
import { timecodeAt } from '../charts/index.js';
import { axlePassages, frontAheadOf } from '../axle-passages.js';
import { worstFirst } from '../floor-words.js';
import type { ReportBundle } from '../types.js';
import { html, type Insert, type Markup } from './markup.js';
import { behind, table, type TableData } from './table.js';

/** Lines that stand open; the rest is folded away. */
const OPEN = 12;

/** The table, its first twelve lines open; on a phone timecode, heights and sureness stand in the cells beside. */
export function bumpTable(bundle: ReportBundle): Markup {
  const { surface, clip } = bundle.run;
  const aheadM = frontAheadOf(bundle);
  const { heads } = floorTexts;
  const sides = surface.bumps.some(({ leftMm }) => leftMm !== null);
  const rows = worstFirst(surface.bumps).map((bump, i): Insert[] => {
    const axle = axlePassages(bump, aheadM)[0]?.axle ?? null;
    const timecode = floorTexts.passage(timecodeAt(clip, bump.atS), axle);
    const rangeMm = 1000 * bump.atRangeM;
    const range = `${rangeMm < 2 ? figure(rangeMm) : Math.round(rangeMm)} mm`;
    const [left, right] = [bump.leftMm, bump.rightMm].map((heightMm) => side(heightMm, bump.sideRangeMm));
    return [
      i + 1,
      html`${floorTexts.place(placeInWords(bump.atM, bump.atRangeM), range)}${narrow(timecode)}`,
      timecode,
      html`${bumpInWords(bump)}${narrow(
        // Both lines are told by the words already where they differ, and as one where they do not.
        [
          ...(sides && bump.wheelLine !== 'both' ? [floorTexts.sides(left, right)] : []),
          floorTexts.sureShort(sureness(bump)),
        ].join('; '),
      )}`,
      ...(sides ? [left, right] : []),
      bump.pictureShiftPx === null ? '–' : `${figure(bump.pictureShiftPx)} px`,
      sureness(bump),
    ];
  });
  const head = [
    heads.number,
    heads.at,
    heads.timecode,
    heads.what,
    ...(sides ? [heads.left, heads.right] : []),
    heads.kick,
    heads.sure,
  ];
  const last = head.length - 1;
  const data = (caption: string, some: typeof rows): TableData => ({
    caption,
    head,
    rows: some,
    numeric: sides ? [2, 4, 5, last - 1, last] : [2, last - 1, last],
    wideOnly: sides ? [2, 4, 5, last] : [2, last],
  });
  const rest = rows.slice(OPEN);
  return html`${table(data(floorTexts.bumpsCaption, rows.slice(0, OPEN)))}
    ${rest.length === 0 ? null : behind(data(floorTexts.otherBumps(rest.length), rest))}
    <p class="legend">${floorTexts.listNote} ${sides ? null : floorTexts.meansOnly}</p>`;
}

/** Under a cell, on a phone only. */
function narrow(text: string): Markup {
  return html`<span class="sub narrow">${text}</span>`;
}

function side(heightMm: number | null, rangeMm: number | null): string {
  if (heightMm === null) return '–';
  const range = rangeMm === null ? '' : ` ± ${figure(rangeMm)}`;
  return `${heightMm < 0 ? '−' : '+'}${figure(Math.abs(heightMm))}${range} mm`;
}

/** Never "100 %": no scan is that sure. */
function sureness({ confidence, foundBy }: SurfaceBump): string {
  return floorTexts.sure(Math.min(99, Math.floor(100 * confidence)), foundBy === 'pattern');
}
