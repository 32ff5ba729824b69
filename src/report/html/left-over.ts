/** What stabilising leaves, cause by cause, in px of the delivery and minutes of arc from where it is watched, and what would leave less. */
import {
  figure,
  figureBeside,
  limitFigure,
  type RunDocument,
  type StabiliseSection,
} from '../../run/index.js';
import { viewingDistanceHeights } from '../../stabilise/index.js';
import { leftOverTexts } from '../../texts/index.js';
import { leftBar, leftBarHead, type LeftBarLook, type LeftBarScale } from '../charts/index.js';
import type { ReportBundle } from '../types.js';
import { html, trusted, type Insert, type Markup } from './markup.js';
import { table } from './table.js';

type Left = NonNullable<StabiliseSection['residual']['total']>;
type Causes = StabiliseSection['residual']['causes'];

/** The section on what is left. */
export function leftOverSection({ run }: Pick<ReportBundle, 'run'>): Markup {
  const { residual, recommended } = run.stabilise;
  const { causes, viewing } = residual;
  const { head } = leftOverTexts;
  const scale = scaleOf(run);
  return html`<section aria-labelledby="left-over">
    <h2 id="left-over">${leftOverTexts.heading}</h2>
    <p>${inOneSentence(run)} ${largestCause(run.stabilise)}</p>
    ${table({
      caption: leftOverTexts.caption,
      head: [
        head.cause,
        trusted(leftBarHead(head.limit(limitFigure(run.delivery.maxResidualPx)), scale)),
        head.rms,
        head.p95,
        head.seen,
      ],
      rows: causeRows(run, scale),
      numeric: [2, 3, 4],
      wideOnly: [3],
    })}
    <p class="legend">
      ${leftOverTexts.seenFrom(figure(viewing.distanceHeights), viewing.arcMinPerPx.toFixed(2), isDesignDistance(run))}
      ${blur(causes.blur, recommended.shutterAngleDeg)}
    </p>
  </section>`;
}

function causeRows(run: RunDocument, scale: LeftBarScale): Insert[][] {
  const { residual, rowsCorrected } = run.stabilise;
  const { causes, atMost, total } = residual;
  const { names, meanings } = leftOverTexts;
  const row = (
    name: string,
    meaning: string,
    left: Left | null,
    look: LeftBarLook,
    bound = false,
  ): Insert[] => [
    html`${name}<span class="sub">${meaning}</span>`,
    trusted(leftBar(left?.rmsPx ?? null, look, scale)),
    left === null ? leftOverTexts.notKnownCell : `${bound ? leftOverTexts.atMost : ''}${px(left)}`,
    left === null || left.p95Px === null ? '–' : leftOverTexts.px(small(left.p95Px)),
    left === null ? '–' : leftOverTexts.arcMin(small(left.arcMinRms)),
  ];
  const readout =
    causes.readout === null
      ? meanings.readoutUnknown
      : rowsCorrected
        ? meanings.readoutByRows(
            causes.readoutWholeFrames === null ? leftOverTexts.notKnownCell : px(causes.readoutWholeFrames),
          )
        : meanings.readoutNone;
  return [
    row(names.translation, meanings.translation, causes.translation, 'translational', atMost),
    row(names.parallax, meanings.parallax, causes.parallax, 'translational', atMost),
    row(names.path, meanings.path, causes.path, 'angular'),
    row(names.readout, readout, causes.readout, 'angular'),
    row(names.tracking, meanings.tracking, causes.tracking, 'other'),
    row(names.all, meanings.all, total, 'total', atMost),
  ];
}

/** Room for the largest bar, and for the limit unless it lies far beyond. */
function scaleOf({ stabilise, delivery }: RunDocument): LeftBarScale {
  const { total, causes } = stabilise.residual;
  const lefts = [total, causes.translation, causes.path, causes.readout, causes.tracking];
  const most = Math.max(...lefts.map((left) => left?.rmsPx ?? 0));
  return { mostPx: 1.1 * Math.max(most, delivery.maxResidualPx), limitPx: delivery.maxResidualPx };
}

function isDesignDistance({ delivery }: RunDocument): boolean {
  return delivery.viewingDistanceHeights === viewingDistanceHeights(delivery);
}

function inOneSentence({ stabilise, delivery }: RunDocument): string {
  const { rmsPx, p95Px, atMost } = stabilise.residual;
  if (rmsPx === null) return leftOverTexts.notKnown;
  const limit = delivery.maxResidualPx;
  const worst = p95Px === null ? '' : leftOverTexts.most(figure(p95Px));
  return leftOverTexts.stays(figureBeside(rmsPx, limit), limitFigure(limit), atMost, worst);
}

/** Below this nothing is left that could be seen, px RMS. */
const NOTHING_LEFT_PX = 0.05;
/** From this share of the whole on the parallax within translation is worth a word. */
const PARALLAX_WORTH = 0.2;

/** The largest of the causes and what would leave less of it; nothing where little is left, or the whole is not known. */
function largestCause({ residual: { causes, rmsPx, atMost } }: StabiliseSection): string {
  if (rmsPx === null || atMost || rmsPx < NOTHING_LEFT_PX) return '';
  const { translation, path, readout, tracking, parallax } = causes;
  const lefts = { translation, path, readout, tracking } satisfies Partial<Causes>;
  const names = Object.keys(lefts) as (keyof typeof lefts)[];
  const rms = (name: keyof typeof lefts): number => lefts[name]?.rmsPx ?? 0;
  const largest = names.reduce((most, name) => (rms(name) > rms(most) ? name : most));
  const shift =
    largest === 'translation' && parallax !== null && parallax.rmsPx > PARALLAX_WORTH * rmsPx
      ? leftOverTexts.ofItParallax(small(parallax.rmsPx))
      : '';
  return `${leftOverTexts.largest[largest]}${shift}`;
}

function px(left: Left): string {
  return leftOverTexts.px(small(left.rmsPx));
}

/** Hundredths of a pixel are the last that mean anything. */
function small(value: number): string {
  return value < 0.01 ? '< 0.01' : figure(value);
}

function blur(left: Causes['blur'], shutterAngleDeg: number | null): string {
  if (left === null) return leftOverTexts.blurNotKnown;
  const pulse = small(left.pulsePx);
  if (shutterAngleDeg === null) return leftOverTexts.blurTooLittle(pulse);
  return shutterAngleDeg <= 1
    ? leftOverTexts.blurNoShutter(pulse)
    : leftOverTexts.blurShutter(pulse, String(shutterAngleDeg));
}
