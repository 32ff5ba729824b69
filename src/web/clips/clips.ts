/** The clips that the server knows: copies in its data folder, and files of allowed folders where they lie; remembered across restarts. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { sha256OfFile, type ClipFacts } from '../../footage/index.js';
import { LOG_FILE, isInDataFolder, openLog } from '../../log/index.js';
import { clipTexts, dataTexts } from '../../texts/index.js';
import type { ClipEntry, FolderListing } from '../api.js';
import type { ClipLookup, KnownClip, WebContext } from '../server/context.js';
import { WebProblem } from '../server/problem.js';
import { isInside } from '../../files/index.js';
import { allowedFolder, listFolder, realPlace } from './allowed-folders.js';
import { clipEntry, factsOf, rigBeside } from './clip-entry.js';
import { clipIndex, type ClipRecord } from './clip-index.js';
import type { KeptFile } from '../kept-file.js';
import { shownName } from './clip-names.js';
import { SNIFFED_BYTES } from './file-kind.js';
import { FramePacks } from './frame-packs.js';
import { Gate } from './gate.js';
import { sweepPacks } from './keep-within.js';
import { Previews } from './previews.js';
import type { Delivery } from './receive-file.js';
import { refuseOtherKinds } from './refuse-other-kinds.js';
import { Uploads, newId } from './uploads.js';

const PREVIEWS = 'previews';
/** Files that are looked into at once. */
const PROBES_AT_ONCE = 2;
/** Halves that were fresh at the start are looked at again, ms. */
const SWEEP_AGAIN_MS = 5 * 60_000;

/** Everything about clips that the routes need; other parts use it as `ClipLookup`. */
export class Clips implements ClipLookup {
  readonly previews: Previews;
  readonly packs: FramePacks;
  readonly #records = new Map<string, ClipRecord>();
  readonly #facts = new Map<string, Promise<ClipFacts>>();
  readonly #index: KeptFile<readonly ClipRecord[]>;
  /** Looking into files, each by a process. */
  readonly #probes = new Gate(PROBES_AT_ONCE);
  readonly #uploads: Uploads;
  #naming: Promise<void> = Promise.resolve();

  private constructor(private readonly context: WebContext) {
    const { dataDir, tools, signal } = context;
    const options = { folder: path.join(dataDir, PREVIEWS), tools, signal };
    this.previews = new Previews(options);
    this.packs = new FramePacks(options);
    this.#index = clipIndex(dataDir);
    this.#uploads = new Uploads(dataDir);
  }

