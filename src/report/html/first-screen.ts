/** The first screen of the report: verdict with measured value and limit, four figures, what to do first, a frame with its crop window. */
import { LONGER_TAKE_OVER_LIMIT } from '../../judge/index.js';
import {
  boundBeside,
  figure,
  limitFigure,
  percentBeside,
  worstAngularAxis,
  type RunDocument,
} from '../../run/index.js';
import { classInWords, firstScreenTexts } from '../../texts/index.js';
import { shakesMost } from '../cause-words.js';
import { verdictBadge } from '../charts/index.js';
import { withRange } from '../format.js';
import type { ReportBundle } from '../types.js';
import { axisNames, headline } from '../wording.js';
import { firstStep, otherSteps } from './advice.js';
import { frameFigure } from './frame-figure.js';
import { html, trusted, type Markup } from './markup.js';

/** A figure that is read at a glance. */
export interface KeyFigure {
  readonly name: string;
  readonly value: string;
  readonly unit: string;
  readonly remark: string;
}

/** The first screen. @param pictureUri the frame as a data URI, null when there is none */
export function firstScreen(bundle: ReportBundle, pictureUri: string | null): Markup {
  const { run } = bundle;
  const { word, sentence } = headline(run);
  const { grade } = run.verdict;
  const first = firstStep(run);
  const others = otherSteps(run);
  return html`<section class="first" aria-labelledby="verdict">
    <div class="verdict ${grade}">
      <h1 id="verdict">
        <span class="mark" aria-hidden="true">${trusted(verdictBadge(grade))}</span
        ><span class="word">${word}</span> <span class="sentence">${sentence}</span>
      </h1>
      ${reservations(run).map(
        ([name, text]) => html`<p class="reservation"><span class="word">${name}:</span> ${text}</p>`,
      )}
    </div>
    ${grade === 'unmeasurable' ? null : figures(run)}
    ${first === null ? null : html`<div class="advice do-first">${first} ${passesNote(run, 'first')}</div>`}
    ${frameFigure(bundle, pictureUri)}
    <div class="advice do-more">${others} ${passesNote(run, 'others')} ${source(run)}</div>
  </section>`;
}

/** What the verdict does not hold for: translation that the clip cannot show, and a longer take. */
function reservations({ verdict: { grade, reasons }, motion }: RunDocument): [string, string][] {
  if (grade === 'unmeasurable') return [];
  const blind = motion.translational.observable === 'no';
  const notCovered = firstScreenTexts.translationNotCovered(motion.separation.unsplit?.cause ?? null);
  const minded = reasons.filter(({ code }) => code === LONGER_TAKE_OVER_LIMIT);
  return [
    ...(blind ? ([[firstScreenTexts.notCovered, notCovered]] satisfies [string, string][]) : []),
    ...minded.map(({ text }): [string, string] => [firstScreenTexts.mind, text]),
  ];
}

/** What a step that passes passes for, where a longer take is minded; told once, at the first step that passes. */
function passesNote(
  { verdict: { advice, reasons } }: RunDocument,
  beside: 'first' | 'others',
): Markup | null {
  const passes = advice.findIndex(({ predicted }) => predicted?.grade === 'pass');
  if (passes < 0 || !reasons.some(({ code }) => code === LONGER_TAKE_OVER_LIMIT)) return null;
  if ((passes === 0) !== (beside === 'first')) return null;
  return html`<p class="legend">${firstScreenTexts.passesLikeTest}</p>`;
}

/** What shakes most, in one line. */
function source(run: RunDocument): Markup | null {
  const most = run.verdict.grade === 'unmeasurable' ? null : shakesMost(run);
  return most === null ? null : html`<p class="muted">${firstScreenTexts.shakesMost(most)}</p>`;
}

function figures(run: RunDocument): Markup {
  return html`<dl class="figures">
    ${keyFigures(run).map(
      ({ name, value, unit, remark }) =>
        html`<div>
          <dt>${name}</dt>
          <dd>
            <span class="value">${value}</span>
            ${unit === '' ? null : html`<span class="unit">${unit}</span>`}
            <span class="remark">${remark}</span>
          </dd>
        </div>`,
    )}
  </dl>`;
}

/** Hundredths of a per cent are the last that mean anything. */
const LEAST_CROP_PERCENT = 0.01;

/** Crop, angular share, worst angular axis and surface, in this order. */
export function keyFigures(run: RunDocument): KeyFigure[] {
  const { stabilise, motion, surface, delivery } = run;
  const crop: KeyFigure = {
    name: firstScreenTexts.crop,
    value: percentBeside(stabilise.cropPercent, delivery.maxCropPercent),
    unit: '%',
    remark: firstScreenTexts.cropRemark(cropRange(run), limitFigure(delivery.maxCropPercent)),
  };
  const { value: share, ci95 } = motion.angularShare;
  const angular: KeyFigure =
    share === null
      ? none(firstScreenTexts.angularShare, firstScreenTexts.notObservable)
      : {
          name: firstScreenTexts.angularShare,
          value: figure(100 * share),
          unit: '%',
          remark: firstScreenTexts.angularRemark(ci95 && [figure(100 * ci95[0]), figure(100 * ci95[1])]),
        };
  return [crop, angular, worstAxis(run), surfaceFigure(surface)];
}

/** The range of the crop that the verdict went by, per cent as printed; null where it was not asked for, or is no wider than its digits. */
function cropRange({ verdict, delivery }: RunDocument): [string, string] | null {
  const limit = delivery.maxCropPercent;
  const range = verdict.reasons.find(({ code, unit }) => code.startsWith('crop-') && unit === '%')?.ci95;
  if (!range) return null;
  const [low, high] = [percentBeside(range[0], limit), boundBeside(range[1], limit)];
  return low === high || range[1] < LEAST_CROP_PERCENT ? null : [low, high];
}

function none(name: string, remark: string): KeyFigure {
  return { name, value: firstScreenTexts.nothing, unit: '', remark };
}

function worstAxis(run: RunDocument): KeyFigure {
  const worst = worstAngularAxis(run.motion);
  const rmsDeg = worst && run.motion.angular[worst].rmsDeg;
  if (worst === null || rmsDeg === null) return none(firstScreenTexts.worstAxis, firstScreenTexts.noAxis);
  const { value, range } = withRange(rmsDeg, run.motion.angular[worst].ci95Deg);
  const { name, meaning } = axisNames(run)[worst];
  return {
    name: firstScreenTexts.worstAxisOf(name),
    value: `${value}°`,
    unit: firstScreenTexts.rms,
    remark: firstScreenTexts.axisRemark(range, meaning),
  };
}

function surfaceFigure(surface: RunDocument['surface']): KeyFigure {
  const { isoClass, isoClassAsRolled, spoken, bumps, reason } = surface;
  if (!surface.observable || isoClass === null)
    return none(firstScreenTexts.surface, reason ?? firstScreenTexts.notGraded);
  return {
    name: firstScreenTexts.surface,
    // As rolled: that is what the word is for, and what shakes.
    value: isoClassAsRolled ?? isoClass,
    unit: spoken === null ? '' : spoken.word,
    remark: firstScreenTexts.surfaceRemark(classInWords(surface) ?? isoClass, bumps.length),
  };
}
