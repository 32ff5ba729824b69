/** Where FFmpeg is looked for, in which order, and what is said when it is not there. */
import { chmod, copyFile, mkdir, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { describeTools, findTools, lookForTools } from '../../src/footage/index.js';
import { clipFolder, failureOf, tools } from './made-clips.js';

const folder = clipFolder();
afterEach(() => vi.unstubAllEnvs());

/** A program that answers as FFmpeg does. */
async function fakeTool(file: string, name: string, version: string, libavutil: string): Promise<string> {
  await mkdir(path.dirname(file), { recursive: true });
  const lines = [`${name} version ${version} Copyright (c)`, `libavutil      ${libavutil} / ${libavutil}`];
  await writeFile(file, `#!/bin/sh\n${lines.map((line) => `echo '${line}'`).join('\n')}\n`);
  await chmod(file, 0o755);
  return file;
}

describe('finding FFmpeg', () => {
  it('finds both programs on this machine, each with its version', () => {
    for (const tool of [tools.ffmpeg, tools.ffprobe]) {
      expect(path.isAbsolute(tool.path)).toBe(true);
      expect(tool.version).not.toBe('');
    }
    expect(describeTools(tools)).toEqual([
      {
        what: 'ffmpeg',
        ok: true,
        version: tools.ffmpeg.version,
        from: `${tools.ffmpeg.from}: ${tools.ffmpeg.path}`,
        fix: '',
      },
      {
        what: 'ffprobe',
        ok: true,
        version: tools.ffprobe.version,
        from: `${tools.ffprobe.from}: ${tools.ffprobe.path}`,
        fix: '',
      },
    ]);
  });

  it('falls back to the installer packages when the PATH holds none', async () => {
    vi.stubEnv('TRUNDLE_FFMPEG', '');
    vi.stubEnv('TRUNDLE_FFPROBE', '');
    vi.stubEnv('PATH', '/usr/bin/nowhere');
    const found = await findTools();
    expect(['installer package', 'ffmpeg-static']).toContain(found.ffmpeg.from);
    expect(found.ffprobe.from).toBe('installer package');
  });

  it('takes the PATH before the installer packages, and ffprobe from beside ffmpeg', async () => {
    vi.stubEnv('TRUNDLE_FFMPEG', '');
    vi.stubEnv('TRUNDLE_FFPROBE', '');
    vi.stubEnv('PATH', path.join(folder, 'bin'));
    await fakeTool(path.join(folder, 'bin', 'ffmpeg'), 'ffmpeg', '6.1', '58. 29.100');
    await fakeTool(path.join(folder, 'bin', 'ffprobe'), 'ffprobe', '6.1', '58. 29.100');
    const found = await findTools();
    if (found.ffmpeg.from !== 'ffmpeg-static') {
      expect(found.ffmpeg).toMatchObject({
        path: path.join(folder, 'bin', 'ffmpeg'),
        from: 'PATH',
        version: '6.1',
      });
      expect(found.ffprobe).toMatchObject({
        path: path.join(folder, 'bin', 'ffprobe'),
        from: 'beside ffmpeg',
      });
    }
  });

  it('takes the setting first, the argument before the environment', async () => {
    const ffmpeg = await fakeTool(path.join(folder, 'set', 'ffmpeg'), 'ffmpeg', '8.0', '60.  8.100');
    const other = await fakeTool(path.join(folder, 'set', 'other'), 'ffmpeg', '4.4', '56. 70.100');
    vi.stubEnv('TRUNDLE_FFMPEG', other);
    expect((await findTools()).ffmpeg).toMatchObject({ path: other, from: 'setting', knowsFpsMode: false });
    expect((await findTools({ ffmpeg })).ffmpeg).toMatchObject({
      path: ffmpeg,
      from: 'setting',
      knowsFpsMode: true,
    });
  });

  it.each([
    { libavutil: '56. 24.101', release: 'a build of 2018', knows: false },
    { libavutil: '57. 17.100', release: '5.0', knows: false },
    { libavutil: '57. 28.100', release: '5.1', knows: true },
    { libavutil: '59.  8.100', release: '7.0', knows: true },
  ])(
    'knows from the library version which words FFmpeg $release takes',
    async ({ libavutil, release, knows }) => {
      const ffmpeg = await fakeTool(path.join(folder, release, 'ffmpeg'), 'ffmpeg', 'N-1-gabc', libavutil);
      expect((await findTools({ ffmpeg })).ffmpeg.knowsFpsMode).toBe(knows);
    },
  );

  it('does not fall back silently when the path given by hand does not run', async () => {
    const ffmpeg = path.join(folder, 'not-there');
    const said = await failureOf('ffmpeg-missing', () => findTools({ ffmpeg }));
    expect(said).toBe(
      `"${ffmpeg}" was named as ffmpeg but does not run; install FFmpeg so that "ffmpeg" runs in a terminal, or set TRUNDLE_FFMPEG to its path.`,
    );
    const text = path.join(folder, 'text');
    await writeFile(text, 'plywood', { mode: 0o755 });
    await failureOf('ffmpeg-missing', () => findTools({ ffprobe: text }));
    await failureOf('ffmpeg-missing', () => findTools({ ffmpeg: folder }));
  });

  it('leaves out what is missing and tells the fix, for the setup check', async () => {
    const found = await lookForTools({ ffmpeg: path.join(folder, 'not-there') });
    const [row] = describeTools(found);
    expect(row).toMatchObject({ what: 'ffmpeg', ok: false, version: '', from: '' });
    expect(row.fix).toContain('TRUNDLE_FFMPEG');
  });

  it('makes a packaged program runnable when its install script could not', async () => {
    const packaged = path.join(folder, 'node_modules', 'some-package', 'ffmpeg');
    await fakeTool(packaged, 'ffmpeg', '6.0', '58.  2.100');
    const outside = path.join(folder, 'plain-ffmpeg');
    await copyFile(packaged, outside);
    await chmod(packaged, 0o644);
    await chmod(outside, 0o644);
    expect((await findTools({ ffmpeg: packaged })).ffmpeg.version).toBe('6.0');
    const said = await failureOf('ffmpeg-missing', () => findTools({ ffmpeg: outside }));
    expect(said).toContain(`"${outside}" is there but may not be run by this user`);
    const [row] = describeTools(await lookForTools({ ffmpeg: outside }));
    expect(row).toMatchObject({ ok: false, from: '' });
    expect(row.fix).toContain(`chmod a+rx "${outside}"`);
  });
});
