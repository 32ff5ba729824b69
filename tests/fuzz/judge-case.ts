/**
 * Takes one damaged clip through the program and says whether that ended as it must: in a run whose figures are numbers, or in one
 * sentence for people with a code of wrong input. Where nothing was said about the damage, the figures are held against the original's.
 */
import { execFile } from 'node:child_process';
import fs from 'node:fs/promises';
import path from 'node:path';
import { promisify } from 'node:util';
import { measure, type Measured } from '../../src/measure.js';
import { probeClip, type Tools } from '../../src/footage/index.js';
import { readMeasured } from '../../src/read-measured.js';
import { RUN_FILES, writeRun } from '../../src/report/index.js';
import { EXIT, TrundleError, parseRun, type RunDocument } from '../../src/run/index.js';

const run = promisify(execFile);

/** How a case ended. */
export interface Ending {
  /** "measured", "unmeasurable" or a code of TrundleError; "fault" for what must not be. */
  readonly outcome: string;
  /** What is wrong with it; null when all is well. */
  readonly fault: string | null;
  /** The sentence of a refusal, for a person who looks through them. */
  readonly sentence?: string;
  /** Codes of the warnings of a run. */
  readonly warnings?: readonly string[];
  /** Whether the figures were held against those of the original, and what for if not. */
  readonly oracle?: 'same' | 'picture differs' | 'facts differ' | 'warned';
}

/** What is known of an undamaged clip. */
export interface Original {
  readonly run: RunDocument;
  readonly frames: readonly DecodedFrame[];
  readonly facts: string;
}

/** A frame as FFmpeg alone decodes it. */
interface DecodedFrame {
  /** Seconds from the first frame. */
  readonly timeS: number;
  readonly hash: string;
}

/** What a case needs. */
export interface CaseSetting {
  readonly tools: Tools;
  /** The undamaged clip, measured when first asked for; null when figures are not to be held against it. */
  readonly original: (() => Promise<Original>) | null;
  /** Where a report is written and read again; null for no report. */
  readonly reportFolder: string | null;
}

/** Measures an undamaged clip. @throws what measure throws */
export async function measureOriginal(file: string, tools: Tools): Promise<Original> {
  const measured = await measure({ clip: file }, { tools, threads: 1 });
  return { run: measured.run, frames: await decodedFrames(file, tools), facts: await factsOf(file, tools) };
}

/** Runs one case. Never throws: what must not be thrown is a fault. */
export async function judgeCase(file: string, setting: CaseSetting): Promise<Ending> {
  let measured: Measured;
  try {
    measured = await measure({ clip: file }, { tools: setting.tools, threads: 1 });
  } catch (error) {
    return refusal(error, file);
  }
  const outcome = measured.run.verdict.grade === 'unmeasurable' ? 'unmeasurable' : 'measured';
  const warnings = measured.run.warnings.map(({ code }) => code);
  try {
    const fault = faultOfRun(measured) ?? (await faultOfReport(measured, setting.reportFolder));
    if (fault !== null) return { outcome, warnings, fault };
    return { outcome, warnings, ...(await againstOriginal(file, measured.run, setting)) };
  } catch (error) {
    return { outcome, warnings, fault: `afterwards: ${stackOf(error)}` };
  }
}

function stackOf(error: unknown): string {
  return error instanceof Error ? (error.stack ?? error.message) : String(error);
}

/** A refusal must be one sentence with a code of wrong input. */
function refusal(error: unknown, file: string): Ending {
  if (!(error instanceof TrundleError)) return { outcome: 'fault', fault: `threw ${stackOf(error)}` };
  const { code, message: sentence, exitStatus } = error;
  const isInput = exitStatus === EXIT.clipUnusable || code === 'range-invalid';
  if (!isInput) return { outcome: code, fault: `refused with status ${exitStatus}: ${sentence}` };
  const fault =
    faultOfWords(sentence) ?? (sentence.includes(path.basename(file)) ? null : 'does not name the clip');
  return { outcome: code, sentence, fault: fault && `${fault}: ${sentence}` };
}

