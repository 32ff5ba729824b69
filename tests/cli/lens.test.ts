/** `trundle lens` from the words on the command line to the rig file: made-up board clips of known lenses, and wrong input. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { LensCalibration } from '../../src/lens-calibration.js';
import { distort, undistort } from '../../src/optics/index.js';
import { parseRigFile, type LensDistortion } from '../../src/run/index.js';
import { boardCamera, boardClip, boardPath, type BoardPose } from '../support/board-clip.js';
import { expectWithin } from '../support/expect-within.js';
import { runWords } from '../support/recorded-io.js';

const [WIDTH, HEIGHT] = [960, 540];
const PATIENT = { timeout: 120_000 };

/** 24 mm on full frame, strong barrel; and 50 mm, mild. */
const WIDE = boardCamera(WIDTH, HEIGHT, (WIDTH * 24) / 36, { k1: -0.27, k2: 0.09 });
const NORMAL = boardCamera(WIDTH, HEIGHT, (WIDTH * 50) / 36, { k1: -0.05 });

/** The same 50 mm in a small picture, where clips are quick to make. */
const SMALL = boardCamera(640, 360, (640 * 50) / 36, { k1: -0.05 });

let folder = '';
beforeAll(() => (folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-lens-'))));
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));
const inFolder = (name: string): string => path.join(folder, name);

/** Largest distance over the picture between where two lenses of their own focal lengths see the same rays, px. */
function largestDifferencePx(
  a: { focalPx: number; lens: LensDistortion },
  b: { focalPx: number; lens: LensDistortion },
): number {
  let most = 0;
  for (let x = -WIDTH / 2; x <= WIDTH / 2; x += 24) {
    for (let y = -HEIGHT / 2; y <= HEIGHT / 2; y += 27) {
      const ray = undistort(a.lens, x / a.focalPx, y / a.focalPx);
      const seen = distort(b.lens, ray.x, ray.y);
      most = Math.max(most, Math.hypot(b.focalPx * seen.x - x, b.focalPx * seen.y - y));
    }
  }
  return most;
}

describe('a clip of the board', () => {
  it.each([
    ['wide lens of strong barrel distortion', WIDE, 24, 0.005],
    ['normal lens of mild distortion', NORMAL, 50, 0.02],
  ])('gives back a %s', PATIENT, async (_, camera, focalMm, allowed) => {
    const clip = await boardClip(`${focalMm}mm`, { camera }, boardPath(camera, 24));
    const rig = inFolder(`${focalMm}.json`);
    const { status, out, err } = await runWords(
      ...['lens', clip, '--sensor', 'full-frame', '--square', '25mm', '--rig', rig, '--json'],
    );
    expect(status).toBe(0);
    const lens = JSON.parse(out) as LensCalibration;
    expect(lens.schema).toBe('trundle-lens/1');

    const trueLens = camera.distortion!;
    expectWithin(
      lens.focalPx.value,
      camera.focalPx,
      { rel: 0.005, why: 'half a per cent is promised' },
      'focal length',
    );
    expect(lens.focalPx.ci95[0]).toBeLessThan(camera.focalPx);
    expect(lens.focalPx.ci95[1]).toBeGreaterThan(camera.focalPx);
    expect(lens.focalPx.deviation / camera.focalPx, 'and the interval is no excuse').toBeLessThan(0.002);
    expectWithin(lens.focalLengthMm!.value, focalMm, { rel: 0.005, why: 'as above' }, 'millimetres');
    expectWithin(
      lens.distortion.k1!.value,
      trueLens.k1,
      { abs: allowed, why: 'a tenth of the wide lens' },
      'k1',
    );
    expect(lens.distortion.k1!.ci95[0]).toBeLessThan(trueLens.k1);
    expect(lens.distortion.k1!.ci95[1]).toBeGreaterThan(trueLens.k1);
    if (trueLens.k2)
      expectWithin(lens.distortion.k2!.value, trueLens.k2, { abs: 0.01, why: 'wide lens' }, 'k2');
    else expect(lens.distortion.k2).toBeNull();
    expect(lens.distortion.k3, 'a term the lens has not').toBeNull();

    const { rig: written } = parseRigFile(fs.readFileSync(rig, 'utf8'), rig);
    const found = { focalPx: written.focalPx!, lens: written.lensDistortion! };
    expect(
      largestDifferencePx({ focalPx: camera.focalPx, lens: trueLens }, found),
      'px over the picture, of 960',
    ).toBeLessThan(0.3);

    expect(lens.rmsPx).toBeLessThan(0.1);
    expect(lens.views.used).toBeGreaterThanOrEqual(20);
    expect(lens.freeCentre.offPercentOfWidth).toBeLessThan(0.5);
    expect(lens.coverage.share).toBeGreaterThan(0.6);
    expect(lens.warnings.map(({ code }) => code)).toEqual([]);
    // Boards of the path stand between 12 and 21 squares times focal over width.
    const [nearM, farM] = lens.boardDistanceM!;
    const perSquareM = (0.025 * camera.focalPx) / WIDTH;
    expectWithin(
      nearM,
      12 * perSquareM,
      { rel: 0.1, why: 'the path, sideways moves aside' },
      'nearest board',
    );
    expectWithin(
      farM,
      21 * perSquareM,
      { rel: 0.1, why: 'the path, sideways moves aside' },
      'furthest board',
    );
    expect(err).toContain(rig);
  });

  it('is read without the views that do not agree with the others', PATIENT, async () => {
    const zoomed = { camera: { ...SMALL, focalPx: 1.15 * SMALL.focalPx }, frames: [3, 8] };
    const clip = await boardClip('zoomed', { camera: SMALL }, boardPath(SMALL, 14), zoomed);
    const { status, out } = await runWords('lens', clip, '--json');
    expect(status).toBe(0);
    const lens = JSON.parse(out) as LensCalibration;
    expect(lens.views.leftOut).toBe(2);
    expectWithin(lens.focalPx.value, SMALL.focalPx, { rel: 0.005, why: 'as without them' }, 'focal length');
    expect(lens.rmsPx).toBeLessThan(0.12);
  });

  it('is refused when the zoom was moved all the time, and not blamed on the board', PATIENT, async () => {
    const everyOther = [0, 2, 4, 6, 8, 10, 12];
    const zoomed = { camera: { ...SMALL, focalPx: 1.4 * SMALL.focalPx }, frames: everyOther };
    const clip = await boardClip('zooming', { camera: SMALL }, boardPath(SMALL, 14), zoomed);
    const { status, err } = await runWords('lens', clip);
    expect(err).toMatch(/px off any flat board seen through one lens.*\[board-fit-poor\]/);
    expect(status).toBe(3);
  });
});

