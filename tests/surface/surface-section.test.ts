import { describe, expect, it } from 'vitest';
import { surfaceSchema } from '../../src/run/index.js';
import {
  surfaceSection,
  type Surface,
  type SurfaceDetail,
  type RoughnessGrade,
} from '../../src/surface/index.js';
import { expectWithin } from '../support/expect-within.js';

const EXACT = { rel: 1e-9, why: 'closed forms' };

const grade: RoughnessGrade = {
  gdM3: 16e-6,
  gdAsRolledM3: 20e-6,
  sdLn: 0.2,
  atMost: false,
  atLeast: false,
  waviness: { waviness: 2.1, sd: 0.1 },
  wavelengthsM: [0.05, 2],
  contactCyclesPerM: 100,
  speedMps: 0.5,
  lines: [],
};
const setup: SurfaceDetail['measured']['setup'] = {
  speedMps: 0.5,
  rateHz: 25,
  exposureS: 0.02,
  cutoffHz: 0.8,
  wheelbaseM: 0.45,
  trackWidthM: 0.4,
  wheel: { diameterFactor: 1, contactCyclesPerM: null, contactFactor95: 1 },
  azimuthRad: 0,
  view: null,
};
const joint: SurfaceDetail['events'][number] = {
  kind: 'joint',
  atM: 1.83,
  atSdM: 0.002,
  atS: 2.76,
  axlesS: [2.76, 3.66],
  heightM: 0.0012,
  heightSdM: 0.0001,
  sides: { leftM: 0.0024, rightM: 0, sdM: 0.0002 },
  wheelLine: 'left',
  lengthM: 0,
  confidence: 0.999,
  foundBy: 'itself',
  pictureShiftPx: 4,
};
const detail: SurfaceDetail = {
  levels: { meanTrackM3: 12e-6, differenceM3: 16e-6 },
  frontAheadM: 0.45,
  profile: {
    distanceM: Float64Array.of(0, 0.02),
    heightM: Float64Array.of(0.001, -0.0005),
    sdM: Float64Array.of(1e-4, 2e-4),
    sides: null,
  },
  events: [joint],
  row: {
    spacingM: 0.3,
    spacingSdM: 0.0005,
    placesM: [1.83, 1.53],
    lnEvidence: 40,
    stepRmsM: 0.0008,
  },
  distanceRange: 0.02,
  bands: [],
  rail: null,
  flatness: null,
  straightedges: [],
  texture: null,
  spoken: { word: 'rubble', orBetter: false, steadyUpToMm: 12, withCropUpToMm: 90 },
  present: { setup, focalLengthMm: null, wheelDiameterM: null },
  measured: { setup, pitchRadRms: 1e-3, rollRadRms: 1e-3, heaveMRms: null, sdLn: 0.05 },
  runLengthM: 5,
  otherSurfaces: [],
};
const surface: Surface = { grade, detail, pass: null, reason: null, assumed: [], warnings: [] };

describe('the surface section of a run', () => {
  it('gives class, interval, height in the band and flatness of one roughness', () => {
    const section = surfaceSection(surface);
    expect(surfaceSchema.parse(section)).toEqual(section);
    expect(section.isoClass).toBe('A');
    expect(section.ci95Class).toEqual(['A', 'A']);
    expectWithin(section.psdCi95![0], 16e-6 * Math.exp(-0.392), EXACT);
    expectWithin(section.psdCi95![1], 16e-6 * Math.exp(0.392), EXACT);
    // Class A between 50 mm and 2 m: 0.55857 mm; FF 27.886 (both computed apart, see tests/reference).
    expectWithin(section.profileRmsMm!, 0.55857, { abs: 1e-5, why: 'digits of the reference' });
    expectWithin(section.flatnessFF!, 27.8857, { abs: 1e-4, why: 'digits of the reference' });
    expect(section.psdAsRolled).toBe(20e-6);
    expect(section.waviness).toBe(2.1);
    expect(section.isoClassAsRolled).toBe('A');
    expectWithin(section.wavinessCi95![1], 2.1 + 0.196, EXACT);
    expect(section.parts).toEqual({
      meanTrackM3: 12e-6,
      differenceM3: 16e-6,
      sdLn: 0.2,
      contactCyclesPerM: 100,
      speedMps: 0.5,
    });
    expect(section.distanceRangePercent).toBe(2);
  });

  it('gives heights in mm with half of their 95 % range, and the times of both axles', () => {
    const { profile, bumps, joints } = surfaceSection(surface);
    expect(profile).toEqual({
      distanceM: [0, 0.02],
      heightMm: [1, -0.5],
      bandMm: [0.196, 0.392],
      leftMm: null,
      rightMm: null,
      sideBandMm: null,
    });
    const [bump] = bumps;
    expect(bump).toMatchObject({
      kind: 'joint',
      atM: 1.83,
      atS: 2.76,
      axlesS: [2.76, 3.66],
      wheelLine: 'left',
    });
    expectWithin(bump.heightMm, 1.2, EXACT);
    expectWithin(bump.heightRangeMm, 0.196, EXACT);
    expectWithin(bump.atRangeM, 0.00392, EXACT);
    expectWithin(bump.leftMm!, 2.4, EXACT);
    expect(joints).toMatchObject({ spacingM: 0.3, count: 2, seen: 1, firstM: 1.53, lnEvidence: 40 });
    expectWithin(joints!.stepRmsMm, Math.hypot(2.4, 0) / Math.SQRT2, EXACT);
  });

  it('says of another surface that nothing can be foretold where this floor is only bounded', () => {
    const boards = { name: 'boards', surface: surfaceSection(surface) };
    const { predictions } = surfaceSection({
      ...surface,
      grade: { ...grade, atMost: true },
      detail: { ...detail, otherSurfaces: [boards] },
    });
    expect(predictions).toHaveLength(1);
    expect(predictions[0]).toMatchObject({ change: 'surface', label: 'boards', ratio: null });
    expect(predictions[0]?.reason).toMatch(/only bounds its own floor/);
  });

  it('foretells other setups beside the present one', () => {
    const { predictions } = surfaceSection(surface);
    expect(predictions[0]?.change).toBe('none');
    expect(new Set(predictions.map(({ change }) => change))).toEqual(
      new Set(['none', 'speed', 'wheelbase', 'wheel', 'lens']),
    );
    expectWithin(predictions[0].pitchMdegRms!.value, 180 / Math.PI, { rel: 0.02, why: 'as measured' });
  });

  it('gives the bound and its reason alone when no more than "at most" can be said', () => {
    const section = surfaceSection({
      ...surface,
      grade: { ...grade, atMost: true },
      reason: 'A machine hums.',
    });
    expect(surfaceSchema.parse(section)).toEqual(section);
    expect(section.psdAt01CyclesPerM).toBe(16e-6);
    expect([section.isoClass, section.psdCi95, section.profileRmsMm, section.waviness]).toEqual([
      null,
      null,
      null,
      null,
    ]);
    expect(section.reason).toBe('A machine hums.');
  });
});
