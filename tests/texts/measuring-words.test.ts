/** Sentences on clips, motion, assumptions and grouping: numbers of one and many, parts that may be missing, and lenses for a crew that reads feet and inches. */
import { describe, expect, it } from 'vitest';
import { inUnits } from '../../src/run/index.js';
import {
  assumedDistortionTexts,
  assumedLensTexts,
  assumedReadoutTexts,
  clipFactTexts,
  groupNameTexts,
  groupingTexts,
  lensCalibrationTexts,
  logWarningTexts,
  motionWarningTexts,
  namedCauseTexts,
  showDepthTexts,
  shutterTexts,
  trackingTexts,
} from '../../src/texts/index.js';

describe('sentences on a measurement in feet and inches', () => {
  it.each([
    ['a lens to test with', showDepthTexts.shorterLens],
    ['a lens of two lengths', clipFactTexts.focalLengthsDiffer('18.2', 35)],
    ['the lens that was given', assumedLensTexts.exactFocal.ofLens(18)],
    ['the lens that is assumed', assumedLensTexts.focalLength.value(35)],
    ['the sensor that is assumed', assumedLensTexts.sensorWidth.value(36)],
    ['a group of one lens', groupNameTexts.lens('28')],
  ])('keep the millimetres of %s', (_, sentence) => {
    expect(sentence).toMatch(/\d mm/);
    expect(inUnits(sentence, 'imperial')).toBe(sentence);
  });

  it('turn speeds and lengths of the pass, and name no unit beside them', () => {
    expect(inUnits(motionWarningTexts.travelAndSpeedDiffer('0.25', '0.30'), 'imperial')).toBe(
      'Over the travel given the dolly would have rolled at 0.82 ft/s, but 0.98 ft/s were given: one of the two is wrong. Lengths here go by the travel.',
    );
    expect(inUnits(groupNameTexts.wheelbase('620'), 'imperial')).toBe('24.4 in');
  });
});

describe('sentences on one thing and on many', () => {
  it('count cuts, frames and points', () => {
    const range = trackingTexts.range('0.00 s', '4.00 s');
    expect(trackingTexts.cuts(1, ['4.00 s'], false, range)).toBe(
      'The clip holds 1 hard cut (at 4.00 s); only the longest stretch without a cut is measured, from 0.00 s to 4.00 s.',
    );
    expect(trackingTexts.cuts(7, ['4.00 s', '5.00 s'], true, range)).toContain(
      '7 hard cuts (at 4.00 s, 5.00 s and later)',
    );
    expect(trackingTexts.repeats(1, '1.00 s')).toMatch(/^1 frame repeats the one before/);
    expect(trackingTexts.repeats(3, '1.00 s')).toMatch(/^3 frames repeat the one before/);
    expect(trackingTexts.fewPoints(1, 280)).toBe('Only 1 point could be followed at a time, of 280 wanted.');
  });

  it('count gaps of a log, and join its axes', () => {
    expect(logWarningTexts.gaps(1, '2.000', '2.500')).toContain('has a gap from 2.000 s to 2.500 s');
    expect(logWarningTexts.gaps(3, '2.000', '2.500')).toContain('has 3 gaps, the first from 2.000 s');
    expect(logWarningTexts.differs(['pan', 'tilt', 'roll'])).toMatch(/^On pan, tilt and roll the motion log/);
  });

  it('count runs without a lane and corners without a board', () => {
    expect(groupingTexts.someLanesUnnamed(1, 4, 1)).toBe(
      '1 of 4 runs names no lane: it is taken as a lane of its own beside the lanes that are named. If that is not so, name lanes with --lanes.',
    );
    expect(groupingTexts.someLanesUnnamed(2, 4, 2)).toContain(
      'they are taken as one lane of their floor, beside the lanes that are named.',
    );
    expect(lensCalibrationTexts.coveragePoor(40, ['top left', 'top right'])).toContain(
      'hardly the top left, top right corners;',
    );
    expect(lensCalibrationTexts.coveragePoor(40, [])).toMatch(/^The board reached 40 % of the picture;/);
  });

  it('name lobes of a wheel and beats of joints by their number', () => {
    expect([1, 2, 3].map(namedCauseTexts.wheel)).toEqual([
      'a wheel, once a turn (out of round or a flat)',
      'a wheel, twice a turn (oval)',
      'a wheel, 3 times a turn (as many lobes)',
    ]);
    expect([1, 2].map(namedCauseTexts.joint)).toEqual([
      'joints of the floor',
      'joints of the floor, 2 times their beat',
    ]);
  });
});

describe('sentences with a part that may be missing', () => {
  it('say what a clip tells of distortion and readout, or that it does not', () => {
    expect(assumedDistortionTexts.none(null)).toBe('none; by this clip k1 is not known');
    expect(assumedDistortionTexts.none(assumedDistortionTexts.range('-0.100', '0.020'))).toBe(
      'none; by this clip k1 (-0.100 to 0.020)',
    );
    expect(assumedReadoutTexts.found('8.2', assumedReadoutTexts.range('7.1', '9.0'))).toBe(
      '8.2 ms, found in the clip (7.1 to 9.0 ms)',
    );
    expect(assumedReadoutTexts.found(null, null)).toBe('found in the clip');
  });

  it('say that an exposure of the whole frame leaves no figure', () => {
    expect(shutterTexts.angleAssumed('180', '24', '0.8', null)).toContain('and cannot be told with 360');
    expect(shutterTexts.angleAssumed('180', '24', '0.8', '1.7')).toContain('1.7 times with 360');
  });
});