/** Words for people hold no stack, no slip of the program and no page of output. */
function faultOfWords(text: string): string | null {
  if (/\n/.test(text)) return 'a sentence of several lines';
  if (/\b(NaN|undefined|null|Infinity|\[object)\b|∞|\d{16,}|\de\+\d/.test(text))
    return 'a slip in a sentence';
  if (/\s+at .*:\d+:\d+|Command failed/.test(text)) return 'inner workings in a sentence';
  return text.length > 500 ? 'a sentence of more than 500 letters' : null;
}

function faultOfRun({ run: document, motion, series }: Measured): string | null {
  // Through text and back, as it will be stored: what is no number in JSON would come back as null.
  if (JSON.stringify(parseRun(JSON.parse(JSON.stringify(document)))) !== JSON.stringify(document))
    return 'the document changes when it is stored';
  const odd = notFinite(document, 'run') ?? notFinite(series, 'series');
  if (odd !== null) return `not a finite number: ${odd}`;
  const { timeS } = motion;
  for (let i = 0; i < timeS.length; i++) {
    if (!Number.isFinite(timeS[i]) || (i > 0 && timeS[i] <= timeS[i - 1]))
      return `time does not rise at sample ${i}`;
  }
  const { fps, durationS, rangeS, widthPx, heightPx } = document.clip;
  if (!(fps > 0 && durationS >= 0 && rangeS[1] >= rangeS[0] && widthPx > 0 && heightPx > 0))
    return 'the clip section holds impossible figures';
  for (const { text } of document.warnings) {
    const fault = faultOfWords(text);
    if (fault !== null) return `${fault}: ${text}`;
  }
  return null;
}

/** Where a value holds a number that is none, in words; null when nowhere. */
function notFinite(value: unknown, place: string): string | null {
  if (typeof value === 'number') return Number.isFinite(value) ? null : `${place} = ${value}`;
  if (typeof value !== 'object' || value === null) return null;
  for (const [name, inner] of Object.entries(value)) {
    const found = notFinite(inner, `${place}.${name}`);
    if (found !== null) return found;
  }
  return null;
}

/** Writes the report, reads it back, and looks for slips in what people read. */
async function faultOfReport(measured: Measured, folder: string | null): Promise<string | null> {
  if (folder === null) return null;
  try {
    await writeRun(folder, measured);
    await readMeasured(folder);
    const written = await fs.readdir(folder);
    const strange = written.find((name) => !(RUN_FILES as readonly string[]).includes(name));
    if (strange !== undefined) return `the report holds ${strange}`;
    for (const name of written.filter((one) => one.endsWith('.csv'))) {
      if (/NaN|Infinity|undefined/.test(await fs.readFile(path.join(folder, name), 'utf8')))
        return `${name} holds what is no number`;
    }
    const page = await fs.readFile(path.join(folder, 'report.html'), 'utf8');
    const words = page.replace(/<(script|style)\b[\s\S]*?<\/\1>/g, '');
    const slip = /.{0,60}\b(NaN|undefined|Infinity)\b.{0,60}/.exec(words);
    return slip && `report.html says "${slip[0]}"`;
  } finally {
    await fs.rm(folder, { recursive: true, force: true });
  }
}

/** What of the facts decides how a picture is read. */
async function factsOf(file: string, tools: Tools): Promise<string> {
  const facts = await probeClip(file, tools);
  const { widthPx, heightPx, rotationDeg, mirrored, pixelAspect, bitDepth, interlaced } = facts;
  const { fpsFraction, pixelFormat, colour } = facts;
  return JSON.stringify({
    ...{ widthPx, heightPx, rotationDeg, mirrored, pixelAspect, bitDepth, interlaced },
    ...{ fpsFraction, pixelFormat, colour },
  });
}

/** Every frame of the clip by FFmpeg's own word, without the code under test. */
async function decodedFrames(file: string, { ffmpeg }: Tools): Promise<DecodedFrame[]> {
  const passthrough = [ffmpeg.knowsFpsMode ? '-fps_mode' : '-vsync', 'passthrough'];
  const reading = ['-hide_banner', '-nostdin', '-nostats', '-noautorotate', '-copyts', '-i', file];
  // The filter tells the ticks of the file; what writes frames would round them to the rate that the file states.
  const writing = ['-map', '0:V:0', '-filter:v', 'showinfo', ...passthrough, '-f', 'null', '-'];
  const { stderr } = await run(ffmpeg.path, [...reading, ...writing], {
    timeout: 60_000,
    maxBuffer: 64 * 1024 * 1024,
  }).catch((error: { stderr?: string }) => ({ stderr: error.stderr ?? '' }));
  const [, over, under] = /config in time_base: *(\d+)\/(\d+)/.exec(stderr) ?? [];
  const rows = [...stderr.matchAll(/ n: *\d+ pts: *(\S+) .*? checksum:(\w+) plane_checksum:\[([\w ]*)\]/g)];
  const ticks = rows.map(([, pts]) => Number(pts));
  const tickS = Number(over) / Number(under);
  return rows.map(([, , sum, planes], i) => ({
    timeS: (ticks[i] - ticks[0]) * tickS,
    hash: `${sum} ${planes}`,
  }));
}

/** Warnings that leave frames out of the measurement. */
const LEAVES_OUT = /^(cut|duplicate-frames|frozen-frames|few-tracks|out-beyond-end)$/;

/** Time stamps this near are the same; what a change by so much does to a figure is less than the share after it. */
const SAME_TIME_S = 1e-6;
const SAME_FIGURE_SHARE = 1e-4;

/** Fewer frames than this short of what the file states is rounding, not loss. */
const ROUNDING_FRAMES = 4;

/**
 * A clip that was damaged without a word of it must show the figures of its original, as far as it shows the same frames at the same
 * times; and without a word no frame that can be decoded, or that the file promises, may be missing from the measurement.
 *
 * What can not be told is left alone: pictures that decode without complaint to other pictures, and times or rates that a file
 * states consistently, are what the file says.
 */
async function againstOriginal(
  file: string,
  document: RunDocument,
  { tools, original }: CaseSetting,
): Promise<Pick<Ending, 'fault' | 'oracle'>> {
  if (original === null) return { fault: null };
  const codes = new Set(document.warnings.map(({ code }) => code));
  const sound = await original();
  const known = new Set(sound.run.warnings.map(({ code }) => code));
  if ([...codes].some((code) => !known.has(code))) return { fault: null, oracle: 'warned' };

  const frames = await decodedFrames(file, tools);
  const facts = await probeClip(file, tools);
  if (![...codes].some((code) => LEAVES_OUT.test(code)) && document.clip.frameCount !== frames.length)
    return {
      fault: `${frames.length} frames can be decoded, ${document.clip.frameCount} were measured, no warning`,
    };
  // A count without the length to go with it, or the other way round, is a slip of the file that no figure hangs on.
  const promised = Math.min(facts.frameCount, Math.round(facts.durationS * facts.fps));
  if (promised - frames.length > ROUNDING_FRAMES)
    return { fault: `the file promises ${promised} frames and holds ${frames.length}, no warning` };

  const isSamePicture =
    frames.length === sound.frames.length &&
    frames.every(
      ({ hash, timeS }, i) =>
        hash === sound.frames[i].hash && Math.abs(timeS - sound.frames[i].timeS) < SAME_TIME_S,
    );
  if (!isSamePicture) return { fault: null, oracle: 'picture differs' };
  if ((await factsOf(file, tools)) !== sound.facts) return { fault: null, oracle: 'facts differ' };
  const parts = ['tracking', 'motion', 'stabilise', 'surface'] as const;
  const changed = parts.find((part) => !isAlike(document[part], sound.run[part]));
  return changed
    ? { fault: `same frames at the same times, other figures in ${changed}, no warning` }
    : { fault: null, oracle: 'same' };
}

/** Whether two values hold the same words and, but for rounding, the same figures in the same places. */
function isAlike(a: unknown, b: unknown): boolean {
  if (typeof a === 'number' && typeof b === 'number')
    return Math.abs(a - b) <= SAME_FIGURE_SHARE * Math.max(Math.abs(a), Math.abs(b)) + 1e-12;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return a === b;
  const inner = Object.entries(a);
  const other = b as Readonly<Record<string, unknown>>;
  return (
    inner.length === Object.keys(b).length && inner.every(([name, value]) => isAlike(value, other[name]))
  );
}
