/** The four figures of the contact picture: those that the page shows first, with remarks of two or three words. */
import { figure, limitFigure, worstAngularAxis, type RunDocument } from '../../run/index.js';
import { contactTexts } from '../../texts/index.js';
import { keyFigures } from '../key-figures.js';
import { axisNames } from '../wording.js';

/** One figure of the picture. */
export interface ContactFigure {
  readonly name: string;
  readonly value: string;
  readonly unit: string;
  readonly remark: string;
}

/** Crop, angular share, worst axis, surface; as the page prints them. */
export function contactFigures(run: RunDocument): ContactFigure[] {
  const [crop, share, axis, surface] = keyFigures(run);
  const { ci95 } = run.motion.angularShare;
  const worst = worstAngularAxis(run.motion);
  const { bumps, observable } = run.surface;
  return [
    { ...crop, remark: contactTexts.cropLimit(limitFigure(run.delivery.maxCropPercent)) },
    {
      ...share,
      remark:
        run.motion.angularShare.value === null
          ? contactTexts.notMeasured
          : ci95
            ? contactTexts.share.range(figure(100 * ci95[0]), figure(100 * ci95[1]))
            : contactTexts.share.alone,
    },
    {
      ...axis,
      name: worst === null ? axis.name : axisNames(run)[worst].name,
      remark: worst === null ? contactTexts.axisUnknown : contactTexts.worstAxis,
    },
    {
      ...surface,
      remark: observable ? contactTexts.bumps(bumps.length) : contactTexts.surfaceUnknown,
    },
  ];
}
