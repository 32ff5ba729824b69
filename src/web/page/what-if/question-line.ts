/** The line to the worker that answers questions to one run: the latest question wins, answers that come late are dropped. */
import type { LiveAnswer, LivePoint, WhatIfWish } from '../../../judge/index.js';
import type { RunSeries } from '../../../run/index.js';
import type { About, StoredRun } from '../../api.js';
import type { FromWorker, ToWorker } from './messages.js';

/** What comes back; each with the wish that it is of. */
export interface AskListeners {
  readonly onAnswer: (answer: LiveAnswer) => void;
  readonly onCurve: (curve: readonly LivePoint[]) => void;
  /** A figure lies out of reach of the pass. */
  readonly onOutOfReach: () => void;
  /** The worker cannot start, or has failed. */
  readonly onFailed: () => void;
}

/** Answers until it is closed. */
export class QuestionLine {
  readonly #worker: Worker;
  readonly #listeners: AskListeners;
  /** Of the latest question. */
  #number = 0;

  constructor(
    { run }: StoredRun,
    series: RunSeries,
    { deliveries }: Pick<About, 'deliveries'>,
    listeners: AskListeners,
  ) {
    this.#listeners = listeners;
    this.#worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
    this.#worker.onmessage = ({ data }: MessageEvent<FromWorker>) => this.#hear(data);
    this.#worker.onerror = () => listeners.onFailed();
    this.#tell({ kind: 'pass', run, series, deliveries: withoutNames(deliveries) });
  }

  /** Asks; what was asked before and is not answered yet is forgotten. */
  ask(wish: WhatIfWish): void {
    this.#number++;
    this.#tell({ kind: 'ask', number: this.#number, wish });
  }

  /** Ends the worker. */
  close(): void {
    this.#worker.terminate();
  }

  #tell(message: ToWorker): void {
    this.#worker.postMessage(message);
  }

  #hear(message: FromWorker): void {
    const { onAnswer, onCurve, onOutOfReach } = this.#listeners;
    // An answer on the way to the latest is worth showing; a trade-off or a refusal of what is no longer asked is not.
    if (message.kind === 'answer') onAnswer(message.answer);
    else if (message.number !== this.#number) return;
    else if (message.kind === 'curve') onCurve(message.curve);
    else onOutOfReach();
  }
}

/** Presets are named by their place in the table. */
function withoutNames(deliveries: About['deliveries']): Extract<ToWorker, { kind: 'pass' }>['deliveries'] {
  return Object.fromEntries(
    Object.entries(deliveries).map(
      ([name, { widthPx, heightPx, maxCropPercent, maxResidualPx, viewingDistanceHeights }]) => [
        name,
        { widthPx, heightPx, maxCropPercent, maxResidualPx, viewingDistanceHeights },
      ],
    ),
  );
}
