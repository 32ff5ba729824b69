/** The server on its real socket: whom it lets in, and how it ends. The last of the tests: the program is gone after it. */
import fs from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Job, Problem } from '../../../src/web/api.js';
import type { RawAnswer, RawQuestion } from '../support/served-page.js';
import type { Shared } from '../support/watched-page.js';

/** Script and style of the whole page, compressed. */
const MOST_BYTES = 300_000;

const problemOf = ({ headers, body }: RawAnswer): Problem => {
  expect(headers['content-type']).toMatch(/^application\/problem\+json/);
  return JSON.parse(body.toString()) as Problem;
};

export function serving(shared: Shared): void {
  describe('over its socket', () => {
    it.each<[string, RawQuestion, string, number, string]>([
      ['without the token', {}, '/api/runs', 401, 'token-missing'],
      ['with a wrong one', { headers: { Authorization: 'Bearer 0' } }, '/api/runs', 401, 'token-missing'],
      [
        'under the name of another server, as after a rebinding of names',
        { known: true, headers: { Host: 'rebound.example' } },
        '/api/runs',
        403,
        'host-unknown',
      ],
      [
        'from the page of another site',
        {
          known: true,
          method: 'POST',
          headers: { Origin: 'http://elsewhere.example', 'Content-Type': 'application/json' },
          body: '{"ids":[1]}',
        },
        '/api/runs/remove',
        403,
        'cross-site',
      ],
      [
        'from another page as a browser tells it',
        { known: true, headers: { 'Sec-Fetch-Site': 'cross-site' } },
        '/api/runs',
        403,
        'cross-site',
      ],
    ])('refuses who asks %s', async (_, question, address, status, code) => {
      const answer = await shared.served.ask(address, question);
      expect(answer.status).toBe(status);
      expect(problemOf(answer)).toMatchObject({ status, code });
    });

    it('gives whoever types its address without the token a page that says so, and no cookie', async () => {
      const { status, headers, body } = await shared.served.ask('/', { headers: { Accept: 'text/html' } });
      expect(status).toBe(401);
      expect(headers['set-cookie']).toBeUndefined();
      expect(body.toString()).toContain('access token');
    });

    it('sends less than 300 kB of script and style, compressed, for all views together', async () => {
      const names = fs
        .readdirSync(path.resolve(import.meta.dirname, '../../../dist/web/page'))
        .filter((name) => /\.(js|css)$/.test(name));
      let bytes = 0;
      for (const name of [...names, 'family.css']) {
        const { status, headers, body } = await shared.served.ask(`/assets/${name}`, {
          known: true,
          headers: { 'Accept-Encoding': 'gzip' },
        });
        expect([name, status, headers['content-encoding']]).toEqual([name, 200, 'gzip']);
        bytes += body.length;
      }
      process.stderr.write(`The whole page is ${Math.round(bytes / 1000)} kB of script and style.\n`);
      expect(bytes).toBeLessThan(MOST_BYTES);
    });

    it('printed one address, said nothing of faults, and ends with status 0 when it is interrupted', async () => {
      const jobs = await shared.served.get<readonly Job[]>('/api/jobs');
      expect(jobs.filter(({ state }) => state === 'running' || state === 'queued')).toEqual([]);
      const { status, out, err } = await shared.served.interrupt();
      expect(status).toBe(0);
      expect(out).toBe(`${shared.served.address}\n`);
      expect(err.trim().split('\n')).toEqual([expect.stringContaining('Ctrl-C')]);
      await expect(shared.served.ask('/')).rejects.toThrow(/ECONNREFUSED/);
    });
  });
}
