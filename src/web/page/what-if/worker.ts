/** Answers questions to one stored run beside the page: always the latest, first the figures, then the trade-off. */
import { LiveAsker, passOfRun } from '../../../judge/index.js';
import type { ToWorker, FromWorker } from './messages.js';

/** The part of a worker's scope that is used here. */
interface Scope {
  onmessage: ((event: { readonly data: ToWorker }) => void) | null;
  postMessage(message: FromWorker): void;
}

const scope = self as unknown as Scope;
let asker: LiveAsker | null = null;
/** The question that waits; a later one takes its place. */
let latest: Extract<ToWorker, { kind: 'ask' }> | null = null;

scope.onmessage = ({ data }) => {
  if (data.kind === 'pass') {
    const { run, series, deliveries } = data;
    asker = new LiveAsker(passOfRun(run, series), { presets: deliveries, verdict: run.verdict });
    return;
  }
  const waits = latest !== null;
  latest = data;
  // What came meanwhile is read first.
  if (!waits) setTimeout(answerLatest);
};

function answerLatest(): void {
  const asked = latest;
  latest = null;
  if (asker === null || asked === null) return;
  const { number, wish } = asked;
  try {
    scope.postMessage({ kind: 'answer', number, answer: asker.answer(wish) });
    drawOn(number, asker.curveInSteps(wish));
  } catch (error) {
    // A figure out of reach, as an address may hold it; anything else is a fault of the program.
    if (!(error instanceof RangeError)) throw error;
    scope.postMessage({ kind: 'refused', number });
  }
}

/** The trade-off takes longer, so it is found a point at a time: a question that came meanwhile goes first. */
function drawOn(number: number, steps: ReturnType<LiveAsker['curveInSteps']>): void {
  setTimeout(() => {
    if (latest !== null) return;
    const { done, value } = steps.next();
    if (done === true) scope.postMessage({ kind: 'curve', number, curve: value });
    else drawOn(number, steps);
  });
}
