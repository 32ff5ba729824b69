/** Runs with their series as folders and as bytes of the log: they come back as they were, or are refused in one sentence. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { pack, unpack } from '../src/log/packed.js';
import { joinSeries, readMeasured } from '../src/read-measured.js';
import { readRun } from '../src/read-run.js';
import {
  AXES,
  TrundleError,
  runJsonSchema,
  seriesJsonSchema,
  type RunDocument,
  type RunSeries,
} from '../src/run/index.js';
import { arbitraryOf, type JsonSchema } from './support/json-schema.js';

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-measured-'));
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

/** A run and a series of one measurement, of any values that their schemas allow. */
const measured = fc
  .tuple(arbitraryOf(runJsonSchema() as JsonSchema), arbitraryOf(seriesJsonSchema() as JsonSchema))
  .map(([anyRun, anySeries]) => {
    const run = anyRun as RunDocument;
    const series: RunSeries = {
      ...(anySeries as RunSeries),
      createdAt: run.createdAt,
      clipSha256: run.clip.sha256,
    };
    return { run, series };
  });

async function codeOf(work: () => unknown): Promise<string | null> {
  try {
    await work();
    return null;
  } catch (error) {
    if (!(error instanceof TrundleError)) throw error;
    expect(error.message).toMatch(/\.$/);
    return error.code;
  }
}

describe('a measured run', () => {
  it('comes back from the bytes that the log keeps, and any other bytes are none', () => {
    fc.assert(
      fc.property(measured, fc.uint8Array({ maxLength: 60 }), fc.nat(), ({ run, series }, bytes, at) => {
        const packed = pack(run);
        expect(unpack(packed)).toEqual(run);
        expect(unpack(pack(series))).toEqual(series);
        expect(pack(run)).toEqual(packed);
        expect(unpack(bytes)).toBeNull();
        expect(unpack(packed.subarray(0, at % packed.length))).toBeNull();
        // One bit anywhere behind the header is seen by the checksum.
        const flipped = Uint8Array.from(packed);
        flipped[10 + (at % (packed.length - 10))] ^= 1 << (at % 8);
        expect(unpack(flipped)).toBeNull();
      }),
      { seed: 151, numRuns: 25 },
    );
  });

  it('of any values that fit the schemas is taken up, or refused where its columns do not fit one another', async () => {
    /** Every axis as long as the times. */
    const evened = (series: RunSeries): RunSeries => {
      const samples = series.motion.timeS.length;
      const longAs = <Axes extends Readonly<Record<string, readonly (number | null)[]>>>(axes: Axes): Axes =>
        Object.fromEntries(
          Object.entries(axes).map(([axis, column]) => [
            axis,
            Array.from({ length: samples }, (_, t) => column[t] ?? 0),
          ]),
        ) as unknown as Axes;
      const { path: way, vibration, noiseSd } = series.motion;
      const motion = {
        ...series.motion,
        path: longAs(way),
        vibration: longAs(vibration),
        noiseSd: longAs(noiseSd),
      };
      return { ...series, motion };
    };
    await fc.assert(
      fc.asyncProperty(
        measured,
        fc.constantFrom('path', 'vibration', 'noiseSd'),
        fc.constantFrom(...AXES),
        async ({ run, series }, columns, axis) => {
          const whole = evened(series);
          expect(await codeOf(() => joinSeries(run, whole, 'a'))).toBeNull();
          const other = { ...whole, createdAt: `${run.createdAt}x` };
          expect(await codeOf(() => joinSeries(run, other, 'a'))).toBe('run-invalid');
          const long = { ...whole.motion[columns], [axis]: [...whole.motion[columns][axis], 0] };
          const uneven = { ...whole, motion: { ...whole.motion, [columns]: long } };
          expect(await codeOf(() => joinSeries(run, uneven, 'a'))).toBe('run-invalid');
        },
      ),
      { seed: 152, numRuns: 60 },
    );
  });

  it('in a folder is read as it was written; cut short or of another kind it is refused', async () => {
    const [runFile, seriesFile] = ['run.json', 'series.json'].map((name) => path.join(folder, name));
    await fc.assert(
      fc.asyncProperty(measured, fc.nat(), fc.jsonValue(), async ({ run, series }, at, other) => {
        const text = JSON.stringify(run);
        fs.writeFileSync(runFile, text);
        fs.writeFileSync(seriesFile, JSON.stringify(series));
        expect(await readRun(folder)).toEqual(run);
        expect(await readRun(runFile)).toEqual(run);
        fs.writeFileSync(seriesFile, JSON.stringify(series).slice(0, at % 100));
        expect(await codeOf(() => readMeasured(folder))).toBe('run-invalid');
        for (const wrong of [text.slice(0, at % text.length), JSON.stringify(other)]) {
          fs.writeFileSync(runFile, wrong);
          expect(await codeOf(() => readRun(folder))).toBe('run-invalid');
        }
        fs.rmSync(runFile);
        expect(await codeOf(() => readRun(folder))).toBe('run-unreadable');
      }),
      { seed: 153, numRuns: 12 },
    );
  });
});
