/** The last setups: what is kept of them, in which order, under which names, and what a damaged file does. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { DELIVERY_PRESETS as presets } from '../../../src/judge/index.js';
import type { Problem, SavedSetup } from '../../../src/web/api.js';
import { openSetups, setupRoutes, type Setups } from '../../../src/web/setups/index.js';
import { MOST_SETUPS } from '../../../src/web/setups/open-setups.js';
import { setupsFile } from '../../../src/web/setups/setups-file.js';

let dataDir = '';
let minute = 0;
let setups: Setups;
/** A minute later with every look. */
const now = (): Date => new Date(Date.UTC(2031, 2, 14, 8, minute++));
const file = (): string => path.join(dataDir, 'setups.json');

beforeEach(async () => {
  dataDir = path.join(fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-setups-')), 'data');
  minute = 0;
  setups = await openSetups({ dataDir, presets }, now);
});
afterEach(() => fs.rmSync(path.dirname(dataDir), { recursive: true, force: true }));

const names = async (): Promise<string[]> => (await setups.list()).map(({ name }) => name);

describe('the last setups', () => {
  it('are none where nothing was measured', async () => {
    expect(await setups.list()).toEqual([]);
  });

  it('are named by lens, sensor, wheels and floor', async () => {
    await setups.remember({ focal: '28', sensor: 'full frame', wheels: 'soft tyres', speed: '20cm/s' });
    await setups.remember({ focal: '35mm', sensor: '24.9', setup: 'hard tyres', floor: 'tiled corridor' });
    await setups.remember({ speed: '20cm/s', for: 'phone' });
    expect(await names()).toEqual([
      'Speed 20cm/s, Named delivery phone',
      '35 mm, 24.9 mm wide, hard tyres, tiled corridor',
      '28 mm, full frame, soft tyres',
    ]);
  });

  it('are kept without what belongs to the one pass, and not at all with nothing left', async () => {
    const setup = { focal: '28mm', 'max-crop': '3%', stabilise: 'keep-move', wheels: 'soft tyres' };
    const pass = { in: '1s', out: '9s', 'pass-number': '3', 'take-number': '2', slate: '27B', mark: 'good' };
    await setups.remember({ ...setup, ...pass, notes: 'door was open', lane: '2', direction: 'out' });
    await setups.remember(pass);
    await setups.remember({ focal: '  ' });
    expect((await setups.list()).map(({ settings }) => settings)).toEqual([setup]);
  });

  it('move to the front when they are used again, whatever the order of their settings and the pass', async () => {
    await setups.remember({ focal: '28mm', speed: '20cm/s' });
    await setups.remember({ focal: '50mm' });
    const [, first] = await setups.list();
    await setups.remember({ speed: '20cm/s ', focal: '28mm', 'pass-number': '4' });
    const again = await setups.list();
    expect(again.map(({ settings }) => settings['focal'])).toEqual(['28mm', '50mm']);
    expect(again[0].id).toBe(first.id);
    expect(again[0].usedAt > first.usedAt).toBe(true);
  });

  it(`are ${MOST_SETUPS} at most, the oldest goes`, async () => {
    for (let mm = 1; mm <= MOST_SETUPS + 2; mm++) await setups.remember({ focal: `${mm}mm` });
    const kept = await names();
    expect(kept).toHaveLength(MOST_SETUPS);
    expect([kept[0], kept[MOST_SETUPS - 1]]).toEqual([`${MOST_SETUPS + 2} mm`, '3 mm']);
  });

  it('are all kept when they come at once, and are there for the next start', async () => {
    await Promise.all([20, 30, 40].map((mm) => setups.remember({ focal: `${mm}mm` })));
    const next = await openSetups({ dataDir, presets }, now);
    expect(await next.list()).toEqual(await setups.list());
    expect(await names()).toEqual(['40 mm', '30 mm', '20 mm']);
    expect(fs.readdirSync(dataDir)).toEqual(['setups.json']);
  });

  it.each([
    ['no JSON', '{"format":'],
    ['another format', '{"format":"trundle-run","version":1,"setups":[]}'],
    ['a newer version', '{"format":"trundle-setups","version":2,"setups":[]}'],
    ['a setting that is none', JSON.stringify(fileWith({ focul: '28mm' }))],
    ['a setting that is no text', JSON.stringify(fileWith({ focal: 28 }))],
  ])('are set aside when the file holds %s, and begin anew', async (_, text) => {
    fs.mkdirSync(dataDir);
    fs.writeFileSync(file(), text);
    expect(await setups.list()).toEqual([]);
    await setups.remember({ focal: '28mm' });
    expect(await names()).toEqual(['28 mm']);
    const aside = fs.readdirSync(dataDir).filter((name) => name.startsWith('setups.json.damaged-'));
    expect(aside.map((name) => fs.readFileSync(path.join(dataDir, name), 'utf8'))).toEqual([text]);
  });

  it('leave what is in the way as it is when the file cannot be written, and no half of a file', async () => {
    fs.mkdirSync(path.join(file(), 'in the way'), { recursive: true });
    await expect(setupsFile(file(), () => new Date()).write(() => [])).rejects.toThrow(/cannot be written/);
    expect(fs.readdirSync(dataDir)).toEqual(['setups.json']);
    expect(fs.readdirSync(file())).toEqual(['in the way']);
  });
});

describe('the setups over HTTP', () => {
  it('are listed, and taken off one by one', async () => {
    await setups.remember({ focal: '28mm' });
    await setups.remember({ focal: '50mm' });
    const routes = setupRoutes(setups);
    const listed = (await (await routes.request('/setups')).json()) as SavedSetup[];
    expect(listed).toEqual(await setups.list());
    const taken = await routes.request(`/setups/${listed[0].id}`, { method: 'DELETE' });
    expect([taken.status, await taken.text()]).toEqual([204, '']);
    expect(await names()).toEqual(['28 mm']);
  });

  it.each(['nowhere', '..%2Fdeliveries', '__proto__'])('do not know "%s"', async (id) => {
    const answer = await setupRoutes(setups).request(`/setups/${id}`, { method: 'DELETE' });
    expect(answer.status).toBe(404);
    expect(((await answer.json()) as Problem).code).toBe('setup-unknown');
  });
});

function fileWith(settings: unknown): unknown {
  const setup = { id: 'a', name: '28 mm', usedAt: '2031-03-14T08:00:00.000Z', settings };
  return { format: 'trundle-setups', version: 1, setups: [setup] };
}
