/** Finds FFmpeg and ffprobe on this machine, asks their versions, and says what to do when one is missing. */
import { execFile } from 'node:child_process';
import { constants } from 'node:fs';
import { access, chmod, stat } from 'node:fs/promises';
import path from 'node:path';
import { promisify } from 'node:util';
import { TrundleError } from '../run/index.js';
import type { FfmpegTool, Tool, Tools, ToolSource } from './types.js';

const run = promisify(execFile);
const ANSWER_WITHIN_MS = 20_000;

/** Paths given by hand; an empty or absent one means: look for it. */
export interface ToolSetting {
  readonly ffmpeg?: string | undefined;
  readonly ffprobe?: string | undefined;
}

/** One line of the setup check. */
export interface ToolRow {
  readonly what: 'ffmpeg' | 'ffprobe';
  readonly ok: boolean;
  /** Empty when missing. */
  readonly version: string;
  /** Where it was found, with its path; empty when missing. */
  readonly from: string;
  /** What to do; empty when nothing needs doing. */
  readonly fix: string;
}

interface Candidate {
  readonly path: string;
  readonly from: ToolSource;
}

const FIX = {
  ffmpeg: 'install FFmpeg so that "ffmpeg" runs in a terminal, or set TRUNDLE_FFMPEG to its path',
  ffprobe:
    'install FFmpeg with ffprobe so that "ffprobe" runs in a terminal, or set TRUNDLE_FFPROBE to its path',
} as const;

/**
 * Finds both programs, or says which is missing.
 *
 * Order for ffmpeg: the setting (argument, then environment TRUNDLE_FFMPEG), the ffmpeg-static package when its
 * download is really there, the PATH, the installer package. For ffprobe: the setting (TRUNDLE_FFPROBE), the
 * folder of the ffmpeg found, the PATH, the installer package. A candidate counts only when it runs and answers.
 *
 * @throws TrundleError 'ffmpeg-missing' when one is not found, or when a path given by hand does not run
 */
export async function findTools(setting: ToolSetting = {}): Promise<Tools> {
  const { ffmpeg, ffprobe, barred } = await lookForTools(setting);
  if (!ffmpeg) throw missing('ffmpeg', setting.ffmpeg || process.env.TRUNDLE_FFMPEG, barred.ffmpeg);
  if (!ffprobe) throw missing('ffprobe', setting.ffprobe || process.env.TRUNDLE_FFPROBE, barred.ffprobe);
  return { ffmpeg, ffprobe };
}

/** What was found; and, of what was not, the file that is there but may not be run by this user. */
export type FoundTools = Partial<Tools> & {
  readonly barred: Readonly<Partial<Record<'ffmpeg' | 'ffprobe', string>>>;
};

/** As findTools, but leaves out what is missing instead of throwing. */
export async function lookForTools(setting: ToolSetting = {}): Promise<FoundTools> {
  const barred: Partial<Record<'ffmpeg' | 'ffprobe', string>> = {};
  const ffmpeg = await firstThatRuns(
    'ffmpeg',
    await ffmpegCandidates(setting.ffmpeg || process.env.TRUNDLE_FFMPEG),
    (file) => (barred.ffmpeg ??= file),
  );
  const ffprobe = await firstThatRuns(
    'ffprobe',
    await ffprobeCandidates(setting.ffprobe || process.env.TRUNDLE_FFPROBE, ffmpeg?.path),
    (file) => (barred.ffprobe ??= file),
  );
  return { ...(ffmpeg && { ffmpeg }), ...(ffprobe && { ffprobe }), barred };
}

/** Rows of the setup check, one per program, with the fix for what is missing. */
export function describeTools(tools: Readonly<Partial<FoundTools>>): ToolRow[] {
  return (['ffmpeg', 'ffprobe'] as const).map((what) => {
    const tool = tools[what];
    const file = tools.barred?.[what];
    if (!tool) return { what, ok: false, version: '', from: '', fix: file ? fixOfBarred(file) : FIX[what] };
    return { what, ok: true, version: tool.version, from: `${tool.from}: ${tool.path}`, fix: '' };
  });
}

function fixOfBarred(file: string): string {
  return `"${file}" is there but may not be run by this user; let its owner permit it: chmod a+rx "${file}"`;
}

function missing(
  what: 'ffmpeg' | 'ffprobe',
  given: string | undefined,
  barred: string | undefined,
): TrundleError {
  if (barred)
    return new TrundleError(
      'ffmpeg-missing',
      `No ${what} can be run on this machine: ${fixOfBarred(barred)}.`,
    );
  const start = given
    ? `"${given}" was named as ${what} but does not run`
    : `No ${what} was found on this machine`;
  return new TrundleError('ffmpeg-missing', `${start}; ${FIX[what]}.`);
}

