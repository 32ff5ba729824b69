/** Measures one clip of many: report folder, run in the log, and the few figures that a table shows. */
import { keepInLog } from '../keep-run.js';
import type { MeasureHooks } from '../measure-request.js';
import { measure, type Measured } from '../measure.js';
import { checkRunFolder, writeRun } from '../report/index.js';
import { EXIT, type Warning } from '../run/index.js';
import { figuresOf } from './clip-figures.js';
import { failureOf, type ClipFailure } from './failure.js';
import type { MeasureOrder, MeasuredClip } from './protocol.js';

/**
 * Does it. A report folder that cannot be written is told before the long work.
 * @throws TrundleError as `measure` and `writeRun`
 */
export async function measureOne(
  { request, folder, paper, keep, tools, threads, withDocument }: MeasureOrder,
  hooks: Required<Pick<MeasureHooks, 'onProgress' | 'signal'>>,
): Promise<MeasuredClip> {
  await checkRunFolder(folder);
  const bundle = await measure(request, { tools, threads, ...hooks });
  const { pdfFailure } = await writeRun(folder, bundle, { pdf: paper, signal: hooks.signal });
  const notices = pdfFailure === null ? [] : [failureOf(pdfFailure)];
  const kept = keep && (await keptIn(bundle, folder, keep));
  return {
    figures: figuresOf(bundle.run),
    sha256: bundle.run.clip.sha256,
    run: kept?.run ?? null,
    notices: [...notices, ...(kept?.notices ?? [])],
    document: withDocument ? bundle.run : null,
  };
}

/** A run that cannot be kept costs a word, never the measurement: its report stands. */
async function keptIn(
  bundle: Measured,
  reportFolder: string,
  keep: NonNullable<MeasureOrder['keep']>,
): Promise<Pick<MeasuredClip, 'run' | 'notices'>> {
  const warnings: Warning[] = [];
  const kept = await keepInLog(bundle, {
    ...{ ...keep, reportFolder },
    onWarning: (warning) => warnings.push(warning),
  });
  if ('failure' in kept)
    return { run: null, notices: [{ ...failureOf(kept.failure), status: EXIT.measured }] };
  return {
    run: kept.id,
    notices: warnings.map(({ text }): ClipFailure => {
      return { code: 'log-damaged', sentence: text, status: EXIT.measured };
    }),
  };
}
