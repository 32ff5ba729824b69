/**
 * Wrong or awkward input through the whole program: each gets its exit status and one plain sentence, never a stack
 * trace, never a half-written report. The clips are made here.
 */
import { spawn } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parseRun, type RunDocument } from '../../src/run/index.js';
import { makeClip } from '../footage/made-clips.js';
import { madeUpClip } from '../support/made-up-clip.js';
import { runWords, type CliResult } from '../support/recorded-io.js';

let folder = '';
let pass = '';

/** Measures into the test folder and checks what holds for every outcome. */
async function measureClip(
  clip: string,
  ...words: string[]
): Promise<CliResult & { run: RunDocument | null; reportFolder: string }> {
  const outDir = path.join(folder, 'out');
  const result = await runWords('measure', '--json', '--out-dir', outDir, ...words, '--', clip);
  expect(result.err).not.toMatch(/\n\s+at /);
  const reportFolder = path.join(outDir, path.basename(clip, path.extname(clip)));
  const measured = result.status === 0 || result.status === 4;
  expect(fs.existsSync(path.join(reportFolder, 'run.json'))).toBe(measured);
  const leftovers = fs.existsSync(outDir)
    ? fs.readdirSync(outDir).filter((name) => name.startsWith('.'))
    : [];
  expect(leftovers).toEqual([]);
  return { ...result, run: measured ? parseRun(JSON.parse(result.out)) : null, reportFolder };
}

function file(name: string): string {
  return path.join(folder, name);
}

beforeAll(async () => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-bad-'));
  const clip = await madeUpClip({
    name: 'small-lateral',
    durationS: 3,
    fps: 25,
    widthPx: 640,
    heightPx: 360,
    move: 'lateral',
    speedMps: 0.2,
    focalLengthMm: 35,
  });
  pass = clip.clipFile;
});
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

describe('a clip that cannot be used', () => {
  it('says that a missing file is missing', async () => {
    const { status, err, out } = await measureClip(file('nowhere.mp4'));
    expect(status).toBe(3);
    expect(err).toMatch(/nowhere\.mp4.*\[clip-missing\]/);
    expect(out).toBe('');
  });

  it('says that a text file named .mp4 is no video', async () => {
    fs.writeFileSync(file('notes.mp4'), 'roll 12, take 3\n');
    const { status, err } = await measureClip(file('notes.mp4'));
    expect(status).toBe(3);
    expect(err).toMatch(/notes\.mp4.*\[clip-unreadable\]/);
  });

  it('says that an empty file is no video', async () => {
    fs.writeFileSync(file('empty.mp4'), '');
    const { status, err } = await measureClip(file('empty.mp4'));
    expect(status).toBe(3);
    expect(err).toMatch(/empty\.mp4.*\[clip-unreadable\]/);
  });

  it('says that sound alone has no picture', async () => {
    await makeClip(file('sound.mp4'), '-f', 'lavfi', '-i', 'sine=frequency=440:duration=2');
    const { status, err } = await measureClip(file('sound.mp4'));
    expect(status).toBe(3);
    expect(err).toMatch(/sound\.mp4.*\[clip-no-video\]/);
  });

  it('says that one frame is no clip', async () => {
    await makeClip(file('one.mp4'), '-i', pass, '-frames:v', '1');
    const { status, err } = await measureClip(file('one.mp4'));
    expect(status).toBe(3);
    expect(err).toMatch(/\[clip-too-short\]/);
  });

  it('says that a video stream without any frame holds nothing', async () => {
    await makeClip(file('zero.mp4'), '-i', pass, '-frames:v', '0', '-f', 'mp4');
    const { status, err } = await measureClip(file('zero.mp4'));
    expect(status).toBe(3);
    expect(err).toMatch(/\[clip-(too-short|no-video|unreadable)\]/);
  });

  it('refuses an in point after the out point and tells the length of the clip', async () => {
    const { status, err } = await measureClip(pass, '--in', '2s', '--out', '1s');
    expect(status).toBe(2);
    expect(err).toMatch(/\[range-invalid\]/);
  });

  it('refuses an in point beyond the end', async () => {
    const { status, err } = await measureClip(pass, '--in', '00:01:00:00');
    expect(status).toBe(2);
    expect(err).toMatch(/\[range-invalid\]/);
  });
});

describe('a clip that can be decoded but not measured', () => {
  it.each([
    ['black', 'color=black:size=640x360:rate=25:duration=2'],
    ['bare', 'color=0x808080:size=640x360:rate=25:duration=2'],
  ])('calls a %s clip unmeasurable, with a report that says what to shoot again', async (name, source) => {
    await makeClip(file(`${name}.mp4`), '-f', 'lavfi', '-i', source, '-pix_fmt', 'yuv420p');
    const { status, run, reportFolder } = await measureClip(file(`${name}.mp4`));
    expect(status).toBe(4);
    expect(run?.verdict.grade).toBe('unmeasurable');
    expect(run?.verdict.reasons.length).toBeGreaterThan(0);
    expect(run?.motion.angular.pan.rmsDeg).toBeNull();
    expect(fs.existsSync(path.join(reportFolder, 'report.html'))).toBe(true);
  });
});

