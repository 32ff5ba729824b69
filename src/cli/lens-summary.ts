/** A calibrated lens as text for a terminal. */
import { rigLens, type FittedFigure, type LensCalibration } from '../lens-calibration.js';

const LABEL_WIDTH = 18;

/** The figures with their 95 % intervals, and what would make them better. */
export function lensSummary(lens: LensCalibration): string {
  const { clip, views, coverage, fieldOfViewDeg: view } = lens;
  const rows: [string, string][] = [
    ['Focal length', `${withRange(lens.focalPx, ' px')} of ${clip.widthPx} px wide pictures`],
    ...(lens.focalLengthMm
      ? ([['', `${withRange(lens.focalLengthMm, ' mm')} on a sensor ${lens.sensorWidthMm} mm wide`]] as [
          string,
          string,
        ][])
      : []),
    [
      'Field of view',
      `${view.horizontal.toFixed(2)} x ${view.vertical.toFixed(2)} deg, ${view.diagonal.toFixed(2)} deg from corner to corner`,
    ],
    ...Object.entries(lens.distortion).map(([name, figure], i): [string, string] => [
      i === 0 ? 'Distortion' : '',
      `${name} ${figure ? withRange(figure, '') : '0 (not needed)'}`,
    ]),
    [
      'Corners move',
      `${withRange(lens.cornerShiftPx, ' px')}, ${((100 * lens.cornerShiftPx.value) / clip.widthPx).toFixed(2)} % of the width`,
    ],
    ['Fit', `${lens.rmsPx.toFixed(3)} px RMS`],
    [
      'Optical centre',
      `${lens.freeCentre.offPercentOfWidth.toFixed(2)} % of the width from the middle when left free`,
    ],
    [
      'Views',
      `${views.used} used, ${views.leftOut} left out; board in ${views.framesWithBoard} of ${views.framesLookedAt} frames looked at; tilted by up to ${Math.round(lens.largestTiltDeg)} deg`,
    ],
    [
      'Picture covered',
      `${Math.round(100 * coverage.share)} %, towards the corners ${Object.entries(coverage.reach)
        .map(([quarter, reach]) => `${quarter} ${Math.round(100 * reach)} %`)
        .join(', ')}`,
    ],
    ...(lens.boardDistanceM
      ? ([['Board', `${lens.boardDistanceM.map((m) => m.toFixed(2)).join(' to ')} m from the lens`]] as [
          string,
          string,
        ][])
      : []),
  ];
  return [
    `Lens of ${clip.file} (figures with their 95 % interval)`,
    ...rows.map(([label, text]) => `  ${label.padEnd(LABEL_WIDTH)}${text}`),
    ...lens.warnings.map(({ text, code }) => `Note: ${text} [${code}]`),
  ].join('\n');
}

/** What to write into a rig file, as JSON on one line. */
export function rigLine(lens: LensCalibration): string {
  return JSON.stringify(rigLens(lens));
}

function withRange({ value, deviation, ci95 }: FittedFigure, unit: string): string {
  // Two digits of the deviation are all that means anything.
  const digits = Math.max(0, Math.min(7, 1 - Math.floor(Math.log10(Math.max(deviation, 1e-7)))));
  return `${value.toFixed(digits)}${unit} (${ci95[0].toFixed(digits)} to ${ci95[1].toFixed(digits)})`;
}
