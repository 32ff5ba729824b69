/** What the page and the terminal say of a motion log. */
import { describe, expect, it } from 'vitest';
import { renderHtml, terminalSummary } from '../../src/report/index.js';
import { motionLogWords } from '../../src/report/motion-log-words.js';
import type { MotionLogSection } from '../../src/run/index.js';
import { madeUpBundle } from './support/made-up-bundle.js';
import { madeUpRun } from './support/made-up-run.js';

const AXIS = {
  correlation: 0.997,
  gain: 1.002,
  gainCi95: [0.99, 1.014] as [number, number],
  rmsVideoDeg: 0.0311,
  rmsLogDeg: 0.0312,
  rmsDifferenceDeg: 0.0012,
  agrees: true,
  noiseLogDeg: 0.0003,
};
const OFF = { ...AXIS, gain: 1.05, gainCi95: [1.03, 1.07] as [number, number], agrees: false };
const OFF_A_LITTLE = { ...AXIS, gain: 0.974, gainCi95: [0.967, 0.981] as [number, number], agrees: false };

function section(change: Partial<MotionLogSection> = {}): MotionLogSection {
  return {
    file: 'head.csv',
    sampleRateHz: 200,
    aligned: true,
    reason: null,
    correlation: 0.98,
    offsetS: 1.37,
    offsetSdS: 0.0002,
    clockRatio: null,
    comparedS: [0.5, 5.4],
    axes: { pan: AXIS, tilt: AXIS, roll: AXIS },
    beyondNyquist: null,
    ...change,
  };
}

function words(change?: Partial<MotionLogSection>): string {
  return motionLogWords(madeUpRun((run) => (run.motionLog = section(change)))).join('\n');
}

describe('a motion log in words', () => {
  it('is not there when none was given', () => {
    expect(motionLogWords(madeUpRun())).toEqual([]);
    expect(terminalSummary(madeUpRun(), { colour: false })).not.toContain('Motion log');
    expect(renderHtml(madeUpBundle())).not.toContain('id="motion-log"');
  });

  it('names the axes that agree, the clock and its deviation', () => {
    expect(words()).toContain('Pan, tilt and roll agree with the picture within the noise of both.');
    expect(words()).toContain(
      "The log (200 samples a second) is 1.3700 s ahead of the clip's time stamps, to 0.4 ms.",
    );
    expect(words({ offsetS: -2, clockRatio: 0.9996 })).toMatch(/2\.0000 s behind.*400 millionths slow/);
  });

  it('tells a clock that is out of order in per cent', () => {
    expect(words({ clockRatio: 1.01 })).toContain(
      "The log's clock runs 1.0 % fast against the clip's time stamps; the comparison allows for it.",
    );
    expect(words({ clockRatio: 0.985 })).toContain('runs 1.5 % slow');
  });

  it('names the focal length that would explain large equal factors, in the unit it was given in', () => {
    const gain = (value: number) => ({ ...OFF, gain: value, gainCi95: [value - 0.007, value + 0.007] });
    const axes = { pan: gain(1.323), tilt: gain(1.377), roll: OFF_A_LITTLE } as MotionLogSection['axes'];
    const text = (rig: { focalLengthMm?: number; focalPx?: number }): string =>
      motionLogWords(
        madeUpRun((run) => {
          run.motionLog = section({ axes });
          delete run.rig.focalLengthMm;
          Object.assign(run.rig, rig);
        }),
      ).join('\n');
    expect(text({ focalLengthMm: 50 })).toContain(
      'Pan and tilt both turn about 1.35 times as much in the log, roll does not: the clip was probably shot with about a 37 mm lens instead of a 50 mm lens.',
    );
    expect(text({ focalPx: 2700 })).toContain('probably about 2000 px instead of 2700 px');
    expect(text({})).toContain('the focal length is probably about 1.35 times too long');
  });

  it('says why nothing is used', () => {
    const text = words({
      aligned: false,
      reason: 'the shake repeats itself',
      axes: { pan: null, tilt: null, roll: null },
    });
    expect(text).toBe(
      'The motion log could not be aligned with the clip: the shake repeats itself. Nothing of it is used.',
    );
  });

  it('takes equal factors on pan and tilt, with roll in step, for the focal length', () => {
    expect(words({ axes: { pan: OFF, tilt: OFF, roll: AXIS } })).toContain(
      'Pan and tilt both turn about 1.05 times as much in the log, roll does not: the clip was probably shot with about a 33.3 mm lens instead of a 35 mm lens.',
    );
  });

  it('takes a difference of pan alone, with roll in step, for translation', () => {
    const text = words({ axes: { pan: OFF, tilt: AXIS, roll: AXIS } });
    expect(text).toContain('Pan differs by 0.0012 deg RMS');
    expect(text).toContain('translation that the picture took for pan would look like this');
  });

  it('offers no meaning when roll differs too', () => {
    expect(words({ axes: { pan: OFF, tilt: OFF, roll: OFF } })).not.toMatch(/focal|translation that/);
  });

  it('says that an axis is too quiet to compare', () => {
    const quiet = { ...AXIS, correlation: 0.1, gain: null, gainCi95: null };
    expect(words({ axes: { pan: quiet, tilt: AXIS, roll: null } })).toMatch(
      /Tilt agrees with the picture.*\nOn pan there is too little shake to compare/,
    );
  });

  it('says what lies above the frame rate and what becomes of it, or a bound rounded up', () => {
    const series = { freqHz: [12, 13], psd: [1e-6, 1e-6], unit: 'deg^2/Hz' };
    const line = {
      rmsDeg: 0.0101,
      belowDeg: null,
      foldedDeg: 0.0024,
      blurredDeg: 0.0098,
      dominantHz: 40,
      series,
    };
    const none = {
      rmsDeg: null,
      belowDeg: 0.00011,
      foldedDeg: null,
      blurredDeg: null,
      dominantHz: null,
      series,
    };
    const text = words({
      beyondNyquist: { bandHz: [12.5, 90], axes: { pan: null, tilt: line, roll: none } },
    });
    expect(text).toContain(
      'Tilt from 12.5 to 90 Hz, too fast for this frame rate: 0.01 deg RMS, strongest at 40 Hz; 0.0098 deg of it blurs within the exposure, 0.0024 deg shows as false slower shake.',
    );
    expect(text).toContain('Roll from 12.5 to 90 Hz, too fast for this frame rate: below 0.00011 deg.');
  });
});

describe('the page and the terminal', () => {
  it('hold a table of the axes that were compared', () => {
    const text = renderHtml(
      madeUpBundle((run) => (run.motionLog = section({ axes: { pan: AXIS, tilt: null, roll: OFF } }))),
    );
    const part = /<section aria-labelledby="motion-log">[\s\S]*?<\/section>/.exec(text)?.[0] ?? '';
    expect(part.match(/<tr>/g)).toHaveLength(3);
    expect(part).toContain('1.030 to 1.070');
    expect(part).toContain('0.031°');
  });

  it('show a hostile file name and reason as text only', () => {
    const hostile = '<img src=x onerror=alert(1)>\u001b[2J';
    const change = (run: { motionLog: MotionLogSection | null }): void => {
      run.motionLog = section({ file: hostile, aligned: false, reason: hostile });
    };
    expect(renderHtml(madeUpBundle(change))).not.toContain('<img src=x');
    expect(terminalSummary(madeUpRun(change), { colour: false })).not.toContain('\u001b');
  });
});
