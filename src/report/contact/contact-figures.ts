/** The four figures of the contact picture: those that the page shows first, with remarks of two or three words. */
import { figure, limitFigure, toldShare, type RunDocument } from '../../run/index.js';
import { contactTexts } from '../../texts/index.js';
import { keyFigures } from '../key-figures.js';
import { turnsMost } from '../shakes-most.js';
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
  const told = toldShare(run.motion);
  const worst = turnsMost(run);
  const { bumps, observable } = run.surface;
  return [
    { ...crop, remark: contactTexts.cropLimit(limitFigure(run.delivery.maxCropPercent)) },
    {
      ...share,
      remark:
        told.as === 'unknown'
          ? contactTexts.notMeasured
          : told.as === 'figure' && told.ci95
            ? contactTexts.share.range(figure(100 * told.ci95[0]), figure(100 * told.ci95[1]))
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
