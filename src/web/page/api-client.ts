/** Asks the server: JSON in both directions and the upload of a clip. Whatever fails is a `ProblemError` with one plain sentence. */
import { frameTexts } from '../../texts/index.js';
import type { ClipEntry, Problem } from '../api.js';
import { noteConnection } from './connection.js';

/** A request that failed. */
export class ProblemError extends Error {
  override readonly name = 'ProblemError';

  constructor(readonly problem: Problem) {
    super(problem.detail);
  }
}

/** What a request may be given. */
export interface AskOptions {
  /** Ends the request; it then throws what the signal was raised with. */
  readonly signal?: AbortSignal;
}

/**
 * Gets an answer.
 *
 * @param path with its query, from the root
 * @throws ProblemError `no-server` when nobody answers
 */
export async function getJson<T>(path: string, options: AskOptions = {}): Promise<T> {
  return (await ask(path, { ...options, method: 'GET' })) as T;
}

/**
 * Sends something and gets an answer; undefined where the answer is empty.
 *
 * @param body left out when undefined
 * @throws ProblemError `no-server` when nobody answers
 */
export async function sendJson<T>(
  method: 'POST' | 'PATCH' | 'PUT' | 'DELETE',
  path: string,
  body?: unknown,
  options: AskOptions = {},
): Promise<T> {
  const sent: RequestInit =
    body === undefined ? {} : { body: JSON.stringify(body), headers: { 'Content-Type': 'application/json' } };
  return (await ask(path, { ...options, ...sent, method })) as T;
}

/** The problem of whatever was thrown; nothing that is a fault of this page is passed over. @throws what is no failed request */
export function problemOf(error: unknown): Problem {
  if (error instanceof ProblemError) return error.problem;
  throw error;
}

/**
 * Uploads a clip as it is; never in one piece in memory.
 *
 * @param onProgress bytes that went out, and all
 * @throws ProblemError
 */
export function uploadClip(
  file: File,
  {
    onProgress,
    signal,
  }: {
    readonly onProgress?: (sentBytes: number, totalBytes: number) => void;
    readonly signal?: AbortSignal;
  } = {},
): Promise<ClipEntry> {
  return new Promise((resolve, reject) => {
    if (signal?.aborted === true) return reject(signal.reason as Error);
    // Only this kind of request tells how much of its body went out.
    const request = new XMLHttpRequest();
    const stop = (): void => request.abort();
    signal?.addEventListener('abort', stop);
    request.upload.addEventListener('progress', ({ loaded, total }) => onProgress?.(loaded, total));
    request.addEventListener('load', () => {
      const answer = readJson(request.responseText);
      if (request.status < 300 && answer !== undefined) resolve(answer as ClipEntry);
      else reject(new ProblemError(problemFrom(request.status, answer)));
    });
    // A refusal may close the connection while the clip still goes out.
    request.addEventListener('error', () => reject(new ProblemError(lost(frameTexts.uploadCut))));
    request.addEventListener('abort', () => reject((signal?.reason ?? new Error('aborted')) as Error));
    request.addEventListener('loadend', () => signal?.removeEventListener('abort', stop));
    request.open('PUT', `/api/clips?name=${encodeURIComponent(file.name)}`);
    request.setRequestHeader('Content-Type', 'application/octet-stream');
    request.send(file);
  });
}

async function ask(path: string, init: RequestInit): Promise<unknown> {
  const { response, text } = await answerTo(path, init);
  const answer = readJson(text);
  if (!response.ok) throw new ProblemError(problemFrom(response.status, answer));
  if (answer === undefined && text !== '')
    throw new ProblemError(made(response.status, 'garbled', frameTexts.garbled));
  return answer;
}

async function answerTo(
  path: string,
  init: RequestInit,
): Promise<{ readonly response: Response; readonly text: string }> {
  try {
    const response = await fetch(path, init);
    return { response, text: await response.text() };
  } catch (error) {
    if (init.signal?.aborted === true) throw error;
    throw new ProblemError(lost(frameTexts.noServer));
  }
}

/** Undefined where it is none. */
function readJson(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return undefined;
  }
}

function problemFrom(status: number, answer: unknown): Problem {
  if (status === 401) {
    noteConnection('refused');
    return made(status, 'token-missing', frameTexts.noToken);
  }
  const isProblem = typeof answer === 'object' && answer !== null && 'detail' in answer && 'code' in answer;
  return isProblem ? (answer as Problem) : made(status, 'garbled', frameTexts.garbled);
}

function lost(detail: string): Problem {
  return made(0, 'no-server', detail);
}

function made(status: number, code: string, detail: string): Problem {
  return { type: 'about:blank', title: frameTexts.refusedTitle, status, detail, code };
}
