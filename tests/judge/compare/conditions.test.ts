import { describe, expect, it } from 'vitest';
import { fairnessOf } from '../../../src/judge/compare/conditions.js';
import { orderWarning } from '../../../src/judge/compare/order-warning.js';
import type { ComparedPass } from '../../../src/judge/compare/types.js';
import type { Rig } from '../../../src/run/index.js';
import { madeUpComparedPass } from '../../support/made-up-runs.js';

const PLAIN = madeUpComparedPass({ durationS: 4 });

function withRig(rig: Partial<Rig>): ComparedPass {
  return { ...PLAIN, pass: { ...PLAIN.pass, rig: { ...PLAIN.pass.rig, ...rig } } };
}

function atSpeed(speedMps: number): ComparedPass {
  const { sections } = PLAIN.pass;
  const spectrum = { ...sections.spectrum, speedMps };
  return { ...PLAIN, pass: { ...PLAIN.pass, floor: null, sections: { ...sections, spectrum } } };
}

function withClip(clip: Partial<ComparedPass['pass']['sections']['clip']>): ComparedPass {
  const { sections } = PLAIN.pass;
  return {
    ...PLAIN,
    pass: { ...PLAIN.pass, sections: { ...sections, clip: { ...sections.clip, ...clip } } },
  };
}

const whats = (one: ComparedPass, other: ComparedPass): string[] =>
  fairnessOf([one], [other], 'setup').conditions.map(({ what }) => what);

describe('what differs between the sides', () => {
  it('is nothing for passes of one kind, and that is fair', () => {
    expect(fairnessOf([PLAIN], [PLAIN], 'setup')).toEqual({ conditions: [], unfair: [], noiseShared: true });
  });

  it('makes a comparison of speeds unfair beyond 5 %, unless speed is what is asked about', () => {
    const [slow, fast] = [atSpeed(0.25), atSpeed(0.28)];
    expect(fairnessOf([slow], [atSpeed(0.26)], 'setup').conditions).toEqual([]);
    const asked = fairnessOf([slow], [fast], 'setup');
    expect(asked.unfair).toHaveLength(1);
    expect(asked.conditions[0]).toMatchObject({ what: 'speed', a: '0.25 m/s', b: '0.28 m/s' });
    expect(fairnessOf([slow], [fast], 'speed')).toMatchObject({
      unfair: [],
      conditions: [{ what: 'speed' }],
    });
  });

  it('lists the lens without a word against it, for degrees need none', () => {
    const { conditions, unfair } = fairnessOf([PLAIN], [withRig({ focalLengthMm: 50 })], 'setup');
    expect(conditions).toEqual([{ what: 'focal length', a: '35\u202fmm', b: '50\u202fmm', matters: null }]);
    expect(unfair).toEqual([]);
  });

  it('parts the errors of the noise where camera or codec differ', () => {
    expect(fairnessOf([PLAIN], [withClip({ codec: 'prores', interCoded: false })], 'setup')).toMatchObject({
      noiseShared: false,
      unfair: [],
    });
  });

  it.each([
    ['head', withRig({ head: 'selfLevelling' }), 1],
    ['shutter angle', withRig({ shutterAngleDeg: 90 }), 0],
    ['sensor width', withRig({ sensorWidthMm: 36 }), 0],
    ['wheelbase', withRig({ wheelbaseM: 0.6 }), 0],
    ['length of the pass', madeUpComparedPass({ durationS: 6 }), 0],
    ['floor', { ...PLAIN, floor: 'tiled corridor' }, 0],
  ])('names the %s', (what, other, unfair) => {
    expect(whats(PLAIN, other)).toContain(what);
    expect(fairnessOf([PLAIN], [other], 'setup').unfair).toHaveLength(unfair);
  });

  it('holds known floors and directions against a comparison, but not ones that nobody wrote down', () => {
    const on = (floor: string | null, direction: ComparedPass['direction']): ComparedPass => ({
      ...PLAIN,
      floor,
      direction,
    });
    const known = fairnessOf([on('corridor', 'out')], [on('loft', 'back')], 'setup');
    expect(known.unfair).toHaveLength(2);
    expect(fairnessOf([on('corridor', 'out')], [on(null, null)], 'setup').unfair).toEqual([]);
  });
});

describe('the order of the passes', () => {
  const at = (setup: string, minute: number, passNumber: number | null = null): ComparedPass => ({
    ...PLAIN,
    setup,
    passNumber,
    createdAt: `2031-03-14T09:${String(minute).padStart(2, '0')}:00.000Z`,
  });

  it('is warned of when all of one setup came first', () => {
    const text = orderWarning([at('soft', 1), at('soft', 2)], [at('hard', 3), at('hard', 4)])?.text;
    expect(text).toContain('all passes of soft came before those of hard');
    expect(orderWarning([at('soft', 5), at('soft', 6)], [at('hard', 3), at('hard', 4)])?.text).toContain(
      'all passes of hard came before',
    );
  });

  it('is right as A B B A, and none for one pass each', () => {
    expect(orderWarning([at('soft', 1), at('soft', 4)], [at('hard', 2), at('hard', 3)])).toBeNull();
    expect(orderWarning([at('soft', 1)], [at('hard', 2)])).toBeNull();
  });

  it('goes by the numbers of the passes where all have one', () => {
    const soft = [at('soft', 1, 1), at('soft', 2, 4)];
    expect(orderWarning(soft, [at('hard', 3, 2), at('hard', 4, 3)])).toBeNull();
  });
});
