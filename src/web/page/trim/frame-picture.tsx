/** The frame under the playhead, large: the last one stays until the next is there. */
import { useEffect, useRef, useState } from 'preact/hooks';
import { trimTexts } from '../../../texts/index.js';
import type { ClipEntry } from '../../api.js';
import { newestOnly, type NewestOnly } from './newest-only.js';
import { labelOf, timeOfFrame } from '../../stretch.js';
import { useWidth } from './use-width.js';

/** Widths that frames are asked for in, px: few, so that a window that changes a little asks for nothing new. */
const WIDTHS_PX = [480, 800, 1280, 1920];

/** What is shown. */
interface Shown {
  readonly src: string | null;
  readonly failed: boolean;
}

/** Which frame, and how. */
export interface FramePictureProps {
  readonly clip: ClipEntry;
  /** Number from the head of the clip. */
  readonly frame: number;
  /** While the clip plays small frames do, so that more of them come. */
  readonly isPlaying: boolean;
}

/** Shows it. */
export function FramePicture({ clip, frame, isPlaying }: FramePictureProps) {
  const [ref, boxPx] = useWidth<HTMLDivElement>();
  const [shown, setShown] = useState<Shown>({ src: null, failed: false });
  const loader = useRef<NewestOnly<string> | null>(null);
  const src = boxPx === 0 ? null : addressOf(clip, frame, isPlaying ? 0 : boxPx);

  useEffect(() => {
    setShown({ src: null, failed: false });
    const loading = newestOnly(loadPicture, (wanted: string, done: true | null) =>
      setShown((last) => (done ? { src: wanted, failed: false } : { ...last, failed: true })),
    );
    loader.current = loading;
    return () => loading.close();
  }, [clip.id]);

  useEffect(() => {
    if (src !== null) loader.current?.want(src);
  }, [src]);

  const ratio = `${clip.widthPx} / ${clip.heightPx}`;
  return (
    <div
      ref={ref}
      class="trim-frame"
      style={{ aspectRatio: ratio, '--ratio': String(clip.widthPx / clip.heightPx) }}
    >
      {shown.src !== null && (
        <img src={shown.src} alt={trimTexts.frameAt(labelOf(frame, clip))} draggable={false} />
      )}
      {shown.src === null && !shown.failed && <p>{trimTexts.loading}</p>}
      {shown.failed && <p class="failed">{trimTexts.noFrame}</p>}
    </div>
  );
}

/** Asked for in the middle of the frame, so that no rounding shows its neighbour. */
function addressOf(clip: ClipEntry, frame: number, boxPx: number): string {
  const wantedPx = boxPx * Math.min(2, window.devicePixelRatio);
  const widthPx = WIDTHS_PX.find((px) => px >= wantedPx) ?? WIDTHS_PX[WIDTHS_PX.length - 1];
  const atS = timeOfFrame(frame + 0.5, clip).toFixed(5);
  return `/api/clips/${clip.id}/frame?at=${atS}&width=${Math.min(widthPx, clip.widthPx)}`;
}

async function loadPicture(src: string): Promise<true> {
  const image = new Image();
  image.src = src;
  await image.decode();
  return true;
}
