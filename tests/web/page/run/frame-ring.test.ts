/** Decoded frames stay within the memory they may take, the soonest needed are fetched first, and what does not come is told once. */
import { describe, expect, it } from 'vitest';
import { FrameFetcher } from '../../../../src/web/page/run/player/frame-fetcher.js';
import { FrameRing } from '../../../../src/web/page/run/player/frame-ring.js';

const SIZE = { widthPx: 100, heightPx: 50 };
/** Room for eight frames of that size. */
const ROOM = 8 * 4 * 100 * 50;

class FakePicture {
  closed = false;
  constructor(readonly frame: number) {}
  close(): void {
    this.closed = true;
  }
}

const place = (at: number, direction: 1 | -1 = 1, count = 30) => ({ at, direction, count });

describe('the ring of decoded frames', () => {
  it('holds as many as fit into the memory', () => {
    expect(new FrameRing(150e6, { widthPx: 640, heightPx: 360 }).capacity).toBe(162);
    expect(new FrameRing(1, SIZE).capacity).toBe(4);
  });

  it('asks for what comes next, then for what was shown last', () => {
    const ring = new FrameRing<FakePicture>(ROOM, SIZE);
    expect(ring.missing(place(28))).toEqual([28, 29, 0, 1, 2, 3, 4, 27]);
    expect(ring.missing(place(1, -1))).toEqual([1, 0, 29, 28, 27, 26, 25, 2]);
  });

  it('asks for every frame of a clip that fits, from the place of play on', () => {
    expect(new FrameRing<FakePicture>(ROOM, SIZE).missing(place(3, 1, 5))).toEqual([3, 4, 0, 1, 2]);
  });

  it('lets go of frames that lie too far, and closes them', () => {
    const ring = new FrameRing<FakePicture>(ROOM, SIZE);
    const pictures = Array.from({ length: 12 }, (_, frame) => new FakePicture(frame));
    pictures.forEach((picture) => ring.put(picture.frame, picture));
    ring.keepAround(place(4));
    expect(pictures.filter(({ closed }) => closed).map(({ frame }) => frame)).toEqual([0, 1, 2, 11]);
    expect(ring.size).toBe(8);
  });

  it('closes a picture that another takes the place of', () => {
    const ring = new FrameRing<FakePicture>(ROOM, SIZE);
    const [old, young] = [new FakePicture(2), new FakePicture(2)];
    ring.put(2, old);
    ring.put(2, young);
    expect([old.closed, young.closed, ring.get(2)]).toEqual([true, false, young]);
  });
});

describe('fetching frames', () => {
  /** A fetcher whose loads are let through one by one. */
  function fetching(fails: (frame: number) => boolean = () => false) {
    const asked: number[] = [];
    const came: number[] = [];
    const faults: unknown[] = [];
    const ring = new FrameRing<FakePicture>(ROOM, SIZE);
    const fetcher = new FrameFetcher<FakePicture>({
      ring,
      load: (frame) => {
        asked.push(frame);
        return fails(frame) ? Promise.reject(new Error('gone')) : Promise.resolve(new FakePicture(frame));
      },
      onFrame: (frame) => came.push(frame),
      onFault: (error) => faults.push(error),
    });
    const settled = async (): Promise<void> => {
      for (let i = 0; i < 60; i++) await Promise.resolve();
    };
    return { asked, came, faults, ring, fetcher, settled };
  }

  it('asks for four at once and goes on until the ring is full', async () => {
    const { asked, came, ring, fetcher, settled } = fetching();
    fetcher.look(place(10));
    expect(asked).toEqual([10, 11, 12, 13]);
    await settled();
    expect(asked).toEqual([10, 11, 12, 13, 14, 15, 16, 9]);
    expect(came).toHaveLength(8);
    expect(ring.size).toBe(ring.capacity);
  });

  it('fetches no frame twice while play moves on', async () => {
    const { asked, fetcher, settled } = fetching();
    fetcher.look(place(0));
    await settled();
    fetcher.look(place(1));
    await settled();
    expect(new Set(asked).size).toBe(asked.length);
    expect(asked).toContain(7);
  });

  it('asks again for what failed, three times, and tells it once', async () => {
    const { asked, faults, fetcher, settled } = fetching((frame) => frame < 2);
    fetcher.look(place(0, 1, 4));
    await settled();
    expect(asked.filter((frame) => frame === 0)).toHaveLength(3);
    expect(asked.filter((frame) => frame === 1)).toHaveLength(3);
    expect(faults).toHaveLength(1);
  });

  it('lets go of everything when it is closed, also of what is under way', async () => {
    const { came, ring, fetcher, settled } = fetching();
    fetcher.look(place(0));
    fetcher.close();
    await settled();
    expect([came.length, ring.size]).toEqual([0, 0]);
  });
});
