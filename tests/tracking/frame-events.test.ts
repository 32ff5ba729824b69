/** Cuts, repeats and rests, judged from made-up records of frames. */
import { describe, expect, it } from 'vitest';
import { findCuts, longestStretch } from '../../src/tracking/cuts.js';
import type { FrameRecord } from '../../src/tracking/frame-record.js';
import { findFreezes, findRepeats } from '../../src/tracking/repeats.js';

interface Sketch {
  readonly stepX?: number;
  readonly stepY?: number;
  readonly change?: number;
  readonly identical?: boolean;
  readonly followed?: number;
  readonly kept?: number;
  readonly likeness?: number;
  readonly histogramChange?: number;
}

/** Records of frames at 25 per second; what a sketch leaves out is that of a smooth travel. */
function records(sketches: readonly Sketch[]): FrameRecord[] {
  return sketches.map((sketch, k) => {
    const { stepX = 2, stepY = 0, followed = 280, kept = 270, identical = false } = sketch;
    const { change = 8, likeness = 0.99, histogramChange = 0.01 } = sketch;
    const shiftPx = Math.hypot(stepX, stepY);
    return {
      timeS: k / 25,
      look: {
        meanGrey: 100,
        contrastGrey: 40,
        bandGrey: new Float64Array(9).fill(100),
        changeGrey: k === 0 ? null : identical ? 0 : change,
        identical,
        likeness: k === 0 ? null : likeness,
        histogramChange: k === 0 ? null : histogramChange,
        relight: null,
      },
      step:
        k === 0 || kept === 0
          ? {
              followed: k === 0 ? 0 : followed,
              kept: 0,
              shiftPx: NaN,
              reachPx: NaN,
              stepXPx: NaN,
              stepYPx: NaN,
              scaleRate: 0,
            }
          : {
              followed,
              kept,
              shiftPx,
              reachPx: 1.2 * shiftPx + 0.01,
              stepXPx: stepX,
              stepYPx: stepY,
              scaleRate: 0,
            },
      refined: false,
    };
  });
}

const moving = (count: number): Sketch[] => Array.from({ length: count }, () => ({}));
const REPEAT: Sketch = { stepX: 0, change: 0, identical: true };
const CODED_REPEAT: Sketch = { stepX: 0.008, change: 0.5 };
const REST: Sketch = { stepX: 0.001, change: 0.1 };
const CUT: Sketch = { followed: 280, kept: 20, likeness: 0.1, histogramChange: 0.4, change: 60 };

describe('findRepeats', () => {
  const repeats = (sketches: readonly Sketch[]): number[] => findRepeats(records(sketches), [], 1);

  it('finds a repeat in a travel, identical or within coding noise', () => {
    expect(repeats([...moving(10), REPEAT, ...moving(10), CODED_REPEAT, ...moving(10)])).toEqual([10, 21]);
  });

  it('finds every second frame of a clip shown at twice its rate', () => {
    const doubled = Array.from({ length: 20 }, () => [{}, REPEAT]).flat();
    expect(repeats(doubled)).toEqual(Array.from({ length: 20 }, (_, i) => 2 * i + 1));
  });

  it('finds a freeze in the middle, also when a key frame stirs the coding noise within it', () => {
    const freeze = Array.from({ length: 12 }, (_, i) =>
      i === 6 ? { stepX: 0.03, change: 2 } : CODED_REPEAT,
    );
    const found = repeats([...moving(20), ...freeze, ...moving(20)]);
    expect(found).toEqual(Array.from({ length: 12 }, (_, i) => 20 + i));
    expect(findFreezes(records([...moving(20), ...freeze, ...moving(20)]), found)).toEqual([[20, 31]]);
  });

  it('finds a tail of repeats after a travel', () => {
    expect(repeats([...moving(30), REPEAT, REPEAT, REPEAT])).toEqual([30, 31, 32]);
  });

  it('leaves a locked-off clip alone, with noise and without', () => {
    expect(repeats(Array.from({ length: 60 }, () => ({ stepX: 0.03, change: 3 })))).toEqual([]);
    expect(repeats(Array.from({ length: 60 }, () => REPEAT))).toEqual([]);
    expect(
      repeats(Array.from({ length: 60 }, (_, k) => (k % 12 ? REST : { stepX: 0.04, change: 2 }))),
    ).toEqual([]);
  });

  it('leaves a rest alone into which the dolly rolls out and from which it starts softly', () => {
    const slowing = [1.6, 1.2, 0.8, 0.4, 0.2, 0.08].map((stepX) => ({ stepX }));
    const rest = Array.from({ length: 20 }, () => REST);
    expect(repeats([...moving(20), ...slowing, ...rest, ...[...slowing].reverse(), ...moving(20)])).toEqual(
      [],
    );
    expect(repeats([...moving(20), ...slowing, ...rest])).toEqual([]);
  });

  it('leaves a locked-off clip alone that is knocked once', () => {
    const knock = Array.from({ length: 20 }, (_, k) => ({ stepX: 3 * Math.cos(2 * k) * Math.exp(-k / 5) }));
    expect(
      repeats([
        ...Array.from({ length: 60 }, () => REST),
        ...knock,
        ...Array.from({ length: 60 }, () => REST),
      ]),
    ).toEqual([]);
  });

  it('leaves the turning points of a vibration alone', () => {
    // 2.5 frames to a cycle and a phase that lets single steps vanish.
    const shaking = Array.from({ length: 60 }, (_, k) => {
      const stepX = 1.5 * Math.sin((2 * Math.PI * k) / 2.5);
      return { stepX, change: 0.3 + 4 * Math.abs(stepX) };
    });
    expect(repeats(shaking)).toEqual([]);
  });

  it('does not take the first frame after a cut for a repeat or an edge of one', () => {
    const sketches = [...moving(20), CUT, ...moving(20)];
    expect(findRepeats(records(sketches), [20], 1)).toEqual([]);
  });
});

