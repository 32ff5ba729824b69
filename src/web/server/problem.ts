/** Failures as the page gets them: application/problem+json (RFC 9457) with a stable code and one plain sentence. */
import type { Context } from 'hono';
import { TrundleError } from '../../run/index.js';
import { serverTexts } from '../../texts/index.js';
import type { Problem } from '../api.js';

/** Status codes of failures that the server tells. */
export type ProblemStatus = 400 | 401 | 403 | 404 | 405 | 409 | 413 | 415 | 422 | 500 | 503 | 507;

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
  return problem(500, 'fault', serverTexts.fault);
}

/** Answers with the problem of an error. */
export function answerProblem(context: Context, error: unknown): Response {
  const told = problemOf(error);
  return context.body(JSON.stringify(told), told.status as ProblemStatus, {
    'Content-Type': 'application/problem+json; charset=utf-8',
  });
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
