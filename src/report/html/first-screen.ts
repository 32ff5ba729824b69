/** The first screen of the report: verdict with measured value and limit, four figures, what to do first, a frame with its crop window. */
import {
  figure,
  limitFigure,
  percentBeside,
  ANGULAR_AXES,
  hasFigure,
  type RunDocument,
} from '../../run/index.js';
import { classInWords } from '../../texts/index.js';
import { shakesMost } from '../cause-words.js';
import { cropPicture, verdictBadge } from '../charts/index.js';
import { cropWindows } from '../crop-windows.js';
import { angularNumbers, withRange } from '../format.js';
import type { ReportBundle } from '../types.js';
import { adviceWords, axisNames, headline } from '../wording.js';
import { html, trusted, type Insert, type Markup } from './markup.js';

/** One of the figures that are read first. */
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
  const most = grade === 'unmeasurable' ? null : shakesMost(run);
  return html`<section class="first" aria-labelledby="verdict">
    <div class="verdict ${grade}">
      <h1 id="verdict">
        <span class="mark" aria-hidden="true">${trusted(verdictBadge(grade))}</span
        ><span class="word">${word}</span> <span class="sentence">${sentence}</span>
      </h1>
    </div>
    ${grade === 'unmeasurable' ? null : figures(run)}
    <div class="advice">
      ${adviceList(run.verdict)} ${most === null ? null : html`<p class="muted">Shakes most: ${most}.</p>`}
    </div>
    ${picture(bundle, pictureUri)}
  </section>`;
}

/** The first step, then the others with a word on how they stand to it: alternatives, or in addition. */
export function adviceList(verdict: Pick<RunDocument['verdict'], 'grade' | 'advice'>): Markup {
  const [first, ...rest] = verdict.advice;
  const [, ...words] = adviceWords(verdict);
  return html`<h2>Do first</h2>
    <p><strong>${first.text}</strong> ${first.effect}</p>
    ${
      rest.length === 0
        ? null
        : html`<ol start="2" class="steps-after">
            ${rest.map(
              ({ text, effect }, i) =>
                html`<li>
                  <span class="word">${words[i]}:</span> ${text} <span class="muted">${effect}</span>
                </li>`,
            )}
          </ol>`
    }
    ${
      words.includes('Or')
        ? html`<p class="legend">Each step is reckoned alone; the one that helps most first.</p>`
        : null
    }`;
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

/** Crop, angular share, worst axis, surface. */
export function keyFigures(run: RunDocument): KeyFigure[] {
  const { stabilise, motion, surface, delivery } = run;
  const none = (name: string, remark: string): KeyFigure => ({ name, value: '–', unit: '', remark });
  const crop: KeyFigure = {
    name: 'Crop',
    value: percentBeside(stabilise.cropPercent, delivery.maxCropPercent),
    unit: '%',
    remark: `of the frame width, limit ${limitFigure(delivery.maxCropPercent)} %`,
  };
  const { value: share, ci95 } = motion.angularShare;
  const angular: KeyFigure =
    share === null
      ? none('Angular share', 'not observable')
      : {
          name: 'Angular share',
          value: figure(100 * share),
          unit: '%',
          remark: ci95
            ? `${figure(100 * ci95[0])} to ${figure(100 * ci95[1])} %; stabilising removes this part`
            : 'stabilising removes this part',
        };
  return [crop, angular, worstAxis(run), surfaceFigure(surface)];
}

function worstAxis(run: RunDocument): KeyFigure {
  const seen = ANGULAR_AXES.map((axis) => ({ axis, ...angularNumbers(run.motion.angular[axis]) }))
    .filter(({ status, rms }) => hasFigure(status) && rms !== null)
    .sort((a, b) => (b.rms ?? 0) - (a.rms ?? 0))[0];
  if (!seen || seen.rms === null)
    return { name: 'Worst axis', value: '–', unit: '', remark: 'no angular shake above the noise floor' };
  const { value, range } = withRange(seen.rms, seen.ci95);
  const names = axisNames(run);
  return {
    name: `Worst axis: ${names[seen.axis].name.toLowerCase()}`,
    value: `${value}°`,
    unit: 'RMS',
    remark: range === '' ? names[seen.axis].meaning : `${range}°; ${names[seen.axis].meaning}`,
  };
}

function surfaceFigure(surface: RunDocument['surface']): KeyFigure {
  const { isoClass, spoken, bumps, reason } = surface;
  if (!surface.observable || isoClass === null)
    return { name: 'Surface', value: '–', unit: '', remark: reason ?? 'not graded' };
  const found = bumps.length === 0 ? 'no joints or bumps found' : `${bumps.length} joints and bumps listed`;
  return {
    name: 'Surface',
    // As rolled: that is what the word is for, and what shakes.
    value: surface.isoClassAsRolled ?? isoClass,
    unit: spoken === null ? '' : spoken.word,
    remark: `${classInWords(surface) ?? isoClass}, ISO 8608-style; ${found}`,
  };
}

function picture(bundle: ReportBundle, pictureUri: string | null): Markup {
  const { run, picture: frame, pictureAtS } = bundle;
  const { cropPercent } = run.stabilise;
  const size = frame ?? bundle.stabilisation.camera;
  const measured = run.verdict.grade !== 'unmeasurable';
  if (!measured && frame === null) return html``;
  const at = pictureAtS === null ? '' : ` at ${figure(pictureAtS)} s`;
  const svg = cropPicture({
    label: measured
      ? `Frame of the clip${at} with the crop window: ${figure(cropPercent)} % of the width is lost`
      : `Frame of the clip${at}`,
    widthPx: size.widthPx,
    heightPx: size.heightPx,
    imageUri: frame ? pictureUri : null,
    ...(measured ? cropWindows(bundle) : { window: null, others: [] }),
  });
  const worst =
    pictureAtS !== null &&
    run.stabilise.worstFrameS !== null &&
    Math.abs(pictureAtS - run.stabilise.worstFrameS) < 1 / run.clip.fps
      ? ', the frame that decides the crop'
      : '';
  const caption: Insert = !measured
    ? `Frame${at}.`
    : frame
      ? `Frame${at}${worst}. Solid: what is delivered of it. Thin: where that window lies in other frames.`
      : 'No frame could be read from the clip. Solid: what is delivered. Thin: where that window lies in other frames.';
  return html`<figure class="picture">
    ${trusted(svg)}
    <figcaption>${caption}</figcaption>
  </figure>`;
}
