/**
 * Who may ask: requests to a name of this server (no DNS rebinding), from its own page (no cross-site requests), with the access token.
 *
 * The token comes once with the address that is printed at the start and is kept in a cookie that scripts cannot read and other sites
 * do not send; programs may give it as "Authorization: Bearer TOKEN".
 */
import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import type { Context, MiddlewareHandler } from 'hono';
import { getCookie, setCookie } from 'hono/cookie';
import { NO_ACCESS_STYLE_PATH } from './no-access-page.js';
import { serverTexts } from '../../texts/index.js';
import { WebProblem } from './problem.js';

/** What the guard goes by. */
export interface AccessRules {
  readonly token: string;
  /** Values of the Host header that are this server. @example "127.0.0.1:4170" */
  readonly hosts: () => ReadonlySet<string>;
  /** Name of the cookie: servers on other ports of one machine share their cookies, so each has its own. */
  readonly cookie: () => string;
}

const SAFE_METHODS: readonly string[] = ['GET', 'HEAD', 'OPTIONS'];
const TOKEN_BYTES = 32;

/** A new token: 256 random bits in letters that may stand in an address. */
export function newToken(): string {
  return randomBytes(TOKEN_BYTES).toString('base64url');
}

/**
 * Lets through what may ask.
 *
 * @throws WebProblem 403 `host-unknown` for another name in Host, 403 `cross-site` for a request that another site made, 401
 *   `token-missing` without the token, 415 `not-json` for an order by cookie that is none
 */
export function guard(rules: AccessRules): MiddlewareHandler {
  return async (context, next) => {
    checkHost(context, rules);
    checkSite(context);
    const asked = context.req.query('token');
    if (asked !== undefined && !context.req.path.startsWith('/api/')) {
      if (!isToken(asked, rules.token)) throw noToken();
      return enter(context, rules);
    }
    const isOpen = context.req.path === NO_ACCESS_STYLE_PATH;
    if (!isOpen && !isToken(tokenOf(context, rules), rules.token)) throw noToken();
    checkForm(context);
    return next();
  };
}

/** Keeps the token in the browser and takes it out of the address, where it would stay in the history. */
function enter(context: Context, rules: AccessRules): Response {
  setCookie(context, rules.cookie(), rules.token, { httpOnly: true, sameSite: 'Strict', path: '/' });
  const { pathname, searchParams } = new URL(context.req.url);
  searchParams.delete('token');
  const query = searchParams.toString();
  // Two slashes at the start would be the address of another server.
  return context.redirect(`/${pathname.replace(/^\/+/, '')}${query === '' ? '' : `?${query}`}`, 303);
}

function checkHost(context: Context, { hosts }: AccessRules): void {
  const known = hosts();
  // A request line may name another server than the header does.
  const asked = [context.req.header('Host')?.toLowerCase() ?? '', new URL(context.req.url).host];
  if (!asked.every((host) => known.has(host)))
    throw new WebProblem(
      403,
      'host-unknown',
      'This address is not one of this server; open the one that was printed when it was started.',
    );
}

/** A browser says where a request comes from: in Origin where something is sent or changed, in Sec-Fetch-Site always. */
function checkSite(context: Context): void {
  const { method, path } = context.req;
  const origin = context.req.header('Origin');
  const site = context.req.header('Sec-Fetch-Site');
  const own = `http://${context.req.header('Host')?.toLowerCase() ?? ''}`;
  const isPage = SAFE_METHODS.includes(method) && !path.startsWith('/api/');
  const foreignSite = site !== undefined && !['same-origin', 'none'].includes(site);
  // Following a link to a page from elsewhere is harmless: the cookie does not come with it.
  if ((origin !== undefined && origin.toLowerCase() !== own) || (foreignSite && !isPage))
    throw new WebProblem(403, 'cross-site', 'This request came from another site and was not answered.');
}

/** What a form of another site could send without being asked first is no order: those are JSON. Programs with the token in a header may. */
function checkForm({ req }: Context): void {
  const isOrder = ['POST', 'PATCH'].includes(req.method) && req.header('Authorization') === undefined;
  if (isOrder && !/^application\/json\b/i.test(req.header('Content-Type') ?? ''))
    throw new WebProblem(415, 'not-json', serverTexts.notJson);
}

function tokenOf(context: Context, rules: AccessRules): string | undefined {
  const bearer = /^Bearer (.+)$/i.exec(context.req.header('Authorization') ?? '');
  return bearer?.[1] ?? getCookie(context, rules.cookie());
}

/** Takes as long for any wrong token. */
function isToken(given: string | undefined, token: string): boolean {
  const digest = (text: string): Buffer => createHash('sha256').update(text).digest();
  return given !== undefined && timingSafeEqual(digest(given), digest(token));
}

function noToken(): WebProblem {
  return new WebProblem(401, 'token-missing', serverTexts.tokenMissing);
}
