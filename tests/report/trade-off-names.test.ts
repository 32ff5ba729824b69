import { describe, expect, it } from 'vitest';
import { cropCurve, type CropCurveData } from '../../src/report/charts/index.js';

/** Letters of small print are about this wide and high, px. */
const LETTER_PX = 5.4;
const LINE_PX = 11;

interface Name {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly y: number;
}

/** The names of limits, of shaded parts and of the setting chosen, where they stand. */
function namesOf(svg: string): Name[] {
  const texts = [...svg.matchAll(/<text class="(?:limit|peak)-label"([^>]*)>([^<]*)</g)];
  return texts.map(([, attributes, text]) => {
    const number = (name: string): number =>
      Number(new RegExp(` ${name}="([-\\d.]+)"`).exec(attributes)?.[1]);
    const anchor = /text-anchor="(\w+)"/.exec(attributes)?.[1] ?? 'start';
    const before = { start: 0, middle: 0.5, end: 1 }[anchor] ?? NaN;
    const width = LETTER_PX * text.length;
    const left = number('x') - before * width;
    return { text, left, right: left + width, y: number('y') };
  });
}

function onEachOther(names: readonly Name[]): string[] {
  return names.flatMap((one, i) =>
    names
      .slice(i + 1)
      .filter(
        (other) => one.left < other.right && other.left < one.right && Math.abs(one.y - other.y) < LINE_PX,
      )
      .map((other) => `${one.text} | ${other.text}`),
  );
}

/** From smoothing, crop and shake left; the setting chosen is one of them. */
function chart(
  rows: readonly (readonly [number, number, number])[],
  chosen: number,
  change: Partial<CropCurveData> = {},
): CropCurveData {
  const points = rows.map(([smoothingS, cropPercent, residualPx]) => ({
    smoothingS,
    cropPercent,
    residualPx,
  }));
  return {
    label: 'Trade-off',
    points,
    maxCropPercent: 5,
    maxResidualPx: 0.83,
    chosen: points[chosen],
    cropFactors: [0.98, 1.35],
    leftFactors: [0.7, 1.37],
    ...change,
  };
}

/** Curves that leave their names little room: a steep fall with a sliver that is not sure, a slow one, and no smoothing that keeps both. */
const CHARTS: Readonly<Record<string, CropCurveData>> = {
  'a narrow part that is not sure beside a wide one that is': chart(
    [
      [0.25, 1.14, 3.35],
      [0.35, 1.45, 2.35],
      [0.5, 1.83, 0.75],
      [0.7, 2.01, 0.27],
      [1, 2.02, 0.18],
      [1.25, 2.03, 0.1],
    ],
    5,
    { leftFactors: [0.71, 1] },
  ),
  'two parts on a curve that rises': chart(
    [
      [0.25, 0.45, 1.9],
      [0.35, 0.8, 1.67],
      [0.5, 1.18, 1.32],
      [0.7, 1.52, 0.8],
      [1, 1.73, 0.53],
      [1.25, 1.87, 0.41],
      [2, 2.43, 0.41],
    ],
    5,
  ),
  'a crop near its limit': chart(
    [
      [0.25, 0.9, 1.1],
      [0.5, 1.6, 0.85],
      [0.6, 1.8, 0.7],
      [1.25, 2.1, 0.5],
      [2, 2.6, 0.45],
    ],
    3,
    { maxCropPercent: 2.2, cropFactors: [0.9, 1.2] },
  ),
  'no part at all': chart(
    [
      [0.25, 2, 3],
      [0.5, 3, 2],
      [2, 4, 1],
    ],
    1,
  ),
};

describe.each(Object.entries(CHARTS))('the names in the trade-off chart: %s', (_, data) => {
  it('lie over no other name at any width from 300 to 560 px', () => {
    for (let widthPx = 300; widthPx <= 560; widthPx += 5)
      expect([widthPx, ...onEachOther(namesOf(cropCurve.draw(data, { widthPx }).svg))]).toEqual([widthPx]);
  });

  it('are all there: both limits, the setting chosen, and what is shaded', () => {
    const texts = namesOf(cropCurve.draw(data, { widthPx: 340 }).svg).map(({ text }) => text);
    expect(texts.filter((text) => text.startsWith('limit '))).toHaveLength(2);
    expect(texts.filter((text) => / at [\d.]+ s$| px$/.test(text) && !text.startsWith('limit'))).toHaveLength(
      2,
    );
    expect(texts.some((text) => /^within the limits|^at no smoothing/.test(text))).toBe(true);
  });
});
