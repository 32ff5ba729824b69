import fs from 'node:fs/promises';
import path from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { logFile, openLog } from '../../src/log/index.js';
import { madeUpEntry } from '../log/support/made-up-entry.js';
import { temporaryFolder } from '../log/support/temporary-folder.js';
import { runWords } from '../support/recorded-io.js';

const { folder } = temporaryFolder();
let data = '';

beforeAll(() => {
  data = path.join(folder, 'data');
  const log = openLog(logFile(data, {}, process.platform, folder));
  log.add(
    madeUpEntry({ pass: { floor: 'dairy hall' }, thumbnail: new Uint8Array([0xff, 0xd8, 0xff, 0xd9]) }),
  );
  log.add(madeUpEntry({ pass: { floor: 'plywood loft' }, grade: 'fail', clipSha256: 'f'.repeat(64) }));
  log.close();
});

describe('trundle log page', () => {
  it('writes the page with every run, its picture, and prints where it is', async () => {
    const file = path.join(folder, 'log.html');
    const { status, out } = await runWords('log', 'page', '--out', file, '--data-dir', data);
    expect(status).toBe(0);
    expect(out).toBe(`${file}\n`);
    const page = await fs.readFile(file, 'utf8');
    expect(page).toContain('2 runs on 2 floors');
    expect(page).toContain('data:image/jpeg;base64,');
  });

  it('shows only what is asked for, and says so', async () => {
    const file = path.join(folder, 'fail.html');
    const { status } = await runWords('log', 'page', '--grade', 'fail', '--out', file, '--data-dir', data);
    expect(status).toBe(0);
    const page = await fs.readFile(file, 'utf8');
    expect(page).toContain('plywood loft');
    expect(page).not.toContain('dairy hall');
    expect(page).toContain('only grade fail');
  });

  it('refuses units that are none, and a log that is not there', async () => {
    const units = await runWords('log', 'page', '--units', 'yards', '--data-dir', data);
    expect(units.status).toBe(2);
    expect(units.err).toContain('metric, imperial, both');
    const none = await runWords('log', 'page', '--data-dir', path.join(folder, 'none'));
    expect(none.status).toBe(2);
    expect(none.err).toContain('There is no log');
  });
});
