/** Small frames of the measured stretch of a run, one for each of its samples, made in the background and kept on the disk. */
import { createHash } from 'node:crypto';
import { probeClip, smallPictures, type Tools } from '../../footage/index.js';
import { thumbnail } from '../../report/index.js';
import type { RunDocument, RunSeries } from '../../run/index.js';
import { clipTexts } from '../../texts/index.js';
import type { FramePack } from '../api.js';
import type { KnownClip } from '../server/context.js';
import { WebProblem } from '../server/problem.js';
import { Gate } from './gate.js';
import { PackWriter, readPackIndex, readPicture, type PackIndex } from './jpeg-pack.js';
import { keepWithin } from './keep-within.js';
import { isDiskFull } from './receive-file.js';

const FRAME_WIDTH_PX = 640;
/** More samples than this are thinned evenly. */
const MOST_FRAMES = 5000;
/** All packs together, bytes. */
const MOST_BYTES = 2e9;
/** What failed is tried again when somebody asks after so long. */
const FAILED_FOR_MS = 10_000;
/** Plans and indices kept at hand. */
const KEPT = 16;

/** A measured run. */
export interface MeasuredRun {
  readonly run: RunDocument;
  readonly series: RunSeries | null;
}

/** What the packs are made with. */
export interface FramePackOptions {
  readonly folder: string;
  readonly tools: Tools;
  readonly signal: AbortSignal;
  /** Room for all packs; 2 GB when not given. */
  readonly mostBytes?: number;
}

/** Which frames a run needs. */
interface Plan {
  readonly key: string;
  readonly clipName: string;
  readonly sha256: string;
  readonly wantedS: readonly number[];
}

/** A pack that is being made, or that could not be made. */
interface Making {
  writer: PackWriter | null;
  size: { readonly widthPx: number; readonly heightPx: number };
  failure: { readonly reason: string; readonly atMs: number } | null;
  done: Promise<void>;
}

/** The packs of all runs. */
export class FramePacks {
  readonly #gate = new Gate(1);
  readonly #plans = new Map<number, Plan>();
  readonly #making = new Map<string, Making>();
  readonly #ready = new Map<string, PackIndex>();

  constructor(private readonly options: FramePackOptions) {}

