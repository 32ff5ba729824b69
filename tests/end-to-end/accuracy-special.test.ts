/** The cases in which a tool is tempted to lie: dark footage, axes without vibration, a camera that does not move, and every sign by itself. */
import { describe, expect, it } from 'vitest';
import { AXES } from '../../src/run/index.js';
import { accuracyOf } from '../support/accuracy.js';
import {
  asTested,
  atFullSize,
  DARK_PASS,
  LOCKED_OFF_PASS,
  SILENT_ANGLES_PASS,
  SILENT_TRANSLATION_PASS,
  singleAxisPass,
} from '../support/accuracy-passes.js';
import { expectAccurate } from '../support/expect-accurate.js';

describe('a dark, noisy clip of low contrast', () => {
  it('is measured as it was made', { timeout: 900_000 }, async () =>
    expectAccurate(await accuracyOf(asTested(DARK_PASS))),
  );
});

describe('an axis without vibration', () => {
  it('is told as "below X" where only angles shake', { timeout: 900_000 }, async () =>
    expectAccurate(await accuracyOf(atFullSize(SILENT_TRANSLATION_PASS))),
  );

  it(
    'is told as "below X" where only translation shakes and every frame is coded by itself',
    { timeout: 900_000 },
    async () =>
      expectAccurate(
        await accuracyOf({
          ...atFullSize(SILENT_ANGLES_PASS),
          name: 'translation-only-intra',
          allIntra: true,
        }),
      ),
  );

  it(
    'is told as "below X" in spite of predicted frames, whose coding moves shake from far to near',
    { timeout: 900_000 },
    async () => {
      const clip = await accuracyOf(asTested(SILENT_ANGLES_PASS));
      for (const axis of ['pan', 'tilt', 'roll'] as const) {
        expect(clip.axes[axis].status, axis).toBe('below');
        expect(clip.axes[axis].below!).toBeLessThanOrEqual(0.003);
      }
      for (const axis of ['lateral', 'vertical', 'axial'] as const) {
        const [low, high] = clip.run.motion.translational[axis].ci95!;
        expect(clip.axes[axis].truth, `${axis} inside its interval`).toBeGreaterThan(low);
        expect(clip.axes[axis].truth, `${axis} inside its interval`).toBeLessThan(high);
      }
    },
  );
});

describe('a locked-off camera', () => {
  it('is below the noise floor on all six axes and passes', { timeout: 900_000 }, async () => {
    const clip = await accuracyOf(asTested(LOCKED_OFF_PASS));
    for (const axis of AXES) expect(clip.axes[axis].status, axis).toBe('below');
    for (const axis of ['pan', 'tilt', 'roll'] as const)
      expect(clip.axes[axis].below!).toBeLessThanOrEqual(0.003);
    expect(clip.run.verdict.grade).toBe('pass');
    expect(clip.run.stabilise.cropPercent).toBeLessThan(0.2);
  });
});

describe('the sign of an axis', () => {
  it.each([...AXES])('is that of the truth: %s', { timeout: 900_000 }, async (axis) => {
    const { axes } = await accuracyOf(singleAxisPass(axis));
    expect(axes[axis].correlation).toBeGreaterThan(0.95);
    for (const other of AXES) {
      // What shakes must stand out from what does not, in the axis' own unit of promise (1 mdeg against 0.05 mm).
      if (other === axis) continue;
      const angular = other === 'pan' || other === 'tilt' || other === 'roll';
      expect(axes[other].measured ?? 0, `${axis} leaks into ${other}`).toBeLessThan(angular ? 0.012 : 0.24);
    }
  });
});
