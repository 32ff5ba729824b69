/** Headers of every answer: a content policy that lets the page load from this server alone, and nothing guessed, framed, leaked or kept. */
import type { MiddlewareHandler } from 'hono';

/** Policy of the page. Markup that the server makes for charts has style attributes; no style or script stands in it. */
export const PAGE_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "worker-src 'self'",
  "style-src 'self'",
  "style-src-attr 'unsafe-inline'",
  "img-src 'self' data: blob:",
  "media-src 'self'",
  "connect-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

const ALWAYS: readonly (readonly [string, string])[] = [
  ['X-Content-Type-Options', 'nosniff'],
  ['Referrer-Policy', 'no-referrer'],
  ['Cross-Origin-Opener-Policy', 'same-origin'],
  ['Cross-Origin-Resource-Policy', 'same-origin'],
  ['X-Frame-Options', 'DENY'],
];

/** Sets them; a route that has a policy or a time to keep of its own keeps it. */
export function securityHeaders(): MiddlewareHandler {
  return async (context, next) => {
    await next();
    const { headers } = context.res;
    for (const [name, value] of ALWAYS) headers.set(name, value);
    if (!headers.has('Content-Security-Policy')) headers.set('Content-Security-Policy', PAGE_POLICY);
    if (!headers.has('Cache-Control')) headers.set('Cache-Control', 'no-store');
  };
}
