/** Clips with something wrong with them, from pictures to warnings. */
import { describe, expect, it } from 'vitest';
import { gaussianRandom, seededRandom } from '../../src/numerics/index.js';
import { trackFrames, type Tracking } from '../../src/tracking/index.js';
import { AnalyticTexture, clipOf, type ClipOptions, type Placement } from './support/analytic-texture.js';

const SIZE = { widthPx: 320, heightPx: 180 };
const hall = new AnalyticTexture({ seed: 21, ...SIZE, waves: 40 });
const loft = new AnalyticTexture({ seed: 22, ...SIZE, waves: 40, meanGrey: 90 });

function travel(k: number): Placement {
  return { shiftXPx: 0.8 * k + 0.3 * Math.sin(k), shiftYPx: 0.4 * Math.sin(1.3 * k), turnRad: 0 };
}

/** A picture with the small errors that a coder leaves, the same for the same seed. */
function coded(grey: Uint8Array, seed: number): Uint8Array {
  const normal = gaussianRandom(seededRandom(seed));
  return grey.map((level) => Math.max(0, Math.min(255, Math.round(level + 0.4 * normal()))));
}

function track(pictures: readonly Uint8Array[], options: Partial<ClipOptions> = {}): Promise<Tracking> {
  return trackFrames(clipOf(pictures, { ...SIZE, ...options }), { threads: 1, targetTracks: 150 });
}

const codes = (tracking: Tracking): string[] => tracking.warnings.map((warning) => warning.code);
const range = (count: number): number[] => Array.from({ length: count }, (_, k) => k);

describe('a clip with a hard cut', () => {
  it('is measured over the longest stretch, and says so', async () => {
    const pictures = range(34).map((k) => (k < 12 ? loft : hall).picture(travel(k), 1, k + 1));
    const { table, events, warnings } = await track(pictures);
    expect(events.cuts).toEqual([12]);
    expect(table.frameCount).toBe(22);
    expect(table.timeS[0]).toBe(12 / 25);
    expect(warnings).toEqual([
      {
        code: 'cut',
        text: 'The clip holds 1 hard cut (at 0.48 s); only the longest stretch without a cut is measured, from 0.48 s to 1.32 s.',
        atS: 0.48,
      },
    ]);
  });
});

describe('a clip with repeated frames', () => {
  it('is measured without them, and says which they are', async () => {
    // Frame 10 is shown twice; frame 20 stands still for eight frames more.
    const shown = range(45).map((k) => (k <= 10 ? k : k <= 21 ? k - 1 : k <= 29 ? 20 : k - 9));
    const pictures = shown.map((k, at) => coded(hall.picture(travel(k), 2, k + 1), at + 1));
    const { table, events, warnings } = await track(pictures);
    expect(events.duplicates).toEqual([11, 22, 23, 24, 25, 26, 27, 28, 29]);
    expect(events.frozen).toEqual([[22, 29]]);
    expect(table.frameCount).toBe(45 - 9);
    expect(Array.from(table.timeS)).not.toContain(11 / 25);
    expect(warnings.map(({ code, atS }) => [code, atS])).toEqual([
      ['frozen-frames', 22 / 25],
      ['duplicate-frames', 11 / 25],
    ]);
  });
});

describe('a locked-off clip', () => {
  it('is no frozen one: with sensor noise, with coding noise, with none', async () => {
    const still = hall.picture(travel(0));
    const clips = [
      range(20).map((k) => hall.picture(travel(0), 4, k + 1)),
      range(20).map((k) => coded(still, k + 1)),
      range(20).map(() => still.slice()),
    ];
    for (const pictures of clips) {
      const { events, table, warnings } = await track(pictures);
      expect(events).toEqual({ cuts: [], duplicates: [], frozen: [] });
      expect(warnings).toEqual([]);
      expect(table.frameCount).toBe(20);
    }
  });
});

describe('a clip that cannot be followed', () => {
  it('comes back without tracks when it is black, and is called too dark', async () => {
    const tracking = await track(range(8).map(() => new Uint8Array(320 * 180)));
    expect(tracking.table.trackCount).toBe(0);
    expect(tracking.table.frameCount).toBe(8);
    expect(tracking.noisePx).toBeNull();
    expect(tracking.coverage).toBe(0);
    expect(codes(tracking)).toEqual(['too-dark', 'few-tracks']);
  });

  it('comes back without tracks when it is one flat grey, and is said to lack texture', async () => {
    const tracking = await track(range(8).map(() => new Uint8Array(320 * 180).fill(140)));
    expect(tracking.table.trackCount).toBe(0);
    expect(codes(tracking)).toEqual(['no-texture', 'few-tracks']);
  });

  it('comes back with hardly any track when it is nothing but noise', async () => {
    const grey = new AnalyticTexture({ seed: 1, ...SIZE, contrastGrey: 0, waves: 1 });
    const tracking = await track(range(12).map((k) => grey.picture(travel(0), 12, k + 1)));
    expect(Math.max(...tracking.liveCount)).toBeLessThan(15);
    expect(codes(tracking)).toContain('few-tracks');
    expect(codes(tracking)).toContain('no-texture');
  });

  it('comes back whole with one frame, and with none', async () => {
    const single = await track([hall.picture(travel(0))]);
    expect([single.table.frameCount, single.table.trackCount]).toEqual([1, 0]);
    const none = await track([]);
    expect([none.table.frameCount, none.warnings, none.interCoded]).toEqual([0, [], null]);
  });
});

describe('a dark but usable clip', () => {
  it('is followed, and called dark', async () => {
    const cellar = new AnalyticTexture({ seed: 23, ...SIZE, contrastGrey: 2.5, meanGrey: 5 });
    const tracking = await track(range(10).map((k) => cellar.picture(travel(k))));
    expect(tracking.table.trackCount).toBeGreaterThan(40);
    expect(codes(tracking)).toContain('too-dark');
  });
});

describe('frames that arrive at unequal times', () => {
  it('keep their own time stamps, and the types of the frames are passed on', async () => {
    const pictures = range(10).map((k) => hall.picture(travel(k)));
    const timeS = (k: number): number => k / 25 + (k % 3 === 0 ? 0.011 : 0);
    const tracking = await track(pictures, { timeS, type: 'P' });
    expect(Array.from(tracking.table.timeS)).toEqual(range(10).map(timeS));
    expect(tracking.interCoded).toBe(true);
    expect((await track(pictures, { type: 'I' })).interCoded).toBe(false);
    expect((await track(pictures)).interCoded).toBeNull();
  });
});
