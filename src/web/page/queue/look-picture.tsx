/** What a measurement sees: the small grey frame, with a dot for each point that it follows. */
import { workTexts } from '../../../texts/index.js';
import type { Look } from '../../api.js';

/** Shows it; before the first frame the place is kept. */
export function LookPicture({ look, name }: { readonly look: Look | null; readonly name: string }) {
  if (look === null)
    return (
      <figure class="look">
        <div class="look-frame not-yet">
          <p>{workTexts.pictureComes}</p>
        </div>
        <figcaption class="legend">&nbsp;</figcaption>
      </figure>
    );
  const { widthPx, heightPx, picture, points } = look;
  return (
    <figure class="look">
      <div class="look-frame" style={{ aspectRatio: `${widthPx} / ${heightPx}` }}>
        <img src={picture} alt={workTexts.picture(name)} />
        <svg viewBox={`0 0 ${widthPx} ${heightPx}`} aria-hidden="true">
          <path class="look-points-edge" d={dotsPath(points)} />
          <path class="look-points" d={dotsPath(points)} />
        </svg>
      </div>
      <figcaption class="legend">{workTexts.points(Math.floor(points.length / 2))}</figcaption>
    </figure>
  );
}

/** A stroke of no length at each point: round caps make it a dot. Pixels have their middle on whole numbers. */
function dotsPath(points: readonly number[]): string {
  let d = '';
  for (let i = 0; i + 1 < points.length; i += 2)
    d += `M${(points[i] + 0.5).toFixed(1)} ${(points[i + 1] + 0.5).toFixed(1)}h0`;
  return d;
}
