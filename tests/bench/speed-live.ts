/** How long sliders wait for an answer, and for the trade-off beside it, on passes of 6, 30 and 120 s; ms and share of the long answer. */
import { LiveAsker, whatIf, type MeasuredPass, type WhatIfWish } from '../../src/judge/index.js';
import { rolledPass, verdictOf } from '../judge/advice/support/rolled-pass.js';
import { medianMs } from './median-ms.js';

/** Prints the table; each question is one that was not asked before. */
export function printLiveTable(write: (text: string) => void): void {
  write(
    '\nAnswers while sliders move, 25 fps, median of five\n\n| pass | question | answer, ms | trade-off, ms | over what if |\n|---|---|---|---|---|\n',
  );
  for (const durationS of [6, 30, 120]) {
    const pass = rolledPass({ seed: 3, gdM3: 8e-6, speedMps: 0.25, durationS });
    const verdict = verdictOf(pass);
    const longMs = medianMs(() => whatIf(pass, { focalLengthMm: 50 }, { verdict }), 1);
    for (const [name, wish] of QUESTIONS) {
      const { answerMs, curveMs } = liveMs(pass, verdict, wish);
      write(
        `| ${durationS} s | ${name} | ${answerMs.toFixed(1)} | ${curveMs.toFixed(1)} | ${(answerMs / longMs).toFixed(3)} |\n`,
      );
    }
  }
}

/** The n-th of a slider's values. */
const QUESTIONS: readonly (readonly [string, (n: number) => WhatIfWish])[] = [
  ['lens', (n) => ({ focalLengthMm: 40 + n })],
  ['speed', (n) => ({ speedMps: 0.2 + 0.013 * n })],
  ['smoothing', (n) => ({ smoothingS: 0.5 + 0.01 * n })],
  ['limits', (n) => ({ delivery: { maxCropPercent: 2 + n } })],
];

function liveMs(
  pass: MeasuredPass,
  verdict: ReturnType<typeof verdictOf>,
  wish: (n: number) => WhatIfWish,
): { answerMs: number; curveMs: number } {
  const asker = new LiveAsker(pass, { verdict });
  asker.curve({});
  let n = 0;
  const answerMs = medianMs(() => asker.answer(wish(n++)));
  // The answers of these are known: what is timed is the trade-off alone.
  let m = n;
  const timed = Array.from({ length: 6 }, () => wish(n++));
  for (const one of timed) asker.answer(one);
  const curveMs = medianMs(() => asker.curve(wish(m++)));
  return { answerMs, curveMs };
}