describe('findFreezes', () => {
  it('calls only repeats in a row for more than 0.2 s a freeze', () => {
    const frames = records(moving(60));
    expect(findFreezes(frames, [5, 10, 11, 12, 13, 14, 20, 21, 22, 23, 24, 25])).toEqual([[20, 25]]);
    expect(findFreezes(frames, [])).toEqual([]);
  });
});

describe('findCuts', () => {
  it('finds the first frame after a cut', () => {
    expect(findCuts(records([...moving(10), CUT, ...moving(5), CUT, ...moving(10)]))).toEqual([10, 16]);
  });

  it('finds a jump within one scene, where many tracks settle on something alike', () => {
    const jump = { kept: 100, stepX: 44, likeness: 0.3, histogramChange: 0.07, change: 49 };
    expect(findCuts(records([...moving(10), jump, ...moving(10)]))).toEqual([10]);
  });

  it('does not take a hard knock for a cut', () => {
    const knock = { kept: 240, stepX: 14, likeness: 0.9, change: 30 };
    expect(findCuts(records([...moving(10), knock, ...moving(10)]))).toEqual([]);
  });

  it('finds a cut out of black, where there were no tracks to lose', () => {
    const black = Array.from({ length: 10 }, () => ({
      followed: 0,
      kept: 0,
      change: 0,
      likeness: 1,
      histogramChange: 0,
    }));
    const appears = { followed: 0, kept: 0, change: 90, likeness: 0, histogramChange: 0.9 };
    expect(findCuts(records([...black, appears, ...moving(10)]))).toEqual([10]);
  });

  it('takes neither a fast pan nor a lost crowd of tracks in a like picture for a cut', () => {
    const pan = Array.from({ length: 10 }, () => ({ kept: 30, likeness: 0.7, change: 40 }));
    expect(findCuts(records([...moving(10), ...pan, ...moving(10)]))).toEqual([]);
    expect(findCuts(records([...moving(10), { kept: 30, change: 20 }, ...moving(10)]))).toEqual([]);
  });
});

describe('longestStretch', () => {
  it('is the whole clip when nothing breaks it', () => {
    expect(longestStretch(records(moving(30)), [])).toEqual({ from: 0, to: 30, breaks: [] });
  });

  it('is the longest piece between cuts, in time and not in frames', () => {
    const frames = records([...moving(30), CUT, ...moving(10)]);
    expect(longestStretch(frames, [30])).toEqual({ from: 0, to: 30, breaks: [] });
    const slow = frames.map((frame, k) => ({ ...frame, timeS: k < 30 ? k / 25 : 2 + k }));
    expect(longestStretch(slow, [30])).toEqual({ from: 30, to: 41, breaks: [] });
  });

  it('ends where no track holds two frames together', () => {
    const frames = records([...moving(10), { kept: 3 }, ...moving(20)]);
    expect(longestStretch(frames, [])).toEqual({ from: 10, to: 31, breaks: [10] });
  });

  it('is the whole clip when nothing could be followed at all', () => {
    const frames = records(Array.from({ length: 12 }, () => ({ followed: 0, kept: 0 })));
    expect(longestStretch(frames, [])).toEqual({ from: 0, to: 12, breaks: [] });
  });
});
