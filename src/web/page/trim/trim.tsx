/** In and out of a clip: the frame under the playhead, a strip with handles, fields for timecode, frames or seconds. */
import { useSignal, type Signal } from '@preact/signals';
import { labelAsCounted } from '../../../run/index.js';
import { trimTexts } from '../../../texts/index.js';
import type { ClipEntry } from '../../api.js';
import { useKeys } from '../keys.js';
import { FramePicture } from './frame-picture.js';
import { heldTo, lookedAt, type Handle } from './handles.js';
import { PointField } from './point-field.js';
import {
  framesOf,
  framesOfSecond,
  labelOf,
  pointText,
  readStretch,
  timeOfFrame,
  withPoint,
  type TypedStretch,
} from '../../stretch.js';
import { Strip } from './strip.js';
import { useShuttle } from './use-shuttle.js';

/** A clip and what of it is measured. Texts that cannot be read stay in the value; `readStretch` tells what is wrong with them. */
export interface TrimProps {
  readonly clip: ClipEntry;
  readonly value: Signal<TypedStretch>;
}

/** Shows it; give it a key by clip, so that each has its own playhead. */
export function Trim({ clip, value }: TrimProps) {
  const frames = framesOf(clip);
  const typed = value.value;
  const stretch = readStretch(typed, clip);
  const head = useSignal(Math.min(stretch.inFrame, frames - 1));
  const shuttle = useShuttle(head, { fps: clip.fps, frames });

  const look = (frame: number): void => {
    shuttle.stop();
    head.value = heldTo(frame, [0, frames - 1]);
  };
  const setPoint = (point: 'in' | 'out', text: string | null): void => {
    value.value = withPoint(value.peek(), point, labelAsCounted(text ?? '', clip.timecodeStart));
  };
  const setFrame = (point: 'in' | 'out', frame: number): void =>
    setPoint(point, frame === (point === 'in' ? 0 : frames) ? null : pointText(frame, clip));
  const move = (handle: Handle, frame: number): void => {
    if (handle !== 'head') setFrame(handle, frame);
    look(lookedAt(handle, frame));
  };
  const markIn = (): void => {
    if (head.value >= stretch.outFrame) setPoint('out', null);
    setFrame('in', head.value);
  };
  const markOut = (): void => {
    if (head.value < stretch.inFrame) setPoint('in', null);
    setFrame('out', head.value + 1);
  };
  const { keys } = trimTexts;
  const perSecond = framesOfSecond(clip);
  const stepBy = (count: number) => (): void => look(head.peek() + count);
  useKeys([
    { key: 'ArrowLeft', what: keys.step, run: stepBy(-1) },
    { key: 'ArrowRight', what: keys.step, run: stepBy(1) },
    { key: 'Shift+ArrowLeft', what: keys.second, run: stepBy(-perSecond) },
    { key: 'Shift+ArrowRight', what: keys.second, run: stepBy(perSecond) },
    { key: 'Home', what: keys.ends, run: () => look(0) },
    { key: 'End', what: keys.ends, run: () => look(frames - 1) },
    { key: 'i', what: keys.markIn, run: markIn },
    { key: 'o', what: keys.markOut, run: markOut },
    { key: ' ', what: keys.play, run: shuttle.playOrStop },
    { key: 'k', what: keys.play, run: shuttle.playOrStop },
    { key: 'j', what: keys.shuttle, run: () => shuttle.faster(-1) },
    { key: 'l', what: keys.shuttle, run: () => shuttle.faster(1) },
  ]);

  const { inFrame, outFrame, inFault, outFault, tooShort, note } = stretch;
  const held = Math.max(0, outFrame - inFrame);
  const isWhole = typed.in === undefined && typed.out === undefined;
  return (
    <section class="trim" aria-label={trimTexts.title}>
      <FramePicture clip={clip} frame={head.value} isPlaying={shuttle.speed !== 0} />
      <div class="trim-buttons">
        <output class="trim-at" aria-live="off">
          {labelOf(head.value, clip)}
        </output>
        <button type="button" onClick={() => look(head.value - 1)} disabled={head.value === 0}>
          {trimTexts.back}
        </button>
        <button type="button" class="trim-play" onClick={shuttle.playOrStop}>
          {shuttle.speed === 0 ? trimTexts.play : trimTexts.stop}
        </button>
        <button type="button" onClick={() => look(head.value + 1)} disabled={head.value === frames - 1}>
          {trimTexts.forward}
        </button>
        <span class="trim-speed">
          {shuttle.speed === 0 || shuttle.speed === 1 ? '' : trimTexts.shuttle(shuttle.speed)}
        </span>
      </div>
      <Strip {...{ clip, inFrame, outFrame }} headFrame={head.value} onMove={move} />
      <div class="trim-buttons trim-marks">
        <button type="button" onClick={markIn}>
          {trimTexts.markIn}
        </button>
        <button type="button" onClick={markOut}>
          {trimTexts.markOut}
        </button>
        <button type="button" onClick={() => (value.value = {})} disabled={isWhole}>
          {trimTexts.whole}
        </button>
      </div>
      <div class="trim-points">
        <PointField
          label={trimTexts.in}
          text={typed.in ?? labelOf(0, clip)}
          fault={inFault}
          note={trimTexts.howToWrite(labelOf(2 * perSecond, clip))}
          onText={(text) => setPoint('in', text)}
        />
        <PointField
          label={trimTexts.out}
          text={typed.out ?? labelOf(frames, clip)}
          fault={outFault}
          note={trimTexts.outMeans}
          onText={(text) => setPoint('out', text)}
        />
        <div class="trim-length">
          <p>
            {trimTexts.length(timeOfFrame(held, clip).toFixed(2), held)}
            {isWhole && `, ${trimTexts.wholeClip}`}
          </p>
          <p class="legend">
            {clip.timecodeStart === null ? trimTexts.clipTimecode : trimTexts.sourceTimecode}
          </p>
        </div>
      </div>
      <p class={tooShort === null ? 'legend trim-said' : 'fault trim-said'} role="status">
        {tooShort ?? note ?? ''}
      </p>
    </section>
  );
}
