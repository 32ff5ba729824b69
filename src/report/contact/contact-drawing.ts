/**
 * Composes the contact picture, 1080 x 1350 px: clip, verdict, four figures, the frame with the first step beside it, two small
 * charts; or, where nothing could be measured, verdict, frame and what to shoot again.
 */
import { LONGER_TAKE_OVER_LIMIT } from '../../judge/index.js';
import { figure, inUnits, type RunDocument } from '../../run/index.js';
import { contactTexts } from '../../texts/index.js';
import { element, verdictBadge } from '../charts/index.js';
import type { ReportBundle } from '../types.js';
import { doubtsBesideVerdict } from '../reservations.js';
import { turnsMost } from '../shakes-most.js';
import { firstSentence, headline, outcomeInShort } from '../wording.js';
import { lightColour, standaloneChartStyle } from './chart-style.js';
import { contactFigures } from './contact-figures.js';
import {
  figureWithUnit,
  fitsLines,
  oneLine,
  paragraph,
  rawLine,
  rule,
  SMALLEST_PX,
  type Place,
} from './contact-text.js';
import { PICTURE_FONT } from './own-fonts.js';
import { cropChart, floorChart, shakeChart, SMALL_WIDTH_PX } from './small-charts.js';
import { shortenMiddleToPx } from './text-width.js';

/** Size of the picture, px. */
export const CONTACT_SIZE = { widthPx: 1080, heightPx: 1350 } as const;

/** A box in the picture, px. */
export interface Box {
  readonly leftPx: number;
  readonly topPx: number;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** The picture without the frame, and where the frame goes. */
export interface ContactDrawing {
  readonly svg: string;
  readonly frame: Box;
}

const LEFT = 48;
const WIDTH = CONTACT_SIZE.widthPx - 2 * LEFT;
const RIGHT = LEFT + WIDTH;
const GAP = 28;
const CHART_GAP = 14;
const MUTED: Place = { leftPx: LEFT, widthPx: WIDTH, sizePx: SMALLEST_PX, colour: 'muted' };
const BODY: Place = { leftPx: LEFT, widthPx: WIDTH, sizePx: 28 };
const DOUBT_LINES = 3;
const MIND_LINES = 2;
/** Greys of the strip that all pages have at their top. */
const STEPS = 11;
const STRIP_PX = 14;

/** Draws the picture; the same text for the same bundle. Everything from outside is escaped, and shortened where it is too long. */
export function contactDrawing(bundle: ReportBundle): ContactDrawing {
  const { run } = bundle;
  const measured = run.verdict.grade !== 'unmeasurable';
  const head = header(run);
  const verdict = verdictPart(run, head.bottom + 18, measured ? 3 : 6);
  const rest = measured ? measuredPart(bundle, verdict.bottom + 20) : repeatPart(bundle, verdict.bottom + 20);
  const { widthPx, heightPx } = CONTACT_SIZE;
  const svg = element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      width: widthPx,
      height: heightPx,
      viewBox: `0 0 ${widthPx} ${heightPx}`,
      'font-family': PICTURE_FONT,
    },
    element('style', {}, standaloneChartStyle()),
    element('rect', { width: widthPx, height: heightPx, fill: lightColour('sheet') }),
    head.svg,
    verdict.svg,
    rest.svg,
  );
  return { svg, frame: rest.frame };
}

interface Part {
  readonly svg: string;
  readonly bottom: number;
}

/** The strip of greys; the name of the clip, lens, speed and date. */
function header(run: RunDocument): Part {
  const step = CONTACT_SIZE.widthPx / STEPS;
  const strip = Array.from({ length: STEPS }, (_, i) => {
    const grey = Math.round(11 + (i * (243 - 11)) / (STEPS - 1));
    return element('rect', {
      x: i * step,
      width: step + 1,
      height: STRIP_PX,
      fill: `rgb(${grey},${grey},${grey})`,
    });
  });
  const name = { ...BODY, sizePx: 32, bold: true };
  const { focalLengthMm, speedMps } = run.rig;
  const facts = [
    focalLengthMm === undefined ? null : contactTexts.lens(figure(focalLengthMm)),
    speedMps === undefined ? null : inUnits(contactTexts.speed(figure(speedMps)), run.units),
    run.createdAt.slice(0, 10),
    contactTexts.kind,
  ];
  return {
    svg: [
      ...strip,
      rawLine(shortenMiddleToPx(run.clip.file, WIDTH, name), name, STRIP_PX + 50),
      oneLine(facts.filter((fact) => fact !== null).join('  ·  '), MUTED, STRIP_PX + 90),
      rule(LEFT, RIGHT, STRIP_PX + 108),
    ].join(''),
    bottom: STRIP_PX + 108,
  };
}

