/** A chosen clip: how far its upload is, then what it is, or why it was refused. */
import { useEffect, useRef } from 'preact/hooks';
import { startTexts, workTexts } from '../../../texts/index.js';
import type { ClipEntry, Settings } from '../../api.js';
import { readStretch } from '../../stretch.js';
import { labelOf } from '../../stretch.js';
import { useSteadyLeft } from '../queue/use-steady-left.js';
import { select, type BatchClip, type ClipState } from './batch.js';
import { rateWords, sizeWords } from './clip-figures.js';
import { takeOff } from './send-clips.js';

/** Shows it. */
export function ClipRow({ row, isSelected }: { readonly row: BatchClip; readonly isSelected: boolean }) {
  const state = row.state.value;
  const fault = state.kind === 'refused' ? state.detail : row.orderFault.value;
  const item = useRef<HTMLLIElement>(null);
  useEffect(() => {
    if (isSelected) showInList(item.current);
  }, [isSelected, fault]);
  const isOver = state.kind === 'ready' || state.kind === 'refused';
  return (
    <li ref={item} class={`clip-row ${state.kind}${isSelected ? ' selected' : ''}`}>
      {state.kind === 'ready' ? (
        <button
          type="button"
          class="clip-name"
          aria-current={isSelected ? 'true' : undefined}
          onClick={() => select(row.key)}
        >
          {row.name}
        </button>
      ) : (
        <span class="clip-name">{row.name}</span>
      )}
      <button
        type="button"
        class="clip-off"
        aria-label={isOver ? startTexts.removeOf(row.name) : startTexts.cancelOf(row.name)}
        onClick={() => takeOff(row)}
      >
        {isOver ? startTexts.remove : startTexts.cancel}
      </button>
      <div class="clip-facts">
        {state.kind === 'ready' ? (
          <Facts row={row} clip={state.clip} />
        ) : (
          <Progress row={row} state={state} />
        )}
      </div>
      {fault !== null && (
        <div class="clip-fault">
          <p class="fault" role="alert">
            {fault}
          </p>
          {state.kind === 'ready' && (
            <button type="button" onClick={() => (row.orderFault.value = null)}>
              {startTexts.dismissFault}
            </button>
          )}
        </div>
      )}
    </li>
  );
}

function Progress({ row, state }: { readonly row: BatchClip; readonly state: ClipState }) {
  const left = useSteadyLeft(state.kind === 'sending' ? state.pace.leftS : null);
  if (state.kind === 'refused' || state.kind === 'ready') return null;
  const sentBytes = state.kind === 'sending' ? state.sentBytes : 0;
  return (
    <>
      <progress
        max={row.sizeBytes}
        value={state.kind === 'opening' ? undefined : sentBytes}
        aria-label={startTexts.sending(row.name)}
      />
      {state.kind !== 'sending' ? (
        <p>
          {sizeWords(row.sizeBytes)}, {state.kind === 'waiting' ? startTexts.waits : startTexts.opening}
        </p>
      ) : (
        <p class="clip-pace">
          <span>{startTexts.sent(sizeWords(sentBytes), sizeWords(row.sizeBytes))}</span>
          <span>
            {state.pace.bytesPerS === null ? '' : startTexts.speed(sizeWords(state.pace.bytesPerS))}
          </span>
          <span>{left === null ? '' : workTexts.left(left)}</span>
        </p>
      )}
    </>
  );
}

function Facts({ row, clip }: { readonly row: BatchClip; readonly clip: ClipEntry }) {
  const typed = row.stretch.value;
  const { inFrame, outFrame, inFault, outFault } = readStretch(typed, clip);
  const isCut = typed.in !== undefined || typed.out !== undefined;
  const rate = rateWords(clip.fpsFraction);
  return (
    <p>
      {startTexts.size(clip.widthPx, clip.heightPx)},{' '}
      {clip.variableRate ? startTexts.rateVaries(rate) : startTexts.rate(rate)},{' '}
      {startTexts.seconds(clip.durationS.toFixed(2))},{' '}
      {clip.timecodeStart === null ? startTexts.fromClipStart : startTexts.sourceTimecode(clip.timecodeStart)}
      {row.rig.value !== null && (
        <span class="clip-rig">{startTexts.rigFile(rigFigures(row.rig.value, row.own.value))}</span>
      )}
      {isCut && inFault === null && outFault === null && (
        <span class="clip-cut">{startTexts.stretch(labelOf(inFrame, clip), labelOf(outFrame, clip))}</span>
      )}
    </p>
  );
}

/** Scrolls the list alone, not the page. */
function showInList(item: HTMLElement | null): void {
  const list = item?.parentElement;
  if (!item || !list) return;
  const top = item.offsetTop;
  if (top < list.scrollTop) list.scrollTop = top;
  const over = top + item.offsetHeight - list.clientHeight;
  if (over > list.scrollTop) list.scrollTop = over;
}

/** What of a rig file counts for the clip, lens and speed first; nothing of what was typed in its place. */
function rigFigures(rig: Settings, own: Settings): readonly string[] {
  return ['focal', 'speed', 'travel']
    .filter((name) => rig[name] !== undefined && own[name] === rig[name])
    .slice(0, 2)
    .map((name) => rig[name].replace(/(\d)([a-z])/i, '$1\u00a0$2'));
}
