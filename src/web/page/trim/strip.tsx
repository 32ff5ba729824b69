/** The strip of frames along a clip with its handles: in, out and the playhead, moved by pointer, touch and keys. */
import { useEffect, useRef, useState } from 'preact/hooks';
import { trimTexts } from '../../../texts/index.js';
import type { ClipEntry, Posters } from '../../api.js';
import { getJson } from '../api-client.js';
import { cellsOf, frameAtShare, frameOfKey, heldTo, reachOf, type Handle } from './handles.js';
import { framesOf, framesOfSecond, labelOf, timeOfFrame } from '../../stretch.js';
import { useWidth } from './use-width.js';

/** Height of the frames in the strip, px; as in trim.css. */
const POSTER_PX = 56;

/** Where the handles stand, and who is told when one moves. */
export interface StripProps {
  readonly clip: ClipEntry;
  readonly inFrame: number;
  readonly outFrame: number;
  readonly headFrame: number;
  readonly onMove: (handle: Handle, frame: number) => void;
}

/** Shows it. */
export function Strip({ clip, inFrame, outFrame, headFrame, onMove }: StripProps) {
  const [ref, widthPx] = useWidth<HTMLDivElement>();
  const posters = usePosters(clip);
  const frames = framesOf(clip);
  const grab = useRef<{ readonly handle: Handle; readonly offsetPx: number } | null>(null);
  const places = { frames, inFrame, outFrame };
  const at: Record<Handle, number> = { in: inFrame, out: outFrame, head: headFrame };

  const shareAt = (clientX: number): number => {
    const box = ref.current?.getBoundingClientRect();
    return box === undefined || box.width === 0 ? 0 : (clientX - box.left) / box.width;
  };
  const moveTo = (handle: Handle, share: number): void =>
    onMove(handle, heldTo(frameAtShare(handle, share, frames), reachOf(handle, places)));
  const onPointerDown = (event: PointerEvent & { readonly currentTarget: HTMLElement }): void => {
    if (event.button !== 0) return;
    const handle = handleOf(event.target);
    event.currentTarget.setPointerCapture(event.pointerId);
    // A handle is taken where it is touched and does not jump under the finger; anywhere else the playhead comes there.
    const edgePx = (at[handle ?? 'head'] / frames) * widthPx;
    const offsetPx = handle === null || handle === 'head' ? 0 : shareAt(event.clientX) * widthPx - edgePx;
    grab.current = { handle: handle ?? 'head', offsetPx };
    if (handle === null) moveTo('head', shareAt(event.clientX));
  };
  const onPointerMove = (event: PointerEvent): void => {
    if (grab.current === null) return;
    const { handle, offsetPx } = grab.current;
    moveTo(handle, shareAt(event.clientX - offsetPx));
  };
  const letGo = (): void => {
    grab.current = null;
  };

  const slider = (handle: Handle, name: string) => (
    <Slider
      {...{ handle, name, clip, frames }}
      frame={at[handle]}
      reach={reachOf(handle, places)}
      onMove={(frame) => onMove(handle, frame)}
    />
  );
  const cells = Math.max(1, Math.round(widthPx / ((POSTER_PX * clip.widthPx) / clip.heightPx)));
  return (
    <div
      class="trim-strip"
      role="group"
      aria-label={trimTexts.strip}
      onPointerDown={onPointerDown}
      onPointerMove={onPointerMove}
      onPointerUp={letGo}
      onPointerCancel={letGo}
    >
      <div ref={ref} class="trim-track">
        <div class="trim-posters" aria-hidden="true">
          {posters !== null &&
            cellsOf(posters.atS, clip.durationS, cells).map((n, cell) => (
              <img key={cell} src={`/api/clips/${clip.id}/posters/${n}`} alt="" draggable={false} />
            ))}
        </div>
        <span class="trim-shade" style={{ left: 0, width: percent(inFrame, frames) }} />
        <span class="trim-shade" style={{ left: percent(outFrame, frames), right: 0 }} />
        <span
          class="trim-kept"
          style={{ left: percent(inFrame, frames), width: percent(outFrame - inFrame, frames) }}
        />
        {slider('in', trimTexts.inHandle)}
        {slider('out', trimTexts.outHandle)}
        {slider('head', trimTexts.playhead)}
      </div>
    </div>
  );
}

/** One handle. */
function Slider({
  handle,
  name,
  clip,
  frames,
  frame,
  reach,
  onMove,
}: {
  readonly handle: Handle;
  readonly name: string;
  readonly clip: ClipEntry;
  readonly frames: number;
  readonly frame: number;
  readonly reach: readonly [number, number];
  readonly onMove: (frame: number) => void;
}) {
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const to = frameOfKey(event.key, event.shiftKey, frame, framesOfSecond(clip), reach);
    if (to === null) return;
    // The key has done its work here: the page must not step the playhead as well, or scroll.
    event.preventDefault();
    event.stopPropagation();
    onMove(to);
  };
  return (
    <span
      class={`trim-handle ${handle}`}
      data-handle={handle}
      role="slider"
      tabIndex={0}
      aria-label={name}
      aria-valuemin={reach[0]}
      aria-valuemax={reach[1]}
      aria-valuenow={frame}
      aria-valuetext={trimTexts.spoken(labelOf(frame, clip), timeOfFrame(frame, clip).toFixed(2))}
      style={{ left: percent(handle === 'head' ? frame + 0.5 : frame, frames) }}
      onKeyDown={onKeyDown}
    />
  );
}

function handleOf(target: EventTarget | null): Handle | null {
  const name =
    target instanceof Element ? target.closest('[data-handle]')?.getAttribute('data-handle') : null;
  return name === 'in' || name === 'out' || name === 'head' ? name : null;
}

function percent(frame: number, frames: number): string {
  return `${((100 * frame) / frames).toFixed(3)}%`;
}

/** The posters of a clip; null until they are there, and where they cannot be made: the handles work without. */
function usePosters({ id }: ClipEntry): Posters | null {
  const [posters, setPosters] = useState<Posters | null>(null);
  useEffect(() => {
    let isCurrent = true;
    setPosters(null);
    getJson<Posters>(`/api/clips/${id}/posters`).then(
      (found) => isCurrent && setPosters(found),
      () => undefined,
    );
    return () => {
      isCurrent = false;
    };
  }, [id]);
  return posters;
}
