/**
 * A sample clip with a motion log made from its true path: the log runs at 200 samples a second on a clock of its own, with
 * noise, and with a line at 40 Hz that the pictures cannot show.
 */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { poseSeries } from '../../src/motion/index.js';
import { gaussianRandom, seededRandom } from '../../src/numerics/index.js';
import { ANGULAR_AXES, parseRun, type RunDocument } from '../../src/run/index.js';
import { makeCameraPath, readTruth, type SynthTruth } from '../../src/synth/index.js';
import { expectWithin } from '../support/expect-within.js';
import { runWords } from '../support/recorded-io.js';

const STEM = path.resolve(import.meta.dirname, '../../sample-clips/tiled-corridor');
const CLIP = `${STEM}.mp4`;
const DEG = 180 / Math.PI;
const LOG_HZ = 200;
const OFFSET_S = 1.37;
const NOISE_DEG_PER_S = 0.02;
/** On tilt, and in the log alone: small enough that the 23 % of it which the exposure lets through stay below the pictures' noise. */
const LINE = { freqHz: 40, rmsDeg: 0.004 };

let folder = '';
const file = (name: string): string => path.join(folder, name);

/** The log of a pass, as text: rates between true poses 5 ms apart. */
function logText({ settings, timeS }: SynthTruth): string {
  const { poseAt } = makeCameraPath(settings);
  const stamps = Float64Array.from(
    { length: Math.round((timeS[timeS.length - 1] + 0.1) * LOG_HZ) },
    (_, i) => i / LOG_HZ - 0.03,
  );
  const rotations = new Float64Array(9 * stamps.length);
  stamps.forEach((s, i) => rotations.set(Array.from(poseAt(s).rotation), 9 * i));
  const angles = poseSeries(rotations, new Float64Array(3 * stamps.length));
  const normal = gaussianRandom(seededRandom(5));
  const turn = 2 * Math.PI * LINE.freqHz;
  const rows = Array.from({ length: stamps.length - 1 }, (_, i) => {
    const middleS = (stamps[i] + stamps[i + 1]) / 2;
    const line = Math.SQRT2 * LINE.rmsDeg * turn * Math.cos(turn * middleS);
    const rates = ANGULAR_AXES.map((axis) => {
      const true_ = (angles[axis][i + 1] - angles[axis][i]) * LOG_HZ * DEG;
      return (true_ + NOISE_DEG_PER_S * normal() + (axis === 'tilt' ? line : 0)).toFixed(5);
    });
    return [(middleS + OFFSET_S).toFixed(6), ...rates].join(',');
  });
  return ['# made from the true path', 'timeS,panDegPerS,tiltDegPerS,rollDegPerS', ...rows].join('\r\n');
}

beforeAll(() => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-log-'));
});
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

describe('measuring with a motion log', () => {
  let run: RunDocument;
  let html = '';
  const truth = readTruth(`${STEM}.truth.json`);

  beforeAll(async () => {
    fs.writeFileSync(file('head.csv'), logText(truth));
    const { status, out, err } = await runWords(
      'measure',
      '--json',
      '--out-dir',
      file('out'),
      '--motion-log',
      file('head.csv'),
      CLIP,
    );
    expect(status, err).toBe(0);
    run = parseRun(JSON.parse(out));
    html = fs.readFileSync(file('out/tiled-corridor/report.html'), 'utf8');
  });

  it('finds the offset of the clocks within 5 ms, and within four of its deviations', () => {
    expect(run.motionLog).toMatchObject({ file: 'head.csv', aligned: true, reason: null, clockRatio: null });
    expectWithin(run.motionLog?.sampleRateHz ?? NaN, LOG_HZ, { rel: 1e-6 });
    const off = Math.abs((run.motionLog?.offsetS ?? NaN) - OFFSET_S);
    expect(off).toBeLessThan(0.005);
    expect(off).toBeLessThan(4 * (run.motionLog?.offsetSdS ?? NaN));
  });

  it('agrees on tilt and roll within a few per cent, and with the truth', () => {
    for (const axis of ['tilt', 'roll'] as const) {
      const found = run.motionLog?.axes[axis];
      expect(found?.agrees).toBe(true);
      expect(found?.correlation).toBeGreaterThan(0.98);
      expectWithin(found?.gain ?? NaN, 1, { abs: 0.03, why: 'accuracy of the picture on this clip' });
      expectWithin(found?.rmsLogDeg ?? NaN, truth.vibrationRms[axis], {
        rel: 0.05,
        why: 'the exposure takes a few per cent of the fast part; the 40 Hz line folds in',
      });
    }
    expect(run.motionLog?.axes.pan).toMatchObject({ agrees: true, gain: null });
  });

  it('finds the 40 Hz line that the pictures cannot show', () => {
    const tilt = run.motionLog?.beyondNyquist?.axes.tilt;
    expectWithin(tilt?.dominantHz ?? NaN, LINE.freqHz, { abs: 0.5, why: 'width of an ordinate' });
    // The joints of the floor shake the camera up there too, by half as much again as the line.
    expect(tilt?.rmsDeg).toBeGreaterThan(LINE.rmsDeg);
    expect(tilt?.rmsDeg).toBeLessThan(2.5 * LINE.rmsDeg);
    const series = tilt?.series ?? { freqHz: [], psd: [] };
    const stepHz = series.freqHz[1] - series.freqHz[0];
    const near = series.psd.filter((_, k) => Math.abs(series.freqHz[k] - LINE.freqHz) < 2);
    const lineDeg = Math.sqrt(near.reduce((sum, v) => sum + v, 0) * stepHz);
    expectWithin(lineDeg, LINE.rmsDeg, { rel: 0.1, why: 'noise and joints in 4 Hz around the line' });
  });

  it('leaves the figures of the pictures to the pictures, and shows the log on the page', () => {
    expect(run.motion.bandHz[1]).toBeCloseTo(12.5, 6);
    expect(run.motion.angular.pan.status).toBe('below');
    expect(html).toContain('id="motion-log"');
    expect(html).toContain('head.csv');
  });
});

describe('a motion log that cannot be used', () => {
  it.each<[string, string | Buffer | null, string, RegExp]>([
    ['a missing file', null, 'motion-log-unreadable', /cannot be read; give the path of a CSV file/],
    ['a binary file', Buffer.from([0, 1, 2, 3]), 'motion-log-unreadable', /is no text/],
    [
      'a fault in a line',
      'timeS,panDegPerS\n0,n/a',
      'motion-log-invalid',
      /line 2: panDegPerS is not a number: "n\/a"/,
    ],
    [
      'too short a log',
      ['timeS,panDegPerS', ...Array.from({ length: 200 }, (_, i) => `${i / 100},0`)].join('\n'),
      'motion-log-invalid',
      /lasts 2\.0 s; for this clip of 6\.0 s it must last at least 3\.0 s/,
    ],
  ])('stops with status 2 before the long part: %s', async (_, content, code, sentence) => {
    const log = file('bad.csv');
    fs.rmSync(log, { force: true });
    if (content !== null) fs.writeFileSync(log, content);
    const { status, err, out } = await runWords(
      'measure',
      '--out-dir',
      file('bad'),
      '--motion-log',
      log,
      CLIP,
    );
    expect(status).toBe(2);
    expect(err).toMatch(sentence);
    expect(err).toContain(`[${code}]`);
    expect(out).toBe('');
    expect(fs.existsSync(file('bad/tiled-corridor'))).toBe(false);
  });
});
