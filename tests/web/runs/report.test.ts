/** Reports of kept runs: parts of the page that hold nothing that runs, and the files of a run with their names, types and ranges. */
import fs from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { LOG_FILE, openLog } from '../../../src/log/index.js';
import { encodePicture } from '../../../src/report/index.js';
import type { Problem, ReportParts } from '../../../src/web/api.js';
import { madeUpEntry } from '../../log/support/made-up-entry.js';
import { corridorPicture } from '../../report/support/made-up-bundle.js';
import { servedRuns, withBody, type ServedRuns } from './support/served-runs.js';

const HOSTILE = '"><img src=x onerror=alert(1)><script>alert(2)</script>';
const CLIP = 'A004 "Größe" \u202e羊.mov';
/** Moments around the measuring of the run with a folder. */
const BEFORE = new Date('2031-03-14T08:00:00Z');
const AFTER = new Date('2031-03-14T10:00:00Z');
/** Every tag with its attributes, text and data left out. */
const TAGS = /<[a-z][^\s>/]*(?:[^>"']|"[^"]*"|'[^']*')*>/g;

let served: ServedRuns;
let reportFolder = '';
const problem = async (response: Response): Promise<Problem> => (await response.json()) as Problem;

beforeAll(async () => {
  served = servedRuns();
  reportFolder = path.join(served.folder, 'reports', 'hall');
  served.keep(
    madeUpEntry({
      clipFile: CLIP,
      pass: { setup: HOSTILE, notes: HOSTILE },
      picture: await encodePicture(corridorPicture(320, 180)),
    }),
    madeUpEntry({ series: null }),
    madeUpEntry({
      clipFile: 'hall.mp4',
      clipSha256: 'c'.repeat(64),
      createdAt: '2031-03-14T09:00:00.000Z',
      reportFolder,
      pass: { tags: ['wet', 'dry'] },
    }),
  );
});
afterAll(() => served.end());

describe('the report in parts', () => {
  let parts: ReportParts;
  beforeAll(async () => {
    parts = (await (await served.ask('/runs/1/report')).json()) as ReportParts;
  });

  it('is what the page of the run holds', async () => {
    const ids = (markup: string): string[] => [...markup.matchAll(/<h2 id="([\w-]+)"/g)].map(([, id]) => id);
    const page = await (await served.ask('/runs/1/files/report.html')).text();
    expect(ids(parts.sections).length).toBeGreaterThan(8);
    expect(ids(parts.sections)).toEqual(ids(page));
    expect(parts.sections).toContain('<nav class="contents"');
    expect(parts.advice).toMatch(/^\s*<div class="advice do-more">/);
    expect(parts.units).toBe('metric');
  });

  it('holds data for its charts and nothing that runs or styles', () => {
    const tags = `${parts.advice}${parts.sections}`.match(TAGS) ?? [];
    expect(tags.length).toBeGreaterThan(1000);
    const scripts = tags.filter((tag) => tag.startsWith('<script'));
    expect(scripts.length).toBeGreaterThan(5);
    expect(scripts.filter((tag) => tag !== '<script type="application/json" class="live-data">')).toEqual([]);
    expect(tags.filter((tag) => /^<(style|link|meta|iframe|object|embed|base)\b/.test(tag))).toEqual([]);
    expect(tags.filter((tag) => /\son\w+\s*=|javascript:/i.test(tag))).toEqual([]);
    const data = [...parts.sections.matchAll(/class="live-data">(.*?)<\/script>/gs)].map(
      ([, json]) => JSON.parse(json) as { readonly kind: string },
    );
    expect(data).toHaveLength(scripts.length);
    expect(data.every(({ kind }) => kind.length > 0)).toBe(true);
  });

  it('shows names of others as they are written', () => {
    expect(parts.sections).toContain('&lt;script&gt;alert(2)&lt;/script&gt;');
    expect(parts.sections).not.toContain('<img src=x');
  });

  it('cannot be made of a run that was kept without its series', async () => {
    const told = await problem(await served.ask('/runs/2/report'));
    expect(told).toMatchObject({ status: 422, code: 'log-entry-unreadable' });
  });
});

describe('files of a run', () => {
  it('are made anew where no folder is left, and written nowhere', async () => {
    const csv = await served.ask('/runs/1/files/motion.csv');
    expect(csv.status).toBe(200);
    expect(csv.headers.get('Content-Type')).toBe('text/csv;charset=utf-8');
    expect(await csv.text()).toMatch(/^frame,/);
    const png = await served.ask('/runs/1/files/contact.png', { method: 'HEAD' });
    expect(Number(png.headers.get('Content-Length'))).toBeGreaterThan(10_000);
    expect(await png.text()).toBe('');
    expect(fs.readdirSync(served.folder)).toEqual(['data']);
  });

  it('are named after their clip for every browser', async () => {
    const { headers } = await served.ask('/runs/1/files/run.json');
    expect(headers.get('Content-Disposition')).toBe(
      `attachment; filename="A004 _Gro_e_ __-run.json"; filename*=UTF-8''A004%20_Gr%C3%B6%C3%9Fe_%20_%E7%BE%8A-run.json`,
    );
  });

  it('may be read as a page that cannot ask the server for anything', async () => {
    const { headers } = await served.ask('/runs/1/files/report.html');
    expect(headers.get('Content-Disposition')).toMatch(/^inline; /);
    const policy = headers.get('Content-Security-Policy') ?? '';
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain('sandbox allow-scripts');
    expect(policy).not.toContain('allow-same-origin');
  });

  it.each([
    'server.ts',
    '..%2frun.json',
    '..%2F..%2Fdata%2Fruns.db',
    '%2e%2e',
    'run.json%00',
    'RUN.JSON',
    '.run.json',
  ])('are those of a run folder and no other: %s', async (name) => {
    expect((await served.ask(`/runs/1/files/${name}`)).status).toBe(404);
  });

  it('are printed where a browser is, and otherwise it is said what is missing', async () => {
    vi.stubEnv('TRUNDLE_CHROMIUM', path.join(served.folder, 'no-browser'));
    try {
      const head = await served.ask('/runs/1/files/report.pdf?paper=letter', { method: 'HEAD' });
      expect([head.status, head.headers.get('Content-Type')]).toEqual([200, 'application/pdf']);
      expect(await problem(await served.ask('/runs/1/files/report.pdf'))).toMatchObject({
        status: 503,
        code: 'no-browser',
      });
      expect((await served.ask('/runs/1/files/report.pdf?paper=papyrus')).status).toBe(400);
    } finally {
      vi.unstubAllEnvs();
    }
  });

  it('come from the folder while it is of this run and has its sheet', async () => {
    const log = openLog(path.join(served.dataDir, LOG_FILE));
    const { run } = log.get(3);
    log.close();
    fs.mkdirSync(reportFolder, { recursive: true });
    const put = (name: string, content: string): void =>
      fs.writeFileSync(path.join(reportFolder, name), content);
    put('report.html', '<p>as it was written</p>');
    put('run.json', JSON.stringify({ ...run, pass: { tags: ['wet', 'dry'] } }));
    const page = await served.ask('/runs/3/files/report.html');
    expect(await page.text()).toBe('<p>as it was written</p>');
    expect(page.headers.get('Content-Disposition')).toBe('inline; filename="hall-report.html"');
    await served.ask('/runs/3', withBody('PATCH', { sheet: { floor: 'dairy hall' } }));
    expect(await (await served.ask('/runs/3/files/report.html')).text()).toContain('dairy hall');
    expect(await problem(await served.ask('/runs/3/files/crop.png'))).toMatchObject({
      status: 404,
      code: 'file-missing',
    });
    put('run.json', JSON.stringify({ ...run, pass: { tags: ['wet', 'dry'], floor: 'dairy hall' } }));
    expect(await (await served.ask('/runs/3/files/report.html')).text()).toBe('<p>as it was written</p>');
    // A link is none of our files: it is made anew.
    fs.symlinkSync(path.join(served.dataDir, LOG_FILE), path.join(reportFolder, 'motion.csv'));
    expect(await (await served.ask('/runs/3/files/motion.csv')).text()).toMatch(/^frame,/);
    put('run.json', JSON.stringify({ ...run, createdAt: '2031-01-01T00:00:00.000Z' }));
    expect(await (await served.ask('/runs/3/files/run.json')).text()).toContain('"dairy hall"');
  });
});

describe('a change of the sheet', () => {
  it('is in the report with the next look', async () => {
    await served.ask('/runs/1', withBody('PATCH', { sheet: { setup: 'soft tyres, anew' } }));
    const anew = (await (await served.ask('/runs/1/report')).json()) as ReportParts;
    expect(anew.sections).toContain('soft tyres, anew');
  });
});

describe('the proof of a run', () => {
  const proof = '/runs/3/files/proof.mp4';
  const part = (range: string, more: Record<string, string> = {}): Promise<Response> =>
    served.ask(proof, { headers: { Range: range, ...more } });

  const writtenAt = (moment: Date): void =>
    fs.utimesSync(path.join(reportFolder, 'proof.mp4'), moment, moment);

  it('is not there before it was rendered', async () => {
    expect(await problem(await served.ask(proof))).toMatchObject({ status: 404, code: 'proof-missing' });
  });

  describe('once it is there', () => {
    beforeAll(() => {
      const log = openLog(path.join(served.dataDir, LOG_FILE));
      fs.writeFileSync(path.join(reportFolder, 'run.json'), JSON.stringify(log.get(3).run));
      log.close();
      fs.writeFileSync(path.join(reportFolder, 'proof.mp4'), '0123456789');
      writtenAt(AFTER);
    });

    it('is sent whole, and tells that it may be asked for in parts', async () => {
      const whole = await served.ask(proof);
      expect(whole.status).toBe(200);
      expect(Object.fromEntries(whole.headers)).toMatchObject({
        'content-type': 'video/mp4',
        'content-length': '10',
        'accept-ranges': 'bytes',
      });
      expect(await whole.text()).toBe('0123456789');
      const head = await served.ask(proof, { method: 'HEAD' });
      expect([head.headers.get('Content-Length'), await head.text()]).toEqual(['10', '']);
    });

    it.each([
      ['bytes=2-4', '234', 'bytes 2-4/10'],
      ['bytes=7-', '789', 'bytes 7-9/10'],
      ['bytes=-4', '6789', 'bytes 6-9/10'],
      ['bytes=8-400', '89', 'bytes 8-9/10'],
      ['bytes=-400', '0123456789', 'bytes 0-9/10'],
    ])('is sent in parts: %s', async (range, bytes, told) => {
      const response = await part(range);
      expect([response.status, response.headers.get('Content-Range')]).toEqual([206, told]);
      expect(response.headers.get('Content-Length')).toBe(String(bytes.length));
      expect(await response.text()).toBe(bytes);
    });

    it('refuses what lies behind its end, and sends the whole for what is not one range', async () => {
      const behind = await part('bytes=10-');
      expect([behind.status, behind.headers.get('Content-Range')]).toEqual([416, 'bytes */10']);
      for (const range of ['bytes=0-1,4-5', 'bytes=4-2', 'lines=1-2', 'bytes=-'])
        expect((await part(range)).status).toBe(200);
    });

    it('is no other run that had the folder before', async () => {
      writtenAt(BEFORE);
      expect((await served.ask(proof)).status).toBe(404);
      const own = path.join(served.folder, 'reports', 'hall-run-3');
      fs.mkdirSync(own);
      fs.writeFileSync(path.join(own, 'proof.mp4'), 'after the run');
      fs.utimesSync(path.join(own, 'proof.mp4'), AFTER, AFTER);
      expect(await (await served.ask(proof)).text()).toBe('after the run');
      fs.rmSync(own, { recursive: true });
      writtenAt(AFTER);
    });

    it('is sent whole where the part is of another proof', async () => {
      const tag = (await part('bytes=0-0')).headers.get('ETag') ?? '';
      expect((await part('bytes=0-0', { 'If-Range': tag })).status).toBe(206);
      expect((await part('bytes=0-0', { 'If-Range': '"other"' })).status).toBe(200);
    });
  });
});
