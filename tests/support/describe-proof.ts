/** What holds of every pass that is measured and rendered stabilised: its crop, its borders, what is left in its picture. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { probeClip } from '../../src/footage/index.js';
import { deckDoubt } from '../../src/motion/index.js';
import { ANGULAR_AXES, TRANSLATIONAL_AXES } from '../../src/run/index.js';
import { tools } from '../footage/made-clips.js';
import { expectWithin } from './expect-within.js';
import { countBorders, type BorderCount, type SurroundRequest } from './marked-surround.js';
import { lookAgain, type SecondLook } from './measured-again.js';
import { proofFigures, type ProofFigures } from './proof-figures.js';
import { provePass, type ProofPass, type ProvedPass } from './proof-passes.js';

const PROMISED_CROP = { abs: 0.2, why: 'promised: 0.2 points of the width' };
const PROMISED_RESIDUAL = { rel: 0.2, why: 'promised: a fifth' };
/** Share of the angular shake that may be left; noise of the angles alone leaves a few per cent. */
const ANGLES_LEFT = 0.1;
/** A crop smaller by this must show a border, points of the width. */
const TOO_SMALL_BY = 0.2;

/** Which further windows are rendered, and whether the path keeps next to nothing of the shake. */
export interface ProofChecks {
  readonly otherWindows: boolean;
  readonly pathIsSmooth: boolean;
}

/** The tests of one pass. */
export function describeProof(title: string, pass: ProofPass, checks: ProofChecks): void {
  describe(title, { timeout: 300_000 }, () => {
    let folder = '';
    let proved: ProvedPass;
    let seen: SecondLook;
    let figures: ProofFigures;
    beforeAll(async () => {
      folder = fs.mkdtempSync(path.join(os.tmpdir(), 'proof-'));
      proved = await provePass(pass, folder);
      seen = await lookAgain(proved.record.file, proved.stabilisedRig, proved.measured.motion.bandHz[0]);
      figures = proofFigures(proved, seen);
    }, 300_000);
    afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

    const borders = (window: SurroundRequest['window'], closeUpOf?: number): Promise<BorderCount> => {
      const { motion, stabilisation: plan } = proved.measured;
      const { corrections, delivery } = plan;
      return countBorders(
        { timeS: motion.timeS, corrections, camera: motion.camera, delivery, window, closeUpOf },
        folder,
      );
    };

    it('is foretold the crop that the true path needs', () => {
      expect(figures.cropNeeded).toBeGreaterThan(2 * PROMISED_CROP.abs);
      expectWithin(figures.cropForetold, figures.cropNeeded, PROMISED_CROP, 'crop');
    });

    it('comes out whole and in the shape of the delivery, every pixel from inside the recorded frames', async () => {
      const { record, clip, measured } = proved;
      const { widthPx, heightPx } = measured.stabilisation.delivery;
      expect(record).toMatchObject({ framesOutside: 0, furthestOutsidePx: 0 });
      expect(await probeClip(record.file, tools)).toMatchObject({
        frameCount: clip.truth.timeS.length,
        widthPx: record.widthPx,
        heightPx: record.heightPx,
        fpsFraction: '25/1',
      });
      const evenPx = { abs: 1, why: 'sides are even numbers of pixels' };
      expectWithin(record.heightPx, (record.widthPx * heightPx) / widthPx, evenPx, 'height');
    });

    it('shows no border at the foretold zoom', async () => {
      const { zoom } = proved.measured.stabilisation;
      const found = await borders({ kind: 'centred', zoom });
      expect(found).toMatchObject({ withBorder: 0, frames: proved.clip.truth.timeS.length });
    });

    it('shows one when the crop is 0.2 points smaller', async () => {
      const { motion, stabilisation: plan } = proved.measured;
      const worst = motion.timeS.indexOf(plan.worstFrameS ?? NaN);
      const at = (cropPercent: number) =>
        borders({ kind: 'centred', zoom: 1 / (1 - cropPercent / 100) }, worst);
      expect(await at(plan.cropPercent)).toMatchObject({ withBorder: 0 });
      expect((await at(plan.cropPercent - TOO_SMALL_BY)).withBorder).toBeGreaterThan(0);
    });

    if (checks.otherWindows) {
      it('shows none through a window off the middle, nor through one that breathes', async () => {
        const { offCentre, movingCropFraction } = proved.measured.stabilisation;
        expect(await borders({ kind: 'offCentre', ...offCentre })).toMatchObject({ withBorder: 0 });
        const zoom = movingCropFraction.map((crop) => 1 / (1 - crop));
        expect(await borders({ kind: 'moving', zoom })).toMatchObject({ withBorder: 0 });
      });
    }

    it('holds as much shake as was foretold, by points that are followed in it', () => {
      expect(proved.measured.stabilisation.residual.status).toBe('value');
      expect(seen.coverage).toBeGreaterThan(0.9);
      expectWithin(figures.leftForetoldPx, figures.leftFollowedPx, PROMISED_RESIDUAL, 'shake left');
    });

    it('holds as much shake as was foretold, by its scene and its true path', () => {
      expectWithin(figures.leftForetoldPx, figures.leftTruePx, PROMISED_RESIDUAL, 'shake left');
    });

    if (checks.pathIsSmooth) {
      it('has lost its angular shake and kept its translation, measured again', () => {
        const before = proved.measured.motion;
        const after = seen.motion();
        for (const axis of ANGULAR_AXES) {
          const share = (after.axes[axis].rms ?? NaN) / (before.axes[axis].rms ?? NaN);
          expect(share, axis).toBeLessThan(ANGLES_LEFT);
        }
        for (const axis of TRANSLATIONAL_AXES) {
          const [was, is] = [before.axes[axis], after.axes[axis]];
          const tolerance = {
            abs: Math.hypot(...[was, is].map(({ ci95 }) => ((ci95?.[1] ?? NaN) - (ci95?.[0] ?? NaN)) / 2)),
            why: '95 % intervals of both',
          };
          expectWithin(is.rms ?? NaN, was.rms ?? NaN, tolerance, axis);
        }
        // A deck that lifts the camera without turning it is the sign of a picture that was turned back.
        const deck = { wheelbaseM: 0.45 };
        expect(deckDoubt(before, deck)).toEqual([]);
        expect(deckDoubt(after, deck)).toMatchObject([{ code: 'stabilised-in-camera' }]);
        expect(deckDoubt(after, { ...deck, head: 'selfLevelling' })).toEqual([]);
      });
    }
  });
}