/** Shape, word and sentence. */
function verdictPart(run: RunDocument, top: number, lines: number): Part {
  const { word, sentence } = headline(run);
  const { grade } = run.verdict;
  const beside = LEFT + 118;
  const said = paragraph(inUnits(sentence, run.units), BODY, top + 102, lines);
  const doubt = doubtWords(run);
  const doubted = doubt === null ? said : paragraph(doubt, BODY, said.bottom + 6, DOUBT_LINES);
  const mind = mindWords(run);
  const minded = mind === null ? null : paragraph(mind, MUTED, doubted.bottom + 6, MIND_LINES);
  return {
    svg: [
      nested(verdictBadge(grade), { leftPx: LEFT, topPx: top, widthPx: 88, heightPx: 88 }),
      oneLine(
        word,
        { leftPx: beside, widthPx: RIGHT - beside, sizePx: 72, bold: true, colour: grade },
        top + 70,
      ),
      said.svg,
      doubt === null ? '' : doubted.svg,
      minded?.svg ?? '',
    ].join(''),
    bottom: minded?.bottom ?? doubted.bottom,
  };
}

/** The doubt that weighs most, in its first sentence, and how many more there are; null where there is none. */
function doubtWords(run: RunDocument): string | null {
  const [most, ...more] = doubtsBesideVerdict(run);
  return most === undefined
    ? null
    : inUnits(contactTexts.inDoubt(firstSentence(most.text), more.length), run.units);
}

/** What a longer take may need, without what stands in brackets; null where the limits hold for it. */
function mindWords({ verdict: { reasons }, units }: RunDocument): string | null {
  const mind = reasons.find(({ code }) => code === LONGER_TAKE_OVER_LIMIT);
  return mind === undefined ? null : inUnits(contactTexts.mind(mind.text.replace(/ \([^()]*\)/g, '')), units);
}

/** The figures, the frame with the first step beside it, the charts. */
function measuredPart(bundle: ReportBundle, top: number): { svg: string; frame: Box } {
  const { run } = bundle;
  const worst = turnsMost(run);
  const charts = [worst && shakeChart(bundle, worst), floorChart(bundle) ?? cropChart(run)].filter(
    (chart) => chart !== null,
  );
  const heights = charts.map(({ heightPx }) => Math.round((WIDTH / SMALL_WIDTH_PX) * heightPx));
  const chartsTop = CONTACT_SIZE.heightPx - 20 - heights.reduce((sum, height) => sum + height + CHART_GAP, 0);
  const figures = figuresPart(run, top);
  const room = { widthPx: 560, heightPx: chartsTop - GAP - (figures.bottom + GAP) };
  const frame = fitted(bundle, { leftPx: LEFT, topPx: figures.bottom + GAP, ...room }, 'start');
  const besidePx = frame.leftPx + frame.widthPx + GAP;
  const beside = { ...BODY, leftPx: besidePx, widthPx: RIGHT - besidePx };
  const advice = adviceBeside(run, beside, figures.bottom + GAP, room.heightPx);
  return {
    svg: [
      figures.svg,
      advice,
      ...charts.map(({ svg }, i) => {
        const above = heights.slice(0, i).reduce((sum, height) => sum + height + CHART_GAP, 0);
        return nested(svg, { leftPx: LEFT, topPx: chartsTop + above, widthPx: WIDTH, heightPx: heights[i] });
      }),
    ].join(''),
    frame,
  };
}