describe('a clip that needs care', () => {
  it('measures what there is of a truncated file and says so, or says that it cannot be read', async () => {
    await makeClip(file('whole.mkv'), '-i', pass, '-c', 'copy');
    const bytes = fs.readFileSync(file('whole.mkv'));
    fs.writeFileSync(file('cut-short.mkv'), bytes.subarray(0, Math.floor(bytes.length * 0.7)));
    const { status, run } = await measureClip(file('cut-short.mkv'));
    expect(status).toBe(0);
    expect(run?.warnings.some((warning) => /clip-(truncated|damaged)/.test(warning.code))).toBe(true);
    expect(run!.clip.frameCount).toBeLessThan(75);
  });

  it('refuses an MP4 whose index was lost', async () => {
    // A camera writes the index when it stops; made-up clips have it in front.
    await makeClip(file('index-last.mp4'), '-i', pass, '-c', 'copy');
    const bytes = fs.readFileSync(file('index-last.mp4'));
    fs.writeFileSync(file('no-index.mp4'), bytes.subarray(0, Math.floor(bytes.length * 0.6)));
    const { status, err } = await measureClip(file('no-index.mp4'));
    expect(status).toBe(3);
    expect(err).toMatch(/\[clip-unreadable\]/);
  });

  it('measures one side of a hard cut and says which', async () => {
    await makeClip(
      file('cut.mp4'),
      '-i',
      pass,
      '-i',
      pass,
      '-filter_complex',
      '[0:v]trim=0:1,setpts=PTS-STARTPTS[a];[1:v]hflip,vflip,trim=0:2,setpts=PTS-STARTPTS[b];[a][b]concat=n=2:v=1',
    );
    const { status, run } = await measureClip(file('cut.mp4'));
    expect([0, 4]).toContain(status);
    const cut = run?.warnings.find((warning) => warning.code === 'cut');
    expect(cut?.atS).toBeGreaterThan(0.9);
    expect(cut?.atS).toBeLessThan(1.1);
    expect(run!.clip.rangeS[0]).toBeGreaterThan(0.9);
  });

  it('knows a variable rate when it meets one and keeps the real time stamps', async () => {
    const uneven = [
      '-vf',
      "settb=1/1000,setpts='(N+0.3*mod(N,3))/25/TB'",
      '{passthrough}',
      '-enc_time_base',
      '1/1000',
    ];
    await makeClip(file('variable.mp4'), '-i', pass, ...uneven);
    const { status, run } = await measureClip(file('variable.mp4'));
    expect([0, 4]).toContain(status);
    expect(run?.clip.variableRate).toBe(true);
    expect(run?.warnings.map(({ code }) => code)).toContain('variable-rate');
  });

  it('turns a clip upright that was recorded on its side', async () => {
    await makeClip(file('side.mp4'), '-i', pass, '-c', 'copy', '-metadata:s:v', 'rotate=90');
    const { status, run } = await measureClip(file('side.mp4'));
    expect([0, 4]).toContain(status);
    expect(run?.clip).toMatchObject({ widthPx: 360, heightPx: 640 });
    expect(run?.clip.rotationDeg).not.toBe(0);
    expect(run!.tracking.analysisHeightPx).toBeGreaterThan(run!.tracking.analysisWidthPx);
  });

  it.each(['with space.mp4', `it's "quoted".mp4`, 'Fußboden 床 ✓.mp4', '-dash.mp4', '100%d:1.mp4'])(
    'takes the file name %s',
    async (name) => {
      fs.copyFileSync(pass, file(name));
      const { status, run } = await measureClip(file(name), '--out', '1.6s');
      expect([0, 4]).toContain(status);
      expect(run?.clip.file).toBe(name);
    },
  );

  it('takes a relative name that begins with a dash after "--"', async () => {
    fs.copyFileSync(pass, file('-dash.mp4'));
    const here = process.cwd();
    process.chdir(folder);
    try {
      const { status, run } = await measureClip('-dash.mp4', '--out', '1.6s');
      expect([0, 4]).toContain(status);
      expect(run?.clip.file).toBe('-dash.mp4');
    } finally {
      process.chdir(here);
    }
  });

  it('says that a folder cannot be written before anything is lost', async () => {
    fs.writeFileSync(file('blocked'), 'a file where a folder should go');
    const { status, err } = await runWords('measure', '--out-dir', file('blocked'), '--out', '1.6s', pass);
    expect(status).toBe(2);
    expect(err).toMatch(/\[output-unwritable\]/);
    expect(fs.readFileSync(file('blocked'), 'utf8')).toMatch(/a file where/);
  });
});

describe('an interrupt', () => {
  // A clip that keeps the fastest machine busy for longer than this.
  it.each([1000, 2000])(
    'after %i ms ends the program with 130, one sentence and nothing written',
    async (afterMs) => {
      const outDir = file(`interrupted-${afterMs}`);
      const child = spawn(
        process.execPath,
        ['dist/cli/main.js', 'measure', '--out-dir', outDir, 'sample-clips/tiled-corridor.mp4'],
        {
          stdio: ['ignore', 'pipe', 'pipe'],
        },
      );
      let err = '';
      child.stderr.on('data', (chunk: Buffer) => (err += chunk.toString()));
      // Its first word, on the rig, says that it is at work.
      child.stderr.once('data', () => setTimeout(() => child.kill('SIGINT'), afterMs));
      const status = await new Promise<number | null>((resolve) => child.on('exit', (code) => resolve(code)));
      expect(status).toBe(130);
      expect(err).toMatch(/\[interrupted\]/);
      expect(err).not.toMatch(/\n\s+at /);
      expect(fs.existsSync(outDir)).toBe(false);
    },
  );
});
