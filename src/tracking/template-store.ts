/** The templates of a worker's tracks: cut where a track starts, found again in each later frame; lengths in analysis pixels. */
import type { Placement, Points, Template, TemplateCutter } from '../vision/index.js';
import type { Followed } from './protocol.js';

/** Largest weighted residual of a template that is there: share of its contrast, plus grey levels for noise. */
const RESIDUAL = { contrastShare: 0.45, grey: 1.5 } as const;

/** Largest change of any of the four terms of the deformation since the cut. */
const MOST_DEFORMED = 0.6;

interface Held {
  readonly template: Template;
  /** Deformation is carried from frame to frame. */
  readonly place: Readonly<Placement>;
}

/**
 * Templates by track. They are cut from the blurred picture that Lucas-Kanade works on, before rounding: detail finer than
 * the blur carries more coding and interpolation error than information. A template serves for the life of its track: to
 * cut it anew on the way gained nothing on made-up push-ins.
 */
export class TemplateStore {
  readonly #cutter: TemplateCutter;
  readonly #reachPx: number;
  #held = new Map<number, Held>();
  #before = this.#held;

  /** @param reachPx largest distance between a point and where its template puts it */
  constructor(cutter: TemplateCutter, reachPx: number) {
    this.#cutter = cutter;
    this.#reachPx = reachPx;
  }

  /** Cuts templates in the current picture. A point too near to the border gets none and is lost when it is refined. */
  cut(tracks: Int32Array, points: Points): void {
    for (let i = 0; i < tracks.length; i++) {
      const place = { xPx: points.xPx[i], yPx: points.yPx[i], xx: 1, xy: 0, yx: 0, yy: 1 };
      const template = this.#cutter.cut(place.xPx, place.yPx);
      if (template) this.#held.set(tracks[i], { template, place });
    }
  }

  /** Refines those of the points that were kept in the current picture; templates of other tracks and of lost ones are dropped. */
  refine(tracks: Int32Array, followed: Followed): Followed {
    const count = tracks.length;
    const refined: Followed = {
      xPx: followed.xPx.slice(),
      yPx: followed.yPx.slice(),
      kept: new Uint8Array(count),
      searched: followed.searched,
    };
    const held = new Map<number, Held>();
    for (let i = 0; i < count; i++) {
      const one = followed.kept[i] ? this.#held.get(tracks[i]) : undefined;
      const place = one && this.#find(one, followed.xPx[i], followed.yPx[i]);
      if (!place) continue;
      refined.xPx[i] = place.xPx;
      refined.yPx[i] = place.yPx;
      refined.kept[i] = 1;
      held.set(tracks[i], { template: one.template, place });
    }
    this.#before = this.#held;
    this.#held = held;
    return refined;
  }

  /** Takes back the latest `refine`. */
  undo(): void {
    this.#held = this.#before;
  }

  /** Where a template lies near the point; null when it is not there. */
  #find({ template, place: before }: Held, xPx: number, yPx: number): Placement | null {
    const place = { ...before, xPx, yPx };
    const { found, residualGrey } = template.find(place);
    const allowed = RESIDUAL.contrastShare * template.contrastGrey + RESIDUAL.grey;
    const deformed = Math.max(
      Math.abs(place.xx - 1),
      Math.abs(place.xy),
      Math.abs(place.yx),
      Math.abs(place.yy - 1),
    );
    const isThere =
      found &&
      Math.hypot(place.xPx - xPx, place.yPx - yPx) < this.#reachPx &&
      residualGrey < allowed &&
      deformed < MOST_DEFORMED;
    return isThere ? place : null;
  }
}
