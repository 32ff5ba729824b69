/** Questions beside the verdict of a run: lens, speed, smoothing, delivery and way, answered in the browser while they are changed. */
import { useId } from 'preact/hooks';
import type { LiveAnswer } from '../../../judge/index.js';
import { inUnits, type RunSeries } from '../../../run/index.js';
import { STABILISE_MODES } from '../../../stabilise/index.js';
import { askTexts, askedAnswerTexts } from '../../../texts/index.js';
import type { About, StoredRun } from '../../api.js';
import { said } from '../parts/said.js';
import { AnswerFigures, sameFraming } from './answer-figures.js';
import { asksNothing } from './asked.js';
import { DeliveryFields } from './delivery-fields.js';
import { LiveCurve } from './live-curve.js';
import { SliderField } from './slider-field.js';
import { asSet } from './typed-figure.js';
import { useAsking } from './use-asking.js';

/** What the panel is given. */
export interface WhatIfPanelProps {
  readonly stored: StoredRun;
  readonly about: About;
  /** Hears every answer, the one as measured first. */
  readonly onAnswer: (answer: LiveAnswer) => void;
}

/** The panel; nothing for a run that was kept without its motion. */
export function WhatIfPanel({ stored, about, onAnswer }: WhatIfPanelProps) {
  const { series } = stored;
  return series === null ? null : <Panel {...{ stored, series, about, onAnswer }} />;
}

function Panel({ stored, series, about, onAnswer }: WhatIfPanelProps & { readonly series: RunSeries }) {
  const id = useId();
  const { units } = stored.run;
  const { ranges, asked, answer, curve, isWorking, trouble, change, reset } = useAsking(
    stored,
    series,
    about,
    onAnswer,
  );
  const { fields } = askTexts;
  const { lens, lensInMm, speed, speedRefused, smoothing } = ranges;
  const way = asked.mode ?? (asked.smoothing === undefined ? ranges.mode : 'keepMove');
  const refused =
    trouble === null
      ? (answer?.refused ?? null)
      : trouble === 'failed'
        ? askTexts.failed
        : askTexts.outOfReach;
  const framing = answer === null || refused !== null ? null : sameFraming(answer);
  const inWords = (words: (printed: string) => string) => (value: number) =>
    inUnits(words(asSet(value)), units);
  return (
    <section class="ask" aria-labelledby={id}>
      <header class="ask-head">
        <h2 id={id}>{askTexts.title}</h2>
        <span class="ask-state" role="status">
          {isWorking ? (way === 'smoothest' ? askTexts.smoothestSlow : askTexts.working) : ''}
        </span>
        <button type="button" aria-disabled={asksNothing(asked)} onClick={reset}>
          {askTexts.back}
        </button>
      </header>
      <AnswerFigures answer={refused === null ? answer : null} />
      <div class="ask-fields">
        <SliderField
          name={lensInMm ? fields.lens : fields.lensTimes}
          kind={lensInMm ? 'lens' : 'lensTimes'}
          range={lens}
          value={asked.lens ?? lens.measured}
          words={lensInMm ? (value) => askTexts.mm(asSet(value)) : inWords(askTexts.times)}
          onChange={(value) => change({ lens: value })}
        />
        {speed === null ? (
          <div class="ask-slider">
            <span class="ask-name">{fields.speed}</span>
            <p class="ask-why">{speedRefused}</p>
          </div>
        ) : (
          <SliderField
            name={fields.speed}
            kind="speed"
            range={speed}
            value={asked.speed ?? speed.measured}
            words={inWords(askTexts.mps)}
            onChange={(value) => change({ speed: value })}
          />
        )}
        {smoothing !== null && (
          <SliderField
            name={fields.smoothing}
            kind="smoothing"
            range={smoothing}
            value={asked.smoothing ?? smoothing.measured}
            words={inWords(askTexts.seconds)}
            onChange={(value) => change({ smoothing: value })}
            disabled={way !== 'keepMove'}
            {...(way !== 'keepMove' && { note: askTexts.smoothingOnly })}
          />
        )}
        <fieldset class="ask-ways">
          <legend>{fields.way}</legend>
          {STABILISE_MODES.map((mode) => (
            <label key={mode}>
              <input
                type="radio"
                name={`${id}-way`}
                checked={way === mode}
                onChange={() => change({ mode })}
              />
              {askTexts.ways[mode]}
            </label>
          ))}
        </fieldset>
        <DeliveryFields {...{ ranges, asked, answer }} deliveries={about.deliveries} onChange={change} />
      </div>
      {refused !== null && (
        <p class="ask-refused" role="alert">
          <b>{askTexts.notForetold}:</b> {said(refused, units)}
        </p>
      )}
      {framing !== null && <p class="ask-note">{framing}</p>}
      {answer !== null && answer.view.lacks !== null && (
        <p class="ask-note">{askedAnswerTexts.lacks[answer.view.lacks]}</p>
      )}
      {answer?.remark && <p class="ask-note">{said(answer.remark, units)}</p>}
      {answer !== null && answer.assumes.length > 0 && (
        <details class="ask-assumes">
          <summary>{askedAnswerTexts.assumes}</summary>
          <ul>
            {answer.assumes.map((one) => (
              <li key={one}>{said(one, units)}</li>
            ))}
          </ul>
        </details>
      )}
      {answer !== null && curve !== null && curve.length > 1 && <LiveCurve answer={answer} curve={curve} />}
    </section>
  );
}
