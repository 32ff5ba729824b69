/** Another delivery in the place of that of the pass: what the crew names, over what the pass was held against. */
import type { Delivery, ResolvedDelivery } from '../../run/index.js';
import { screenLines, viewingDistanceHeights, type ViewedPicture } from '../../stabilise/index.js';
import { resolveDelivery, shakeGuidance } from '../delivery.js';
import { presetName, type DeliveryPresets } from '../presets.js';

/**
 * The delivery that is meant.
 *
 * A name of the table stands for all that it fills in; beside any other, what is not given stays as it was. A limit of the shake
 * left stays the same angle at the eye when size or distance change, and one that followed from them follows from the new ones.
 */
export function otherDelivery(
  was: ResolvedDelivery,
  wish: Readonly<Delivery>,
  presets: DeliveryPresets,
): ResolvedDelivery {
  if (wish.name !== undefined && presetName(wish.name, presets) !== null)
    return resolveDelivery(wish, presets);
  const sized = wish.widthPx !== undefined || wish.heightPx !== undefined;
  const atDesign = was.viewingDistanceHeights === viewingDistanceHeights(was);
  const { maxResidualPx, viewingDistanceHeights: distance } = wish;
  const then = resolveDelivery(
    {
      ...(sized
        ? { widthPx: wish.widthPx, heightPx: wish.heightPx }
        : { widthPx: was.widthPx, heightPx: was.heightPx }),
      maxCropPercent: wish.maxCropPercent ?? was.maxCropPercent,
      viewingDistanceHeights: distance ?? (sized && atDesign ? undefined : was.viewingDistanceHeights),
      maxResidualPx,
    },
    presets,
  );
  const limited = { ...then, maxResidualPx: maxResidualPx ?? sameAngle(was, then) };
  const same =
    limited.widthPx === was.widthPx &&
    limited.heightPx === was.heightPx &&
    limited.maxCropPercent === was.maxCropPercent &&
    limited.maxResidualPx === was.maxResidualPx &&
    limited.viewingDistanceHeights === was.viewingDistanceHeights;
  return { ...limited, name: wish.name ?? (same ? was.name : null) };
}

function sameAngle(was: ResolvedDelivery, then: ResolvedDelivery): number {
  if (was.maxResidualPx === shakeGuidance(was).limitRmsPx) return then.maxResidualPx;
  return (was.maxResidualPx * pxPerAngle(then)) / pxPerAngle(was);
}

function pxPerAngle(picture: ViewedPicture): number {
  return screenLines(picture) * picture.viewingDistanceHeights;
}
