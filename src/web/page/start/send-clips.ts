/** Brings chosen clips to the server: uploads two at a time, clips of a folder by their path. A clip that is refused never stops the others. */
import { effect } from '@preact/signals';
import { startTexts } from '../../../texts/index.js';
import type { About, ClipEntry } from '../../api.js';
import { problemOf, sendJson, uploadClip } from '../api-client.js';
import {
  addRow,
  batch,
  dropRows,
  giveRig,
  readyClips,
  refusalOf,
  setReady,
  unfinished,
  type BatchClip,
} from './batch.js';
import { keepBatch } from './kept-batch.js';
import { handRig, isRigFile, readRigFile, waitingRig } from './rig-files.js';
import { marked, paceOf, type SentMark } from './upload-speed.js';

/** Uploads that go at once. */
const AT_ONCE = 2;
/** A rig file is some hundred bytes; what is larger is something else. */
const MOST_RIG_BYTES = 256 * 1024;

const files = new Map<number, File>();
const underway = new Map<number, AbortController>();

/**
 * Takes files that were dropped or picked: clips, and rig files that go with them.
 * @returns what is to be said of rig files; empty when nothing is
 */
export async function addFiles(
  chosen: readonly File[],
  about: Pick<About, 'maxUploadBytes' | 'deliveries'>,
): Promise<string> {
  // Clips may come before the view that brings back those of before a reload.
  keepBatch();
  askBeforeLeaving();
  for (const file of chosen.filter(({ name }) => !isRigFile(name))) {
    const refusal = refusalOf(file, about);
    const row = addRow(
      file.name,
      file.size,
      refusal === null ? { kind: 'waiting' } : { kind: 'refused', detail: refusal },
    );
    if (refusal !== null) continue;
    files.set(row.key, file);
    const rig = waitingRig(file.name);
    if (rig !== null) giveRig(row, rig);
  }
  sendNext();
  const said: string[] = [];
  for (const file of chosen.filter(({ name }) => isRigFile(name))) said.push(await addRig(file, about));
  return said.filter((sentence) => sentence !== '').join(' ');
}

async function addRig(file: File, { deliveries }: Pick<About, 'deliveries'>): Promise<string> {
  if (file.size > MOST_RIG_BYTES) return startTexts.noRig(file.name);
  const { rig, fault } = readRigFile(await file.text(), file.name, deliveries);
  return fault ?? handRig(file.name, rig, batch.peek(), giveRig);
}

/** Takes clips of an allowed folder. @param paths from that folder */
export function addFromFolder(
  folder: string,
  chosen: readonly { readonly path: string; readonly name: string; readonly sizeBytes: number }[],
): void {
  for (const { path, name, sizeBytes } of chosen) {
    const row = addRow(name, sizeBytes, { kind: 'opening' });
    sendJson<ClipEntry>('POST', '/api/clips/from-folder', { folder, path }).then(
      (clip) => setReady(row, clip),
      (error: unknown) => refuse(row, error),
    );
  }
}

/** Takes a clip off: stops its upload; a copy that nothing uses goes. */
export function takeOff(row: BatchClip): void {
  const state = row.state.peek();
  files.delete(row.key);
  underway.get(row.key)?.abort();
  dropRows([row.key]);
  if (state.kind !== 'ready' || state.clip.origin !== 'upload') return;
  const { id } = state.clip;
  const isElsewhere = readyClips.peek().some(({ clip }) => clip.id === id);
  // The server keeps a copy that is used; whatever else stands against it matters to nobody who no longer wants the clip.
  if (!isElsewhere) sendJson('DELETE', `/api/clips/${id}`).catch(() => undefined);
}

function sendNext(): void {
  for (const row of batch.peek()) {
    if (underway.size >= AT_ONCE) return;
    const file = files.get(row.key);
    if (file === undefined) continue;
    files.delete(row.key);
    void send(row, file).then(sendNext);
  }
}

async function send(row: BatchClip, file: File): Promise<void> {
  const stop = new AbortController();
  underway.set(row.key, stop);
  let marks: readonly SentMark[] = [];
  const onProgress = (sentBytes: number): void => {
    marks = marked(marks, { atS: performance.now() / 1000, bytes: sentBytes });
    row.state.value =
      sentBytes < file.size
        ? { kind: 'sending', sentBytes, pace: paceOf(marks, file.size) }
        : { kind: 'opening' };
  };
  onProgress(0);
  try {
    const clip = await uploadClip(file, { onProgress, signal: stop.signal });
    setReady(row, clip);
  } catch (error) {
    if (!stop.signal.aborted) refuse(row, error);
  } finally {
    underway.delete(row.key);
  }
}

function refuse(row: BatchClip, error: unknown): void {
  row.state.value = { kind: 'refused', detail: problemOf(error).detail };
}

let isAsking = false;

/** From the first file on, closing the tab is asked about as long as clips are on the way. */
function askBeforeLeaving(): void {
  if (isAsking) return;
  isAsking = true;
  const ask = (event: BeforeUnloadEvent): void => {
    event.preventDefault();
    event.returnValue = startTexts.leave;
  };
  effect(() => {
    if (unfinished.value === 0) return;
    window.addEventListener('beforeunload', ask);
    return () => window.removeEventListener('beforeunload', ask);
  });
}