function figuresPart(run: RunDocument, top: number): Part {
  const figures = contactFigures(run);
  const column = WIDTH / figures.length;
  const bottom = top + 138;
  const drawn = figures.map(({ name, value, unit, remark }, i) => {
    const leftPx = LEFT + i * column + (i === 0 ? 0 : 18);
    const place: Place = { ...MUTED, leftPx, widthPx: column - (i === 0 ? 14 : 32) };
    return [
      i === 0
        ? ''
        : element('line', {
            x1: LEFT + i * column,
            x2: LEFT + i * column,
            y1: top + 12,
            y2: bottom - 12,
            stroke: lightColour('rule'),
            'stroke-width': 2,
          }),
      oneLine(name, place, top + 36),
      figureWithUnit(value, unit, { ...place, sizePx: 50, colour: 'ink' }, top + 86),
      oneLine(remark, place, top + 122),
    ].join('');
  });
  return { svg: rule(LEFT, RIGHT, top) + drawn.join('') + rule(LEFT, RIGHT, bottom), bottom };
}

/** The first step and what it brings, in as many lines as the frame is high. */
function adviceBeside(run: RunDocument, place: Place, top: number, heightPx: number): string {
  const [first] = run.verdict.advice;
  if (first === undefined) return '';
  const lines = Math.floor((heightPx - 36) / 36);
  const title = oneLine(contactTexts.doFirst, { ...MUTED, ...only(place) }, top + 24);
  const text = paragraph(inUnits(first.text, run.units), { ...place, bold: true }, top + 36, lines);
  const left = Math.floor((top + heightPx - text.bottom - 6) / 36);
  const brings = inUnits(bringsWords(run, first), run.units);
  const effect =
    left < 1
      ? ''
      : paragraph(
          fitsLines(brings, place, left) ? brings : firstSentence(brings),
          { ...place, colour: 'muted' },
          text.bottom + 6,
          left,
        ).svg;
  return title + text.svg + effect;
}

/** What a step comes to; that it passes holds for a take like the test, which is said where a longer one is minded. */
function bringsWords(
  run: RunDocument,
  { effect, predicted }: RunDocument['verdict']['advice'][number],
): string {
  if (predicted === null) return effect;
  const outcome = outcomeInShort(predicted, run.delivery);
  return predicted.grade === 'pass' && mindWords(run) !== null ? contactTexts.likeTheTest(outcome) : outcome;
}

const only = ({ leftPx, widthPx }: Place): Pick<Place, 'leftPx' | 'widthPx'> => ({ leftPx, widthPx });

/** The frame large, and what to shoot again under it. */
function repeatPart(bundle: ReportBundle, top: number): { svg: string; frame: Box } {
  const { run } = bundle;
  const box = { leftPx: LEFT, topPx: top, widthPx: WIDTH, heightPx: 560 };
  const frame = bundle.picture === null ? { ...box, heightPx: 0 } : fitted(bundle, box, 'middle');
  let y = frame.topPx + frame.heightPx + (frame.heightPx > 0 ? GAP : 0);
  const parts = [oneLine(contactTexts.shootAgain, MUTED, y + 26)];
  y += 44;
  for (const { text, effect } of run.verdict.advice) {
    const room = Math.floor((CONTACT_SIZE.heightPx - 24 - y) / 36);
    if (room < 1) break;
    const step = paragraph(inUnits(text, run.units), { ...BODY, bold: true }, y, Math.min(4, room));
    const after = paragraph(
      inUnits(effect, run.units),
      { ...BODY, colour: 'muted' },
      step.bottom,
      Math.max(0, Math.min(4, Math.floor((CONTACT_SIZE.heightPx - 24 - step.bottom) / 36))),
    );
    parts.push(step.svg, after.svg);
    y = after.bottom + 16;
  }
  return { svg: parts.join(''), frame };
}

/** The largest box of the frame's proportions within a box. */
function fitted({ picture, stabilisation }: ReportBundle, box: Box, across: 'start' | 'middle'): Box {
  const { widthPx, heightPx } = picture ?? stabilisation.camera;
  const scale = Math.min(box.widthPx / widthPx, box.heightPx / heightPx);
  const width = Math.max(1, Math.round(widthPx * scale));
  return {
    leftPx: across === 'start' ? box.leftPx : box.leftPx + Math.round((box.widthPx - width) / 2),
    topPx: box.topPx,
    widthPx: width,
    heightPx: Math.max(1, Math.round(heightPx * scale)),
  };
}

/** A chart in a box of the picture; its own style sheet is that of the picture. */
function nested(chart: string, { leftPx, topPx, widthPx, heightPx }: Box): string {
  return chart.replace('<svg ', `<svg x="${leftPx}" y="${topPx}" width="${widthPx}" height="${heightPx}" `);
}