describe('a rig file that is there already', () => {
  it(
    'keeps all it holds, in its own groups, and gets the lens; the figures are told in words',
    PATIENT,
    async () => {
      const clip = await boardClip('24mm', { camera: WIDE }, boardPath(WIDE, 24));
      const rig = inFolder('old.json');
      const result = inFolder('lens.json');
      const old = { rig: { readoutMs: 12, focalPx: 1, wheelbaseM: 0.45 }, delivery: { widthPx: 1920 } };
      fs.writeFileSync(rig, JSON.stringify(old));
      const { status, out } = await runWords('lens', clip, '--rig', rig, '--out', result);
      expect(status).toBe(0);
      const { rig: after, delivery } = JSON.parse(fs.readFileSync(rig, 'utf8')) as typeof old;
      expect(Object.keys(after)).toEqual([
        'readoutMs',
        'focalPx',
        'wheelbaseM',
        'focalPxWidth',
        'lensDistortion',
      ]);
      expect([after.readoutMs, after.wheelbaseM, delivery.widthPx]).toEqual([12, 0.45, 1920]);
      expectWithin(after.focalPx, 640, { rel: 0.005 });

      expect(out).toMatch(/Focal length +6\d\d\.\d+ px \(6\d\d\.\d+ to 6\d\d\.\d+\) of 960 px wide pictures/);
      expect(out).toMatch(/k1 -0\.2\d+ \(-0\.2\d+ to -0\.2\d+\)/);
      expect(out).toMatch(/k3 0 \(not needed\)/);
      expect(out).not.toMatch(/ mm /);
      const saved = JSON.parse(fs.readFileSync(result, 'utf8')) as LensCalibration;
      expect([saved.focalLengthMm, saved.boardDistanceM], 'not told without sensor and square').toEqual([
        null,
        null,
      ]);
      expect(fs.readdirSync(folder).filter((name) => name.endsWith('.part'))).toEqual([]);
    },
  );

  it('is refused before the clip is read, and left alone, when it is wrong', async () => {
    const rig = inFolder('wrong.json');
    fs.writeFileSync(rig, '{"wheelbasM": 1}');
    const { status, err } = await runWords('lens', inFolder('no-clip.mp4'), '--rig', rig);
    expect(status).toBe(2);
    expect(err).toMatch(/unknown name "wheelbasM".*\[rig-invalid\]/);
    expect(fs.readFileSync(rig, 'utf8')).toBe('{"wheelbasM": 1}');
  });
});