  /** Reads what is remembered, and takes away what a crash left behind. */
  static async open(context: WebContext): Promise<Clips> {
    const clips = new Clips(context);
    await fs.mkdir(context.dataDir, { recursive: true });
    for (const record of (await clips.#index.read()) ?? []) {
      const isOurs = record.origin === 'folder' || clips.#uploads.holds(record.path);
      if (isOurs) clips.#records.set(record.id, record);
    }
    await clips.#uploads.sweep();
    const again = setTimeout(() => void clips.#uploads.sweep(), SWEEP_AGAIN_MS).unref();
    context.signal.addEventListener('abort', () => clearTimeout(again), { once: true });
    await clips.#takeBack();
    await sweepPacks(path.join(context.dataDir, PREVIEWS));
    return clips;
  }

  /** Whole copies that no list knows, as after a list was lost or the program ended in the middle: they come back under their numbers. */
  async #takeBack(): Promise<void> {
    const known = new Set([...this.#records.values()].map((record) => record.path));
    const lost = (await this.#uploads.whole()).filter(
      ({ id, path: file }) => !known.has(file) && !this.#records.has(id),
    );
    if (lost.length === 0) return;
    for (const copy of lost) {
      const { path: file } = copy;
      const record = { ...copy, name: shownName(path.basename(file)), origin: 'upload' as const };
      this.#records.set(copy.id, { ...record, ...(await standing(file)), sha256: null });
    }
    process.emitWarning(dataTexts.taken(lost.map(({ path: file }) => path.basename(file))), {
      code: 'clips-taken-back',
    });
    // A list that cannot be written is tried again with the next clip.
    await this.#write().catch(() => undefined);
    this.#naming = this.#nameLost(lost.map(({ id }) => id));
  }

  /** Their runs find them by their checksums, which takes a while for large ones. */
  async #nameLost(ids: readonly string[]): Promise<void> {
    for (const id of ids) {
      if (this.context.signal.aborted) return;
      const record = this.#records.get(id);
      if (!record) continue;
      try {
        await this.remember(id, await sha256OfFile(record.path, this.context.signal));
      } catch (error) {
        if (!this.context.signal.aborted) process.emitWarning(error instanceof Error ? error : String(error));
      }
    }
  }

  /** The largest file that is taken, bytes. */
  get mostBytes(): number {
    return this.context.maxUploadBytes;
  }

  /** What is in an allowed folder. @throws WebProblem as `listFolder` */
  list(folder: string, given: string): Promise<FolderListing> {
    return listFolder(allowedFolder(this.context.folders, folder), given);
  }

  /** Takes a copy of what is sent. @throws WebProblem as `receiveFile`; TrundleError as `probeClip` */
  async upload(sent: Omit<Delivery, 'mostBytes'>): Promise<ClipEntry> {
    const name = shownName(sent.name);
    const delivery = { ...sent, name, mostBytes: this.mostBytes };
    const { found, ...copy } = await this.#uploads.take(delivery, (file) => this.#factsOf(file, name));
    const twin = await this.#asItWas(
      (record) => record.origin === 'upload' && record.sha256 === copy.sha256 && record.name === name,
    );
    try {
      const record = twin ?? { ...(await standing(copy.path)), ...copy, name, origin: 'upload' as const };
      if (!twin) await this.#keep(record);
      this.#facts.set(record.id, Promise.resolve({ ...found, file: record.path }));
      if (twin) await this.#uploads.remove(copy.path);
      return await this.entry(record.id);
    } catch (error) {
      if (!this.#records.has(copy.id)) await this.#uploads.remove(copy.path);
      throw error;
    }
  }

  /**
   * Takes a file of an allowed folder where it lies.
   * @throws WebProblem as `realPlace`, `refuseOtherKinds`; TrundleError as `probeClip`
   */
  async fromFolder(folder: string, given: string): Promise<ClipEntry> {
    const real = await realPlace(allowedFolder(this.context.folders, folder), given, 'file');
    const name = shownName(path.posix.basename(given));
    refuseOtherKinds(await firstBytes(real, name), name);
    const facts = await this.#factsOf(real, name);
    const same = await this.#asItWas((record) => record.origin === 'folder' && record.path === real);
    const record = same ?? {
      ...{ id: newId(), name, path: real, origin: 'folder' as const },
      ...{ ...(await standing(real)), sha256: null },
    };
    if (!same) await this.#keep(record);
    this.#facts.set(record.id, Promise.resolve(facts));
    return this.entry(record.id);
  }

  /** A clip as the page is told of it. @throws WebProblem as `readable` */
  async entry(id: string): Promise<ClipEntry> {
    const { record, facts } = await this.readable(id);
    const mayRead = (real: string) => this.#isAllowed(real);
    const isBeside = record.origin === 'folder';
    const rig = isBeside ? await rigBeside(record.path, this.context.presets, mayRead) : null;
    return clipEntry(record, facts, rig);
  }

  /**
   * A clip that is still what it was, with the facts of its file.
   * @throws WebProblem 404 `clip-unknown`, `clip-missing`; 409 `clip-changed`
   */
  async readable(id: string): Promise<{ readonly record: ClipRecord; readonly facts: ClipFacts }> {
    const record = this.#record(id);
    const state = await stateOf(record);
    if (state === 'gone') throw new WebProblem(404, 'clip-missing', clipTexts.gone(record.name));
    if (state === 'changed') throw new WebProblem(409, 'clip-changed', clipTexts.changed(record.name));
    let facts = this.#facts.get(id);
    if (!facts) {
      facts = this.#factsOf(record.path, record.name);
      facts.catch(() => this.#facts.delete(id));
      this.#facts.set(id, facts);
    }
    return { record, facts: await facts };
  }

  /** Takes a clip off the list, and its copy away; what a run of the log needs stays. @throws WebProblem 404 `clip-unknown` */
  async remove(id: string): Promise<void> {
    const { sha256 } = this.#record(id);
    if (sha256 === null || !this.#isInLog(sha256)) await this.#drop([id]);
  }

  /** Whether a clip is the file of this checksum; then it is remembered. @throws WebProblem as `readable` */
  async isFile(id: string, sha256: string): Promise<boolean> {
    const { record } = await this.readable(id);
    const own = record.sha256 ?? (await sha256OfFile(record.path));
    await this.remember(id, own);
    return own === sha256;
  }

  find(id: string): KnownClip {
    const { name, path: file, origin } = this.#record(id);
    return { id, name, path: file, origin };
  }

  async ofSha256(sha256: string): Promise<KnownClip | null> {
    const record = await this.#asItWas((one) => one.sha256 === sha256 && this.#mayBeRead(one));
    return record && this.find(record.id);
  }

  async remember(id: string, sha256: string): Promise<void> {
    const record = this.#record(id);
    if (record.sha256 !== sha256) await this.#keep({ ...record, sha256 });
  }

  async forget(sha256s: readonly string[]): Promise<void> {
    const gone = sha256s.filter((sha256) => !this.#isInLog(sha256));
    await this.#drop(
      [...this.#records.values()]
        .filter(({ origin, sha256 }) => origin === 'upload' && sha256 !== null && gone.includes(sha256))
        .map(({ id }) => id),
    );
  }

  /** Resolves when nothing is made or written any more; the signal of the context stops what is. */
  async close(): Promise<void> {
    await Promise.all([this.packs.close(), this.#naming]);
  }

  #factsOf(file: string, name: string): Promise<ClipFacts> {
    return this.#probes.run(() => factsOf(file, name, this.context.tools), this.context.signal);
  }

  #record(id: string): ClipRecord {
    const record = this.#records.get(id);
    if (!record || !this.#mayBeRead(record)) throw new WebProblem(404, 'clip-unknown', clipTexts.unknown);
    return record;
  }

  /** A folder may have been allowed before a restart and not be any more. */
  #mayBeRead({ origin, path: file }: ClipRecord): boolean {
    return origin === 'upload' || this.#isAllowed(file);
  }

  #isAllowed(real: string): boolean {
    return this.context.folders.some((folder) => isInside(real, folder.path));
  }

  /** The first clip of a kind whose file is as it was; null when there is none. */
  async #asItWas(is: (record: ClipRecord) => boolean): Promise<ClipRecord | null> {
    for (const record of this.#records.values())
      if (is(record) && (await stateOf(record)) === 'same') return record;
    return null;
  }

  async #keep(record: ClipRecord): Promise<void> {
    const before = this.#records.get(record.id);
    this.#records.set(record.id, record);
    try {
      await this.#write();
    } catch (cause) {
      if (before) this.#records.set(record.id, before);
      else this.#records.delete(record.id);
      throw new WebProblem(507, 'data-unwritable', clipTexts.unwritable(record.name), { cause });
    }
  }

  #write(): Promise<void> {
    return this.#index.write(() => [...this.#records.values()]);
  }

  /**
   * Takes clips off the list, copies first: one that stayed behind without an entry would come back at the next start.
   * @throws WebProblem 507 `data-unwritable` for a copy that cannot be removed, which then stays on the list
   */
  async #drop(ids: readonly string[]): Promise<void> {
    const gone = ids.map((id) => this.#records.get(id)).filter((record) => record !== undefined);
    let kept: WebProblem | null = null;
    for (const { id, name, origin, path: file } of gone) {
      try {
        if (origin === 'upload') await this.#uploads.remove(file);
      } catch (cause) {
        kept = new WebProblem(507, 'data-unwritable', clipTexts.unremovable(name), { cause });
        continue;
      }
      this.#records.delete(id);
      this.#facts.delete(id);
    }
    if (gone.length > 0) await this.#write();
    if (kept) throw kept;
  }

  /** Whether a run of the log was measured from this file; where the log cannot be asked, it may be. */
  #isInLog(sha256: string): boolean {
    const file = path.join(this.context.dataDir, LOG_FILE);
    try {
      if (!isInDataFolder(file)) return false;
      const log = openLog(file);
      try {
        return log.list({ clip: sha256 }).some((row) => row.clipSha256 === sha256);
      } finally {
        log.close();
      }
    } catch {
      return true;
    }
  }
}

/** Cards and drives in FAT keep the time of a file to two seconds; a copy of the folder may round it. */
const TIME_STEP_MS = 2000;

/** Size and time of a file. */
async function standing(file: string): Promise<Pick<ClipRecord, 'sizeBytes' | 'modifiedMs'>> {
  const { size, mtimeMs } = await fs.stat(file);
  return { sizeBytes: size, modifiedMs: mtimeMs };
}

/** Whether the file of a clip is what it was when it was taken. */
async function stateOf(record: ClipRecord): Promise<'same' | 'changed' | 'gone'> {
  const { path: file, origin, sizeBytes, modifiedMs } = record;
  try {
    const now = await standing(file);
    // A link in its place may lead anywhere.
    if (origin === 'folder' && (await fs.realpath(file)) !== file) return 'gone';
    const isAsOld = Math.abs(now.modifiedMs - modifiedMs) <= TIME_STEP_MS;
    return now.sizeBytes === sizeBytes && isAsOld ? 'same' : 'changed';
  } catch {
    return 'gone';
  }
}

async function firstBytes(file: string, name: string): Promise<Uint8Array> {
  // A pipe would be waited for without end.
  if (!(await fs.stat(file)).isFile()) throw new WebProblem(404, 'file-missing', clipTexts.fileMissing(name));
  const handle = await fs.open(file).catch((cause: unknown) => {
    throw new WebProblem(403, 'file-unreadable', clipTexts.fileUnreadable(name), { cause });
  });
  try {
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(SNIFFED_BYTES), 0, SNIFFED_BYTES, 0);
    if (bytesRead === 0) throw new WebProblem(415, 'clip-empty', clipTexts.empty(name));
    return buffer.subarray(0, bytesRead);
  } finally {
    await handle.close();
  }
}
