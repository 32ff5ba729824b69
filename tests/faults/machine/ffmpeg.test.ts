/** What the machine does to FFmpeg while it probes, decodes, reads sound and encodes, and what the user gets. */
import fs from 'node:fs';
import path from 'node:path';
import { afterEach, describe, expect, it, vi } from 'vitest';
import {
  decodeGrey,
  encodeClip,
  findTools,
  grabPicture,
  probeClip,
  readSound,
} from '../../../src/footage/index.js';
import { TrundleError, type Warning } from '../../../src/run/index.js';
import { clipFolder, makeClip, processesNaming, tools } from '../../footage/made-clips.js';
import { runWords } from '../../support/recorded-io.js';
import { misbehaving, withFfmpeg, withFfprobe, WRONGS, type Wrong } from './support/misbehaving.js';

// What takes seconds on a quiet machine takes minutes on a busy one.
vi.setConfig({ testTimeout: 240_000 });

const folder = clipFolder();
const place = (name: string): string => path.join(folder, name);
const clip = await makeClip(
  place('pass.mp4'),
  ...['-f', 'lavfi', '-i', 'testsrc=size=160x120:rate=25:duration=1'],
  ...['-f', 'lavfi', '-i', 'anoisesrc=duration=1', '-shortest', '-pix_fmt', 'yuv420p'],
);
const facts = await probeClip(clip, tools);

/** Programs that are to be silent are waited for shortly, all others for long: on a busy machine they are slow to begin. */
function beSilent(wrong: Wrong): void {
  process.env['TRUNDLE_FFMPEG_SILENCE_S'] = wrong.startsWith('silent') ? '0.4' : '60';
}
afterEach(() => {
  delete process.env['TRUNDLE_FFMPEG_SILENCE_S'];
  delete process.env['TRUNDLE_FFMPEG'];
  delete process.env['TRUNDLE_FFPROBE'];
});

async function told(work: () => Promise<unknown>): Promise<string> {
  const outcome: unknown = await work().then(
    (value) => value,
    (error: unknown) => error,
  );
  expect(outcome).toBeInstanceOf(TrundleError);
  const { code, message } = outcome as TrundleError;
  expect(message).toMatch(/^[^\n]+\.$/);
  return `${message} [${code}]`;
}

async function decodeAll(wrong: Wrong): Promise<number> {
  let frames = 0;
  beSilent(wrong);
  const ffmpeg = withFfmpeg(tools, misbehaving(folder, tools.ffmpeg.path, WRONGS[wrong]));
  for await (const frame of decodeGrey(clip, facts, { stretchContrast: 'off' }, ffmpeg))
    frames += frame.widthPx > 0 ? 1 : 0;
  return frames;
}

const KILLED =
  /was ended from outside \(SIGKILL\).*pass\.mp4.*close other programs and run again.*\[ffmpeg-broke-off\]/;
const CRASHED = /crashed \(SIGSEGV\).*pass\.mp4.*run again.*\[ffmpeg-broke-off\]/;
const STARTLESS = /could not be started for .*pass\.mp4.*ENOENT.*check-setup.*\[ffmpeg-broke-off\]/;
const SILENT = /gave no sign of life for 0\.4 s.*pass\.mp4.*\[ffmpeg-broke-off\]/;
const ENDS: readonly (readonly [Wrong, RegExp])[] = [
  ['killed at once', KILLED],
  ['killed, as a wrapper tells it', KILLED],
  ['crashed at once', CRASHED],
  ['silent from the start', SILENT],
];

describe('while the clip is probed', () => {
  it.each(ENDS)('ffprobe %s: a sentence on ffprobe, not one on the clip', async (wrong, sentence) => {
    beSilent(wrong);
    const ffprobe = misbehaving(folder, tools.ffprobe.path, WRONGS[wrong]);
    expect(await told(() => probeClip(clip, withFfprobe(tools, ffprobe)))).toMatch(sentence);
    expect(await processesNaming(clip)).toEqual([]);
  });

  it('ffprobe killed at its second question: no time stamps are made up', async () => {
    const lines = 'case "$*" in *packet=*) kill -KILL $$;; esac\nexec "$REAL" "$@"';
    const ffprobe = misbehaving(folder, tools.ffprobe.path, lines);
    expect(await told(() => probeClip(clip, withFfprobe(tools, ffprobe)))).toMatch(KILLED);
  });

  it('ffprobe talks rubbish: it is named, and what to set', async () => {
    const ffprobe = misbehaving(folder, tools.ffprobe.path, WRONGS['talks rubbish']);
    expect(await told(() => probeClip(clip, withFfprobe(tools, ffprobe)))).toMatch(
      /does not answer as ffprobe does; name another with TRUNDLE_FFPROBE\. \[ffmpeg-missing\]/,
    );
  });
});

