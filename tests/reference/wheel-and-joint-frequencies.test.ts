/** Frequencies of wheels, joints and their aliases against cases computed apart from the project (worked.json). */
import { describe, expect, it } from 'vitest';
import { aliasedFrequencyHz } from '../../src/optics/index.js';
import { jointBeatHz, wheelTurnHz } from '../../src/spectrum/causes/explanations.js';
import { nameCauses } from '../../src/spectrum/causes/name-causes.js';
import type { CauseName, KnownCauses } from '../../src/spectrum/causes/types.js';
import { BAND, madeUpPeak } from '../spectrum/causes/made-up-peaks.js';
import { expectWithin } from '../support/expect-within.js';
import { workedCase } from '../support/worked-case.js';

const NOTHING: KnownCauses = {
  speedMps: null,
  speedSdShare: 0.01,
  wheelDiameterM: null,
  joint: null,
  machinesHz: [],
  mountHz: null,
  lampsHz: [],
};
/** The cases are printed to ten digits. */
const PRINTED = { rel: 1e-9 };
const WHEELS =
  workedCase<{ D_mm: number; v_mps: number; lobes: number; f_Hz: number; wavelength_mm: number }[]>(
    'wheel-rotation',
  ).expected;
const JOINTS = workedCase<{ pitch_mm: number; v_mps: number; f_Hz: number }[]>('joint-frequency').expected;
const ALIASES = workedCase<{ f_Hz: number; fps: number; seen_Hz: number }[]>('aliasing').expected;

/** The candidate of a 20 s pass that shows one line there. */
function likeliest(freqHz: number, known: Partial<KnownCauses>, rateHz = 25) {
  const band = { ...BAND, durationS: 20, rateHz, bandHz: [0.4, 0.48 * rateHz] as const };
  const peak = madeUpPeak(freqHz, { durationS: 20 });
  return nameCauses([{ axis: 'tilt', peak }], { ...NOTHING, ...known }, band).sources[0];
}
const causeOf = (freqHz: number, known: Partial<KnownCauses>, rateHz?: number): [CauseName, number] => {
  const { cause, candidates } = likeliest(freqHz, known, rateHz);
  return [cause, candidates[0].order];
};

describe('a wheel', () => {
  it.each(WHEELS)('of $D_mm mm at $v_mps m/s with $lobes lobes shakes at $f_Hz Hz', (wheel) => {
    const turnHz = wheelTurnHz(wheel.v_mps, wheel.D_mm / 1000);
    expectWithin(wheel.lobes * turnHz, wheel.f_Hz, PRINTED);
    expectWithin((1000 * wheel.v_mps) / (wheel.lobes * turnHz), wheel.wavelength_mm, PRINTED);
    const known = { speedMps: wheel.v_mps, wheelDiameterM: wheel.D_mm / 1000 };
    expect(causeOf(wheel.f_Hz, known)).toEqual(['wheel', wheel.lobes]);
  });
});

describe('joints', () => {
  it.each(JOINTS)('every $pitch_mm mm at $v_mps m/s beat at $f_Hz Hz', (row) => {
    expectWithin(jointBeatHz(row.v_mps, row.pitch_mm / 1000), row.f_Hz, PRINTED);
  });

  it('every 90 mm, as narrow boards lie, are named by their beat', () => {
    const joint = { spacingM: 0.09, sdShare: 0, source: 'given' as const };
    const boards = JOINTS.find(({ pitch_mm }) => pitch_mm === 90)!;
    expect(causeOf(boards.f_Hz, { speedMps: boards.v_mps, joint })).toEqual(['joint', 1]);
  });
});

describe('a machine above half the frame rate', () => {
  const told = ALIASES.filter(({ seen_Hz }) => seen_Hz > 1);

  it.each(ALIASES)('of $f_Hz Hz shows at $seen_Hz Hz in $fps frames a second', (alias) => {
    expectWithin(aliasedFrequencyHz(alias.f_Hz, alias.fps), alias.seen_Hz, { abs: 1e-9 });
  });

  it.each(told)('of $f_Hz Hz in $fps frames a second is named with its own frequency', (alias) => {
    const known = { machinesHz: [alias.f_Hz] };
    expect(causeOf(alias.seen_Hz, known, alias.fps)).toEqual(['machine', 1]);
    expectWithin(likeliest(alias.seen_Hz, known, alias.fps).trueHz, alias.f_Hz, { abs: 1e-9 });
  });
});
