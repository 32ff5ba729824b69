/** Crop and shake left along the smoothing, drawn anew with every answer, the smoothing that is set marked. */
import { useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { LiveAnswer, LivePoint } from '../../../judge/index.js';
import {
  cropCurve,
  type CropCurveData,
  type CropCurvePoint,
  type RangeFactors,
} from '../../../report/in-browser.js';
import { limitFigure, type Ranged } from '../../../run/index.js';
import { askedAnswerTexts } from '../../../texts/index.js';

/** Shows it; nothing where there is no trade-off. */
export function LiveCurve({
  answer,
  curve,
}: {
  readonly answer: LiveAnswer;
  readonly curve: readonly LivePoint[];
}) {
  const box = useRef<HTMLDivElement>(null);
  const [widthPx, setWidthPx] = useState(0);
  useLayoutEffect(() => {
    const element = box.current;
    if (element === null) return;
    const measure = (): void => setWidthPx(Math.floor(element.getBoundingClientRect().width));
    measure();
    const watch = new ResizeObserver(measure);
    watch.observe(element);
    return () => watch.disconnect();
  }, []);
  const svg = useMemo(
    () => (widthPx === 0 ? '' : cropCurve.draw(curveData(answer, curve), { widthPx }).svg),
    [answer, curve, widthPx],
  );
  return (
    <figure class="ask-curve">
      <figcaption>
        <b>{askedAnswerTexts.curve}</b>
      </figcaption>
      <div ref={box} dangerouslySetInnerHTML={{ __html: svg }} />
      <p class="legend">{askedAnswerTexts.curveLegend}</p>
    </figure>
  );
}

function curveData({ delivery }: LiveAnswer, curve: readonly LivePoint[]): CropCurveData {
  const { maxCropPercent, maxResidualPx } = delivery;
  const points = curve.map(bare);
  const chosen = curve.find((point) => point.chosen) ?? null;
  // Ranges are as wide, in proportion, at any smoothing.
  const wide = chosen ?? curve[curve.length - 1];
  return {
    label: askedAnswerTexts.curveLabel(limitFigure(maxCropPercent), limitFigure(maxResidualPx)),
    points,
    chosen: chosen === null ? null : bare(chosen),
    ...{ maxCropPercent, maxResidualPx },
    cropFactors: factorsOf(wide.cropPercent),
    leftFactors: wide.residualPx === null ? null : factorsOf(wide.residualPx),
  };
}

function bare({ smoothingS, cropPercent, residualPx }: LivePoint): CropCurvePoint {
  return { smoothingS, cropPercent: cropPercent.value, residualPx: residualPx?.value ?? null };
}

function factorsOf({ value, low, high }: Ranged): RangeFactors | null {
  return value > 0 ? [low / value, high / value] : null;
}