  /**
   * How far the pack of a run is; the first question starts its making.
   * @param clipOf finds the clip by its checksum; null where it is not known
   */
  async ask(
    id: number,
    measured: MeasuredRun,
    clipOf: (sha256: string) => Promise<KnownClip | null>,
  ): Promise<FramePack> {
    const plan = remembered(this.#plans, id, planOf(measured));
    const index = await this.#indexOf(plan.key);
    if (index) return { state: 'ready', count: index.ends.length, ...shapeOf(index), reason: null };
    const known = this.#standing(plan);
    if (known) return known;
    const clip = await clipOf(plan.sha256);
    // Somebody else may have asked meanwhile.
    const meanwhile = this.#standing(plan);
    if (meanwhile) return meanwhile;
    if (!clip) return nothing('missing', clipTexts.missing(plan.clipName));
    this.#start(plan, clip);
    return this.#standing(plan)!;
  }

  /** A frame, also while others are being made. @throws WebProblem 404 `frame-unknown` */
  async frame(id: number, n: number, measured: () => Promise<MeasuredRun>): Promise<Uint8Array<ArrayBuffer>> {
    const plan = this.#plans.get(id) ?? remembered(this.#plans, id, planOf(await measured()));
    const isNumber = Number.isInteger(n) && n >= 0;
    const fromMaking = isNumber ? await this.#making.get(plan.key)?.writer?.read(n) : null;
    if (fromMaking) return fromMaking;
    const index = isNumber ? await this.#indexOf(plan.key) : null;
    const jpeg =
      index && n < index.ends.length ? await readPicture(this.options.folder, plan.key, index, n) : null;
    if (jpeg) return jpeg;
    this.#ready.delete(plan.key);
    throw new WebProblem(404, 'frame-unknown', clipTexts.frameUnknown);
  }

  /** Forgets that making failed, so that the next question tries again. */
  retry(measured: MeasuredRun): void {
    const { key } = planOf(measured);
    if (this.#making.get(key)?.failure) this.#making.delete(key);
  }

  /** Resolves when nothing is being made any more; the signal of the options stops what is. */
  async close(): Promise<void> {
    await Promise.all([...this.#making.values()].map(({ done }) => done));
  }

  async #indexOf(key: string): Promise<PackIndex | null> {
    const known = this.#ready.get(key);
    if (known) return known;
    const index = await readPackIndex(this.options.folder, key);
    return index && remembered(this.#ready, key, index);
  }

  #standing({ key, wantedS }: Plan): FramePack | null {
    const making = this.#making.get(key);
    if (!making) return null;
    const { failure, size, writer } = making;
    if (!failure)
      return { state: 'making', count: writer?.count ?? 0, ...size, timeS: wantedS, reason: null };
    if (performance.now() - failure.atMs < FAILED_FOR_MS) return nothing('failed', failure.reason);
    this.#making.delete(key);
    return null;
  }

  #start(plan: Plan, clip: KnownClip): void {
    const making: Making = {
      writer: null,
      size: { widthPx: 0, heightPx: 0 },
      failure: null,
      done: Promise.resolve(),
    };
    this.#making.set(plan.key, making);
    making.done = this.#gate
      .run(() => this.#make(plan, clip, making), this.options.signal)
      .then(
        () => void this.#making.delete(plan.key),
        (error: unknown) => {
          making.failure = { reason: this.#reasonOf(error, clip), atMs: performance.now() };
        },
      );
  }

  async #make({ key, wantedS }: Plan, clip: KnownClip, making: Making): Promise<void> {
    const { folder, tools, signal, mostBytes = MOST_BYTES } = this.options;
    const facts = await probeClip(clip.path, tools);
    try {
      for await (const picture of smallPictures(facts, wantedS, { widthPx: FRAME_WIDTH_PX, signal }, tools)) {
        if (!making.writer) {
          const { widthPx, heightPx } = picture;
          making.size = { widthPx, heightPx };
          making.writer = await PackWriter.begin(folder, key, making.size);
        }
        await making.writer.add(await thumbnail(picture, FRAME_WIDTH_PX), picture.wantedS, picture.timeS);
      }
      const index = await making.writer?.finish();
      if (index) remembered(this.#ready, key, index);
    } catch (error) {
      await making.writer?.discard();
      throw error;
    }
    await keepWithin(folder, mostBytes, new Set([key]));
  }

  #reasonOf(error: unknown, clip: KnownClip): string {
    if (this.options.signal.aborted) return clipTexts.stopped;
    return isDiskFull(error) ? clipTexts.framesNoRoom : clipTexts.framesFailed(clip.name);
  }
}

/** The moments of the samples, of so many the most that are kept. Runs without series have frames at their rate. */
function planOf({ run, series }: MeasuredRun): Plan {
  const samplesS = series ? series.motion.timeS : evenly(run.clip);
  const count = Math.min(samplesS.length, MOST_FRAMES);
  const step = count > 1 ? (samplesS.length - 1) / (count - 1) : 0;
  const wantedS = Array.from({ length: count }, (_, k) => samplesS[Math.round(k * step)]);
  const { sha256, file } = run.clip;
  const what = JSON.stringify([sha256, FRAME_WIDTH_PX, wantedS]);
  const key = `frames-${createHash('sha256').update(what).digest('hex').slice(0, 32)}`;
  return { key, clipName: file, sha256, wantedS };
}

function evenly({ rangeS: [fromS, toS], fps }: RunDocument['clip']): number[] {
  const count = Math.max(1, Math.round((toS - fromS) * fps));
  return Array.from({ length: count }, (_, k) => fromS + k / fps);
}

function shapeOf({ widthPx, heightPx, wantedS }: PackIndex) {
  return { widthPx, heightPx, timeS: wantedS };
}

function nothing(state: 'missing' | 'failed', reason: string): FramePack {
  return { state, count: 0, widthPx: 0, heightPx: 0, timeS: [], reason };
}

/** Keeps a value at hand, and the last few others. */
function remembered<Key, Value>(values: Map<Key, Value>, key: Key, value: Value): Value {
  values.delete(key);
  values.set(key, value);
  for (const oldest of values.keys()) {
    if (values.size <= KEPT) break;
    values.delete(oldest);
  }
  return value;
}