describe('while frames are decoded', () => {
  it.each([
    ...ENDS,
    ['killed half-way', KILLED],
    ['crashed half-way', CRASHED],
    ['silent half-way', SILENT],
  ] as const)('FFmpeg %s: refused, never measured as a clip that ends there', async (wrong, sentence) => {
    expect(await told(() => decodeAll(wrong))).toMatch(sentence);
    expect(await processesNaming(clip)).toEqual([]);
  });

  it('FFmpeg gone since it was found: said as such', async () => {
    const gone = withFfmpeg(tools, place('gone'));
    const decoding = decodeGrey(clip, facts, { stretchContrast: 'off' }, gone);
    expect(await told(() => decoding.next())).toMatch(STARTLESS);
    expect(await told(() => probeClip(clip, withFfprobe(tools, place('gone'))))).toMatch(STARTLESS);
  });

  it('a reader that takes its time is no silence: every frame comes', async () => {
    process.env['TRUNDLE_FFMPEG_SILENCE_S'] = '1.5';
    let frames = 0;
    for await (const { index } of decodeGrey(clip, facts, { stretchContrast: 'off' }, tools)) {
      if (index === 1) await new Promise((resolve) => setTimeout(resolve, 3000));
      frames++;
    }
    expect(frames).toBe(25);
  });

  it('a picture that FFmpeg does not live to give: refused', async () => {
    const ffmpeg = misbehaving(folder, tools.ffmpeg.path, WRONGS['killed at once']);
    expect(await told(() => grabPicture(clip, facts, 0.5, 160, withFfmpeg(tools, ffmpeg)))).toMatch(KILLED);
  });
});

describe('while sound is read', () => {
  it.each(['killed at once', 'killed half-way', 'crashed half-way', 'silent half-way'] as const)(
    'FFmpeg %s: the measurement goes on without sound, with a warning',
    async (wrong) => {
      beSilent(wrong);
      const lines = WRONGS[wrong].replace('60000', '20000');
      const ffmpeg = withFfmpeg(tools, misbehaving(folder, tools.ffmpeg.path, lines));
      const warnings: Warning[] = [];
      const sound = await readSound(facts, { onWarning: (warning) => warnings.push(warning) }, ffmpeg);
      expect(sound).toBeNull();
      expect(warnings.map(({ code }) => code)).toEqual(['sound-unusable']);
      expect(warnings[0].text).toMatch(/it was ended, crashed or fell silent/);
    },
  );
});

describe('while a proof or a made-up clip is encoded', () => {
  // eslint-disable-next-line @typescript-eslint/require-await -- nothing to wait for
  async function* frames(count: number): AsyncGenerator<Uint8Array> {
    for (let i = 0; i < count; i++) yield new Uint8Array(160 * 120).fill(i);
  }

  it.each([
    ['killed at once', /ended from outside \(SIGKILL\).*\[ffmpeg-broke-off\]/],
    ['crashed at once', /crashed \(SIGSEGV\).*\[ffmpeg-broke-off\]/],
    ['silent from the start', /gave no sign of life.*\[ffmpeg-broke-off\]/],
  ] as const)('FFmpeg %s: nothing is left, and an earlier proof stands', async (wrong, sentence) => {
    const target = fs.mkdtempSync(path.join(folder, 'proof-'));
    const file = path.join(target, 'proof.mp4');
    fs.writeFileSync(file, 'an earlier proof');
    beSilent(wrong);
    const ffmpeg = withFfmpeg(tools, misbehaving(folder, tools.ffmpeg.path, WRONGS[wrong]));
    const options = { widthPx: 160, heightPx: 120, fps: 25 };
    expect(await told(() => encodeClip(file, options, frames(40), ffmpeg))).toMatch(sentence);
    expect(fs.readdirSync(target)).toEqual(['proof.mp4']);
    expect(fs.readFileSync(file, 'utf8')).toBe('an earlier proof');
  });

  it('frames that take their time are no silence: the clip is whole', async () => {
    async function* slow(): AsyncGenerator<Uint8Array> {
      yield* frames(3);
      await new Promise((resolve) => setTimeout(resolve, 3000));
      yield* frames(3);
    }
    const file = place('slow.mp4');
    process.env['TRUNDLE_FFMPEG_SILENCE_S'] = '1.5';
    await encodeClip(file, { widthPx: 160, heightPx: 120, fps: 25 }, slow(), tools);
    expect((await probeClip(file, tools)).frameCount).toBe(6);
  });
});

describe('FFmpeg that cannot be used at all', () => {
  const CANNOT: readonly (readonly [string, () => string])[] = [
    ['is not where it was named', () => place('nowhere')],
    ['is a folder', () => folder],
    ['talks rubbish', () => script('#!/bin/sh\necho good morning\n')],
    ['is no program', () => script('roll 12, take 3\n')],
    ['crashes when asked for its version', () => script('#!/bin/sh\nkill -SEGV $$\n')],
  ];
  function script(text: string): string {
    const file = place(`program-${Math.random()}`);
    fs.writeFileSync(file, text, { mode: 0o755 });
    return file;
  }

  it.each(CANNOT)('%s: named, and what to do', async (_, file) => {
    expect(await told(() => findTools({ ffmpeg: file() }))).toMatch(
      /named as ffmpeg but does not run; .*TRUNDLE_FFMPEG.* \[ffmpeg-missing\]/,
    );
    expect(await told(() => findTools({ ffprobe: file() }))).toMatch(
      /named as ffprobe but does not run; .*TRUNDLE_FFPROBE.* \[ffmpeg-missing\]/,
    );
  });
});

describe('the whole command', () => {
  it('measure, FFmpeg killed half-way: status 3, one sentence, no report folder', async () => {
    process.env['TRUNDLE_FFMPEG'] = misbehaving(folder, tools.ffmpeg.path, WRONGS['killed half-way']);
    process.env['TRUNDLE_FFPROBE'] = tools.ffprobe.path;
    const outDir = place('reports');
    const { status, out, err } = await runWords('measure', '--unlogged', '--out-dir', outDir, clip);
    expect(status).toBe(3);
    expect(out).toBe('');
    expect(err.trim().split('\n').at(-1)).toMatch(KILLED);
    expect(err).not.toMatch(/\n\s+at /);
    expect(fs.existsSync(outDir)).toBe(false);
  });
});
