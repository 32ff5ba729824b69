/** What is meant by a place that cannot be a measured run: the clip itself, or the page of a report. */
import { TrundleError } from './run/index.js';

/**
 * Passes a place that may be a run.
 *
 * @param asker what takes measured runs, such as "compare"
 * @throws TrundleError `run-invalid` that says what to give instead
 */
export function checkPlaceOfRun(place: string, asker: string): void {
  if (/\.(mp4|mov|mkv|mxf|avi|m4v|webm)$/i.test(place))
    throw new TrundleError(
      'run-invalid',
      `"${place}" is a clip, and ${asker} takes measured runs; measure it first and give its report folder.`,
    );
  if (/\.html?$/i.test(place))
    throw new TrundleError('run-invalid', `"${place}" is a page; give the folder of the report.`);
}
