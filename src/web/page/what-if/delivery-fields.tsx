/** Which delivery the pass is held against, and limits of one's own over it. */
import { useId } from 'preact/hooks';
import type { LiveAnswer } from '../../../judge/index.js';
import { askTexts } from '../../../texts/index.js';
import type { About } from '../../api.js';
import type { Asked } from './asked.js';
import { NumberField } from './number-field.js';
import type { AskRanges } from './slider-ranges.js';
import { LIMIT_REACH } from './typed-figure.js';

/** Shows them. */
export function DeliveryFields({
  ranges: { delivery: measured },
  asked,
  answer,
  deliveries,
  onChange,
}: {
  readonly ranges: AskRanges;
  readonly asked: Asked;
  readonly answer: LiveAnswer | null;
  readonly deliveries: About['deliveries'];
  readonly onChange: (change: Asked) => void;
}) {
  const id = useId();
  const named = asked.delivery === undefined ? measured : (deliveries[asked.delivery] ?? measured);
  const limits = answer?.refused === null && sameLimitsAsked(asked, answer) ? answer.delivery : named;
  const mine = ({ name, widthPx, heightPx }: typeof measured): string =>
    askTexts.deliveryWords(name, widthPx, heightPx);
  return (
    <>
      <div class="ask-field ask-delivery">
        <label for={id}>{askTexts.fields.delivery}</label>
        <select
          id={id}
          value={asked.delivery ?? ''}
          onChange={({ currentTarget: { value } }) =>
            onChange({ delivery: value === '' ? undefined : value, maxCrop: undefined, maxLeft: undefined })
          }
        >
          <option value="">{askTexts.asInPass(mine(measured))}</option>
          {Object.entries(deliveries).map(([name, one]) => (
            <option key={name} value={name}>
              {mine({ ...one, name })}
            </option>
          ))}
        </select>
      </div>
      <div class="ask-field">
        <label for={`${id}-crop`}>{askTexts.fields.maxCrop}</label>
        <NumberField
          id={`${id}-crop`}
          kind="maxCrop"
          reach={LIMIT_REACH.maxCrop}
          value={asked.maxCrop ?? limits.maxCropPercent}
          onChange={(maxCrop) => onChange({ maxCrop })}
        />
      </div>
      <div class="ask-field">
        <label for={`${id}-left`}>{askTexts.fields.maxLeft}</label>
        <NumberField
          id={`${id}-left`}
          kind="maxLeft"
          reach={LIMIT_REACH.maxLeft}
          value={asked.maxLeft ?? limits.maxResidualPx}
          onChange={(maxLeft) => onChange({ maxLeft })}
        />
      </div>
    </>
  );
}

/** While another delivery is worked out the answer holds the limits of the one before. */
function sameLimitsAsked({ delivery }: Asked, answer: LiveAnswer): boolean {
  return delivery === undefined || answer.delivery.name === delivery;
}
