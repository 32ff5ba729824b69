/** Makes the written frame from a recorded one: stabilised, put beside the original as the layout wants it. One per thread. */
import { outputFormat, type PlaneCodec, type PlaneFormat } from '../footage/index.js';
import { correctionAt } from '../stabilise/index.js';
import type { Samples } from '../vision/index.js';
import { planLayout, type LayoutPlan, type Placement } from './layout.js';
import { blacken, drawOutline, drawUpright } from './marks.js';
import { outputWindow, zoomAt, type OutputWindow } from './output-window.js';
import { OutsideMeter } from './outside.js';
import { emptyPlanes, planeGroups, sitAlike, type PlaneGroup } from './plane-drawing.js';
import { SourceGrid } from './source-grid.js';
import type { ProofLayout, StabilisedView } from './types.js';

/** All that a maker needs; can be handed to another thread. */
export interface FrameRecipe {
  readonly view: StabilisedView;
  /** Of the recorded frames. */
  readonly source: PlaneFormat;
  readonly codec: PlaneCodec;
  readonly layout: ProofLayout;
}

/** The sizes and formats that follow from a recipe. */
export interface FramePlan {
  readonly output: OutputWindow;
  /** Of the stabilised picture. */
  readonly stabilised: PlaneFormat;
  readonly layout: LayoutPlan;
  /** Of the written frames. */
  readonly written: PlaneFormat;
}

/** A frame as it is to be written. */
export interface MadeFrame {
  readonly planes: Samples[];
  /** See `OutsideMeter.distancePx`. */
  readonly outsidePx: number;
}

/** Works out sizes and formats. @throws RangeError as `outputWindow` */
export function planFrames({ view, source, codec, layout }: FrameRecipe): FramePlan {
  const output = outputWindow(source, view);
  const plan = planLayout(layout, source, output);
  return {
    output,
    stabilised: outputFormat(source, codec, output.widthPx, output.heightPx),
    layout: plan,
    written: outputFormat(source, codec, plan.widthPx, plan.heightPx),
  };
}

/** Makes frames of one recipe, in any order, the same each time. */
export class FrameMaker {
  readonly #recipe: FrameRecipe;
  readonly #plan: FramePlan;
  readonly #groups: readonly { readonly group: PlaneGroup; readonly grid: SourceGrid }[];
  readonly #meter: OutsideMeter;
  /** Brings the original to the written format; null where its samples sit as they should. */
  readonly #repack: readonly PlaneGroup[] | null;
  readonly #originalFormat: PlaneFormat;

  constructor(recipe: FrameRecipe) {
    const { view, source, codec } = recipe;
    const plan = planFrames(recipe);
    this.#recipe = recipe;
    this.#plan = plan;
    this.#groups = planeGroups(source, plan.stabilised).map((group) => ({
      group,
      grid: new SourceGrid(source, plan.output, view.camera, group.nodes),
    }));
    this.#meter = new OutsideMeter(source, plan.output, view);
    const upright = outputFormat(source, codec, source.widthPx, source.heightPx);
    const fits = plan.layout.original === null || sitAlike(source, upright);
    this.#originalFormat = fits ? source : upright;
    this.#repack = fits ? null : planeGroups(source, upright);
  }

  /**
   * Makes one frame.
   *
   * @param source planes of the recorded frame, not changed
   * @param timeS its time, seconds from the start of the clip
   */
  make(source: readonly Samples[], timeS: number): MadeFrame {
    const { view } = this.#recipe;
    const { layout, written, stabilised } = this.#plan;
    const turn = correctionAt(view.corrections, view.timeS, timeS);
    const zoom = zoomAt(view.window, view.timeS, timeS);
    const picture = emptyPlanes(stabilised);
    for (const { group, grid } of this.#groups) group.draw(source, grid.places(turn, zoom), picture);
    const outsidePx = this.#meter.distancePx(turn, zoom);
    if (layout.original === null) return { planes: picture, outsidePx };

    const planes = emptyPlanes(written);
    blacken(planes, written);
    put(this.#original(source), this.#originalFormat, planes, written, layout.original);
    put(picture, stabilised, planes, written, layout.stabilised);
    if (layout.splitXPx !== null) drawUpright(planes, written, layout.splitXPx);
    if (layout.showsWindow) this.#drawWindow(planes, zoom);
    return { planes, outsidePx };
  }

  #original(source: readonly Samples[]): readonly Samples[] {
    if (this.#repack === null) return source;
    const planes = emptyPlanes(this.#originalFormat);
    for (const group of this.#repack) {
      group.draw(source, { xPx: group.nodes.xPx.slice(), yPx: group.nodes.yPx.slice() }, planes);
    }
    return planes;
  }

  /** The window as it stands in a frame that needs no correction. */
  #drawWindow(planes: readonly Samples[], zoom: number): void {
    const { written, output, layout } = this.#plan;
    const { source, view } = this.#recipe;
    const scaleX = source.widthPx / view.camera.widthPx;
    const scaleY = source.heightPx / view.camera.heightPx;
    const middleX = (output.middleXPx + 0.5) * scaleX;
    const middleY = (output.middleYPx + 0.5) * scaleY;
    const halfX = ((output.widthPx / 2) * output.cameraPerPxX * scaleX) / zoom;
    const halfY = ((output.heightPx / 2) * output.cameraPerPxY * scaleY) / zoom;
    const frame = {
      leftPx: Math.round(middleX - halfX),
      topPx: Math.round(middleY - halfY),
      rightPx: Math.round(middleX + halfX),
      bottomPx: Math.round(middleY + halfY),
    };
    const { widthPx, heightPx } = layout.original as Placement;
    drawOutline(planes, written, frame, { leftPx: 0, topPx: 0, rightPx: widthPx, bottomPx: heightPx });
  }
}

/** Copies a piece of one picture into another whose samples sit alike. */
function put(
  from: readonly Samples[],
  fromFormat: PlaneFormat,
  to: readonly Samples[],
  toFormat: PlaneFormat,
  { fromXPx, fromYPx, widthPx, heightPx, atXPx, atYPx }: Placement,
): void {
  to.forEach((target, k) => {
    const { stepX, stepY, widthPx: targetWidth } = toFormat.planes[k];
    const sourceWidth = fromFormat.planes[k].widthPx;
    const columns = widthPx / stepX;
    for (let y = 0; y < heightPx / stepY; y++) {
      const start = (fromYPx / stepY + y) * sourceWidth + fromXPx / stepX;
      target.set(from[k].subarray(start, start + columns), (atYPx / stepY + y) * targetWidth + atXPx / stepX);
    }
  });
}
