/** A proof in a few lines for a terminal: the file, what was done to the picture, and what was foretold for it. */
import type { Proof } from '../prove.js';
import { figure, percentFigure } from '../run/index.js';
import { wayInWords } from '../report/index.js';

const CODECS: Readonly<Record<Proof['record']['codec'], string>> = { h264: 'H.264', prores: 'ProRes' };

/** The summary; lines end with "\n" except the last. */
export function proofSummary({ record, run, cropPercent }: Proof): string {
  const { residual } = run.stabilise;
  const left =
    residual.rmsPx === null
      ? 'not known'
      : `${residual.atMost ? 'at most ' : ''}${figure(residual.rmsPx)} px RMS at ${run.delivery.widthPx}x${run.delivery.heightPx}`;
  return [
    `Proof: ${record.file}`,
    `${record.widthPx}x${record.heightPx}, ${record.frames} frames, ${CODECS[record.codec]} ${record.pixelFormat}`,
    `Stabilised: ${wayInWords(run.stabilise)}; crop ${percentFigure(cropPercent)} % of the width`,
    `Shake foretold to stay: ${left}`,
    ...changes(record),
    record.framesOutside === 0
      ? 'No border shows in any frame.'
      : `A border shows in ${record.framesOutside} frames, by up to ${figure(record.furthestOutsidePx)} px.`,
  ].join('\n');
}

/** What coding could not keep as it was. */
function changes({ depthReduced, rangeReduced, bitDepth, sound }: Proof['record']): string[] {
  return [
    ...(depthReduced ? [`The depth was brought to ${bitDepth} bits.`] : []),
    ...(rangeReduced ? ['Full-range levels were brought to those of television.'] : []),
    ...(sound.some(({ codec }) => codec === null) ? ['Sound was left out that FFmpeg has no name for.'] : []),
    ...(sound.some(({ codec, unchanged }) => codec !== null && !unchanged)
      ? ['The sound was coded anew, for this kind of file cannot hold it as it is.']
      : []),
  ];
}
