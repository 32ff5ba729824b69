/** The frame that was kept with a run, with the crop window drawn on it: what there is to see without the clip. */
import { useMemo, useState } from 'preact/hooks';
import { playerTexts } from '../../../../texts/index.js';
import { FrameMesh, outlineOf, type PlayedView } from './frame-mesh.js';

/** Width of the drawing over the picture; any does. */
const DRAWN_WIDTH = 1000;

/** The kept frame. @param atS when it was shot, seconds; null where that is not known: then no window is drawn */
export function StillPicture({
  id,
  view,
  atS,
  shape,
}: {
  readonly id: number;
  readonly view: PlayedView | null;
  readonly atS: number | null;
  /** Height per width of the clip. */
  readonly shape: number;
}) {
  const [gone, setGone] = useState(false);
  const outline = useMemo(
    () => (view === null || atS === null ? null : outlineOf(new FrameMesh(view).places(atS))),
    [view, atS],
  );
  if (gone) return <p class="empty">{playerTexts.noStill}</p>;
  const height = DRAWN_WIDTH * shape;
  const points = outline && pathOf(outline, height);
  return (
    <figure class="stage still" style={{ '--frame': String(1 / shape) }}>
      <img
        src={`/api/runs/${id}/picture`}
        alt={outline === null ? playerTexts.stillBare : playerTexts.still}
        onError={() => setGone(true)}
      />
      {points !== null && (
        <svg viewBox={`0 0 ${DRAWN_WIDTH} ${height}`} aria-hidden="true">
          <path class="still-shade" fill-rule="evenodd" d={`M0 0H${DRAWN_WIDTH}V${height}H0z${points}`} />
          <path class="still-edge" d={points} />
          <path class="still-window" d={points} />
        </svg>
      )}
    </figure>
  );
}

function pathOf(outline: Float32Array, height: number): string {
  const parts: string[] = [];
  for (let i = 0; i < outline.length; i += 2)
    parts.push(`${(DRAWN_WIDTH * outline[i]).toFixed(1)} ${(height * outline[i + 1]).toFixed(1)}`);
  return `M${parts.join('L')}z`;
}