async function ffmpegCandidates(given: string | undefined): Promise<Candidate[]> {
  if (given) return [{ path: given, from: 'setting' }];
  return [
    ...(await packaged('ffmpeg-static', 'ffmpeg-static')),
    ...onPath('ffmpeg'),
    ...(await packaged('@ffmpeg-installer/ffmpeg', 'installer package')),
  ];
}

async function ffprobeCandidates(
  given: string | undefined,
  ffmpegPath: string | undefined,
): Promise<Candidate[]> {
  if (given) return [{ path: given, from: 'setting' }];
  const beside = ffmpegPath ? path.join(path.dirname(ffmpegPath), executable('ffprobe')) : null;
  return [
    ...(beside ? [{ path: beside, from: 'beside ffmpeg' as const }] : []),
    ...onPath('ffprobe'),
    ...(await packaged('@ffprobe-installer/ffprobe', 'installer package')),
  ];
}

/** The path a package exports; packages of binaries throw on a machine they do not know. */
async function packaged(name: string, from: ToolSource): Promise<Candidate[]> {
  try {
    const module = (await import(name)) as { default?: unknown };
    const exported = module.default;
    const file = typeof exported === 'string' ? exported : (exported as { path?: unknown } | null)?.path;
    return typeof file === 'string' ? [{ path: file, from }] : [];
  } catch {
    return [];
  }
}

function onPath(name: string): Candidate[] {
  // A folder by a relative path is another one wherever the program is started: beside clips of others, say.
  const folders = (process.env.PATH ?? '').split(path.delimiter).filter((folder) => path.isAbsolute(folder));
  return folders.map((folder) => ({ path: path.join(folder, executable(name)), from: 'PATH' }));
}

function executable(name: string): string {
  return process.platform === 'win32' ? `${name}.exe` : name;
}

async function firstThatRuns<Name extends 'ffmpeg' | 'ffprobe'>(
  name: Name,
  candidates: readonly Candidate[],
  onBarred: (file: string) => void,
): Promise<Tools[Name] | undefined> {
  for (const candidate of candidates) {
    if (!(await isExecutable(candidate.path, onBarred))) continue;
    const tool = await answer(name, candidate);
    if (tool) return tool;
  }
  return undefined;
}

async function isExecutable(file: string, onBarred: (file: string) => void): Promise<boolean> {
  try {
    if (!(await stat(file)).isFile()) return false;
  } catch {
    return false;
  }
  try {
    await access(file, constants.X_OK);
    return true;
  } catch {
    // Packages of binaries lose the executable bit when their install script was not allowed to run.
    const isPackaged = file.includes(`${path.sep}node_modules${path.sep}`);
    const isMended =
      isPackaged &&
      (await chmod(file, 0o755).then(
        () => true,
        () => false,
      ));
    if (!isMended) onBarred(file);
    return isMended;
  }
}

async function answer(name: 'ffmpeg' | 'ffprobe', candidate: Candidate): Promise<FfmpegTool | undefined> {
  try {
    const { stdout } = await run(candidate.path, ['-version'], {
      timeout: ANSWER_WITHIN_MS,
      windowsHide: true,
    });
    const version = new RegExp(`^${name} version (\\S+)`).exec(stdout)?.[1];
    if (!version) return undefined;
    const tool: Tool = { ...candidate, version: version.replace(/-(static|https?:.*)$/, '') };
    const licence = licenceOfBuild(stdout);
    return { ...tool, knowsFpsMode: knowsFpsMode(stdout), ...(licence !== null && { licence }) };
  } catch {
    return undefined;
  }
}

/** The licence that a build of FFmpeg is under by the options it was built with (its LICENSE.md); null when it does not tell them. */
function licenceOfBuild(versionText: string): string | null {
  const built = /^configuration:(.*)$/m.exec(versionText)?.[1];
  if (built === undefined) return null;
  const has = (option: string): boolean => built.split(/\s+/).includes(`--enable-${option}`);
  if (has('nonfree')) return 'non-free parts, not to be passed on';
  if (has('gpl')) return has('version3') ? 'GPL-3.0-or-later' : 'GPL-2.0-or-later';
  return has('version3') ? 'LGPL-3.0-or-later' : 'LGPL-2.1-or-later';
}

/** `-fps_mode` came with FFmpeg 5.1, whose libavutil is 57.28; builds from git have no other telling number. */
function knowsFpsMode(versionText: string): boolean {
  const [, major, minor] = /libavutil\s+(\d+)\.\s*(\d+)\./.exec(versionText) ?? [];
  return Number(major) > 57 || (Number(major) === 57 && Number(minor) >= 28);
}
