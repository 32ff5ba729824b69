/** Failures as the page gets them: application/problem+json (RFC 9457) with a stable code and one plain sentence. */
import type { Context } from 'hono';
import { TrundleError } from '../../run/index.js';
import { serverTexts } from '../../texts/index.js';
import type { Problem } from '../api.js';

/** Status codes of failures that the server tells. */
export type ProblemStatus = 400 | 401 | 403 | 404 | 405 | 408 | 409 | 413 | 415 | 422 | 431 | 500 | 503 | 507;

/** What the system refuses, whichever file it was, by the code of its error. */
const SYSTEM_PROBLEMS: Readonly<
  Record<string, { status: ProblemStatus; code: string; says: 'diskFull' | 'diskBarred' | 'filesOpen' }>
> = {
  ENOSPC: { status: 507, code: 'disk-full', says: 'diskFull' },
  EDQUOT: { status: 507, code: 'disk-full', says: 'diskFull' },
  EFBIG: { status: 507, code: 'disk-full', says: 'diskFull' },
  EROFS: { status: 507, code: 'data-unwritable', says: 'diskBarred' },
  EACCES: { status: 507, code: 'data-unwritable', says: 'diskBarred' },
  EPERM: { status: 507, code: 'data-unwritable', says: 'diskBarred' },
  EIO: { status: 507, code: 'data-unwritable', says: 'diskBarred' },
  EMFILE: { status: 503, code: 'too-many-files', says: 'filesOpen' },
  ENFILE: { status: 503, code: 'too-many-files', says: 'filesOpen' },
};

/** A request that cannot be answered, with its status. */
export class WebProblem extends Error {
  override readonly name = 'WebProblem';

  /**
   * @param code stable, in the manner of the codes of `TrundleError`
   * @param message one plain sentence for the person at the page
   */
  constructor(
    readonly status: ProblemStatus,
    readonly code: string,
    message: string,
    options?: ErrorOptions,
  ) {
    super(message, options);
  }
}

/** The problem that an error stands for; what is nobody's mistake but ours says so and no more. */
export function problemOf(error: unknown): Problem {
  if (error instanceof WebProblem) return problem(error.status, error.code, error.message);
  if (error instanceof TrundleError) return problem(statusOf(error), error.code, error.message);
  const ofSystem = SYSTEM_PROBLEMS[systemCode(error)];
  if (ofSystem) return problem(ofSystem.status, ofSystem.code, serverTexts[ofSystem.says]);
  return problem(500, 'fault', serverTexts.fault);
}

/** Answers with the problem of an error. */
export function answerProblem(context: Context, error: unknown): Response {
  const told = problemOf(error);
  return context.body(JSON.stringify(told), told.status as ProblemStatus, {
    'Content-Type': 'application/problem+json; charset=utf-8',
  });
}

function systemCode(error: unknown): string {
  const { code } = (error instanceof Error ? error : {}) as NodeJS.ErrnoException;
  return typeof code === 'string' && Object.hasOwn(SYSTEM_PROBLEMS, code) ? code : '';
}

function problem(status: ProblemStatus, code: string, detail: string): Problem {
  return { type: 'about:blank', title: serverTexts.titles[status], status, detail, code };
}

function statusOf({ code }: TrundleError): ProblemStatus {
  switch (code) {
    case 'clip-missing':
    case 'log-entry-unknown':
    case 'run-unreadable':
      return 404;
    case 'log-busy':
    case 'no-browser':
      return 503;
    case 'output-unwritable':
    case 'log-unwritable':
      return 507;
    default:
      return 422;
  }
}
