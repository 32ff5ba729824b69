/** Posters along a clip and single frames of it as JPEG: made when they are asked for, few at once, and kept for the next question. */
import { createHash } from 'node:crypto';
import path from 'node:path';
import { grabPicture, posterPictures, type ClipFacts, type Tools } from '../../footage/index.js';
import { encodePicture, thumbnail } from '../../report/index.js';
import { TrundleError } from '../../run/index.js';
import { clipTexts } from '../../texts/index.js';
import type { Posters } from '../api.js';
import { WebProblem } from '../server/problem.js';
import type { ClipRecord } from './clip-index.js';
import { Gate } from './gate.js';
import { PackWriter, readPackIndex, readPicture, type PackIndex } from './jpeg-pack.js';
import { isDiskFull } from './receive-file.js';

const POSTERS = 40;
const POSTER_WIDTH_PX = 160;
const FRAME_WIDTHS_PX = [160, 1920] as const;
/** FFmpeg processes at once. */
const AT_ONCE = 2;
/** Frames kept in memory, bytes. */
const KEPT_BYTES = 24 * 2 ** 20;

/** What the pictures are made with. */
export interface PreviewOptions {
  readonly folder: string;
  readonly tools: Tools;
  readonly signal: AbortSignal;
}

/** Posters and single frames. */
export class Previews {
  readonly #gate = new Gate(AT_ONCE);
  readonly #posters = new Map<string, Promise<PackIndex>>();
  /** The last used is last. */
  readonly #frames = new Map<string, Uint8Array<ArrayBuffer>>();
  #frameBytes = 0;

  constructor(private readonly options: PreviewOptions) {}

  /** Where the posters of a clip stand. @throws TrundleError as `posterPictures` */
  async posters(record: ClipRecord, facts: ClipFacts): Promise<Posters> {
    const { widthPx, heightPx, timeS } = await this.#packOf(record, facts);
    return { widthPx, heightPx, atS: timeS };
  }

  /** One of them. @throws WebProblem 404 `poster-unknown` */
  async poster(record: ClipRecord, facts: ClipFacts, n: number): Promise<Uint8Array<ArrayBuffer>> {
    const index = await this.#packOf(record, facts);
    const isThere = Number.isInteger(n) && n >= 0 && n < index.ends.length;
    const jpeg = isThere ? await readPicture(this.options.folder, keyOf(record), index, n) : null;
    if (!jpeg) throw new WebProblem(404, 'poster-unknown', clipTexts.posterUnknown);
    return jpeg;
  }

  /**
   * The frame that is shown at a moment; beyond the end the last.
   * @param widthPx brought within 160 .. 1920; never wider than the clip
   * @param asker fires when nobody waits for it any more
   */
  async frame(
    record: ClipRecord,
    facts: ClipFacts,
    atS: number,
    widthPx: number,
    asker: AbortSignal,
  ): Promise<Uint8Array<ArrayBuffer>> {
    const width = Math.min(Math.max(widthPx, FRAME_WIDTHS_PX[0]), FRAME_WIDTHS_PX[1]);
    const key = `${record.id} ${atS.toFixed(4)} ${width}`;
    const { tools, signal } = this.options;
    const kept = this.#kept(key);
    if (kept) return kept;
    return this.#gate.run(async () => {
      const made = this.#kept(key);
      if (made) return made;
      const either = AbortSignal.any([signal, asker]);
      const picture = await grabPicture(record.path, facts, atS, width, tools, either);
      return this.#keep(key, new Uint8Array(await encodePicture(picture)));
    }, asker);
  }

  #packOf(record: ClipRecord, facts: ClipFacts): Promise<PackIndex> {
    const key = keyOf(record);
    const known = this.#posters.get(key);
    if (known) return known;
    const made = readPackIndex(this.options.folder, key).then(
      (index) => index ?? this.#gate.run(() => this.#makePosters(key, facts)),
    );
    this.#posters.set(key, made);
    // Whoever asks next finds the pack on the disk, or tries again.
    const forget = () => this.#posters.delete(key);
    made.then(forget, forget);
    return made;
  }

  async #makePosters(key: string, facts: ClipFacts): Promise<PackIndex> {
    const { folder, tools, signal } = this.options;
    let writer: PackWriter | null = null;
    try {
      for await (const picture of posterPictures(
        facts,
        POSTERS,
        { widthPx: POSTER_WIDTH_PX, signal },
        tools,
      )) {
        writer ??= await PackWriter.begin(folder, key, picture);
        await writer.add(await thumbnail(picture, POSTER_WIDTH_PX), picture.wantedS, picture.timeS);
      }
      if (!writer)
        throw new TrundleError(
          'decode-failed',
          `No frame of "${path.basename(facts.file)}" could be decoded.`,
        );
      return await writer.finish();
    } catch (error) {
      await writer?.discard();
      throw isDiskFull(error) ? new WebProblem(507, 'disk-full', clipTexts.framesNoRoom) : error;
    }
  }

  #kept(key: string): Uint8Array<ArrayBuffer> | null {
    const jpeg = this.#frames.get(key);
    if (!jpeg) return null;
    this.#frames.delete(key);
    this.#frames.set(key, jpeg);
    return jpeg;
  }

  #keep(key: string, jpeg: Uint8Array<ArrayBuffer>): Uint8Array<ArrayBuffer> {
    this.#frames.set(key, jpeg);
    this.#frameBytes += jpeg.length;
    for (const [oldest, { length }] of this.#frames) {
      if (this.#frameBytes <= KEPT_BYTES) break;
      this.#frames.delete(oldest);
      this.#frameBytes -= length;
    }
    return jpeg;
  }
}

/** The file as it was taken: another size or time makes another pack. */
function keyOf({ path: file, sizeBytes, modifiedMs }: ClipRecord): string {
  const hash = createHash('sha256').update(`${file}\0${sizeBytes}\0${modifiedMs}`);
  return `posters-${hash.digest('hex').slice(0, 32)}`;
}