describe('a clip that tells no lens', () => {
  it.each<[string, string, (BoardPose | null)[], RegExp]>([
    [
      'without a board',
      'none',
      [null, null],
      /No calibration board was found in ".*"; film the board of "trundle lens --print".*\[board-not-found\]/,
    ],
    [
      'of a board that is never moved',
      'still',
      Array.from({ length: 3 }, () => ({ turn: [0.3, 0.2, 0], at: [0, 0, 14] }) as const),
      /shows the board in one view only.*\[board-views-few\]/,
    ],
    [
      'of a board that always faces the lens',
      'flat',
      [10, 12, 14, 16, 18, 20].map(
        (z, i) => ({ turn: [0, 0, 0.1 * i], at: [(i % 3) - 1, (i % 2) - 0.5, z] }) as const,
      ),
      /do not tell the focal length: the board faces the lens in all of them.*\[board-views-flat\]/,
    ],
  ])('%s is refused with a sentence and status 3', PATIENT, async (_, name, poses, sentence) => {
    const clip = await boardClip(name, { camera: SMALL }, poses);
    const rig = inFolder(`${name}-rig.json`);
    const { status, out, err } = await runWords('lens', clip, '--rig', rig);
    expect(err).toMatch(sentence);
    expect([status, out]).toEqual([3, '']);
    expect(fs.existsSync(rig)).toBe(false);
  });

  it('is taken, but with a word on it, when the board stays in the middle', PATIENT, async () => {
    const far = boardPath(SMALL, 8, 0).map(
      ({ turn, at }) => ({ turn, at: [at[0], at[1], 1.35 * at[2]] }) as const,
    );
    const clip = await boardClip('middle', { camera: SMALL }, far);
    const { status, out, err } = await runWords('lens', clip, '--json');
    expect(status).toBe(0);
    expect(err).toMatch(/^For a rig file: \{"focalPx":\d+/);
    const { warnings, distortion, coverage } = JSON.parse(out) as LensCalibration;
    expect(warnings.map(({ code }) => code)).toEqual(
      expect.arrayContaining(['board-coverage-poor', 'board-views-few']),
    );
    expect(warnings[0].text).toMatch(/reached \d\d % of the picture and hardly the top left, .* corners;/);
    expect(coverage.share).toBeLessThan(0.4);
    expect([distortion.k2, distortion.k3], 'terms that the middle cannot carry').toEqual([null, null]);
  });
});

describe('trundle lens', () => {
  it.each([
    [['lens'], /Give a clip of the printed board, or --print.*\[argument-invalid\]/],
    [['lens', '--print', 'a.mp4'], /"a\.mp4" is too much/],
    [['lens', 'a.mp4', 'b.mp4'], /"b\.mp4" is too much/],
    [['lens', '--print', '--out', 'board.jpg'], /must end in \.pdf or \.png/],
    [['lens', '--print', '--paper', 'a5'], /"--paper a5" must be one of a4, a3, letter/],
    [['lens', '--print', '--square', '25'], /is not a length with its unit/],
    [['lens', '--print', '--square', '30mm'], /Squares of 30mm do not go on a4/],
    [['lens', '--print', '--rig', 'rig.json'], /"--rig" goes with a clip, not with --print/],
    [['lens', 'a.mp4', '--paper', 'a4'], /"--paper" goes with --print/],
    [['lens', 'a.mp4', '--sensor', 'huge'], /Sensor "huge" is not known/],
    [['synth', '--k1', 'steep'], /"steep" is not a number/],
    [['synth', '--k1', '-0.9'], /lensK1 must lie in -0\.3\.\.0\.3, got -0\.9/],
    [['lens', 'a.mp4', '--square', '2m'], /must be more than 0 and at most 1m/],
  ])('refuses %j with one sentence and status 2', async (words, sentence) => {
    const { status, out, err } = await runWords(...words);
    expect(err).toMatch(sentence);
    expect(err.trim().split('\n')).toHaveLength(1);
    expect([status, out]).toEqual([2, '']);
  });

  it('says that a clip is missing, with status 3', async () => {
    const { status, err } = await runWords('lens', inFolder('nothing.mp4'));
    expect(err).toMatch(/\[clip-missing\]/);
    expect(status).toBe(3);
  });

  it('prints the board to the file named, whole, and says how to use it', async () => {
    const file = inFolder('board.pdf');
    const { status, out, err } = await runWords('lens', '--print', '--out', file, '--square', '20mm');
    expect([status, out]).toEqual([0, `${file}\n`]);
    expect(err).toMatch(/Squares of 20 mm\. Print at 100 %/);
    expect(fs.readFileSync(file, 'latin1').slice(0, 8)).toBe('%PDF-1.4');
  });

  it('says before the clip is read that the result could not be written', async () => {
    for (const option of ['--rig', '--out']) {
      const { status, err } = await runWords(
        'lens',
        inFolder('no.mp4'),
        option,
        inFolder('no/such/file.json'),
      );
      expect(err).toMatch(/\[output-unwritable\]/);
      expect(status).toBe(2);
    }
  });

  it('says that a file cannot be written, with status 2', async () => {
    const { status, err } = await runWords('lens', '--print', '--out', inFolder('no/such/board.png'));
    expect(err).toMatch(/cannot be written; check that its folder exists.*\[output-unwritable\]/);
    expect(status).toBe(2);
  });

  it(
    'has a counterpart in synth, which films with a lens that bends lines and says so in the rig',
    PATIENT,
    async () => {
      const { status } = await runWords(
        ...[
          'synth',
          '--k1',
          '-0.2',
          '--size',
          '64x36',
          '--duration',
          '0.2s',
          '--out-dir',
          folder,
          '--name',
          'bent',
        ],
      );
      expect(status).toBe(0);
      const { rig } = parseRigFile(fs.readFileSync(inFolder('bent.rig.json'), 'utf8'), 'bent');
      expect(rig.lensDistortion).toEqual({ k1: -0.2, k2: 0, p1: 0, p2: 0, k3: 0 });
    },
  );
});
