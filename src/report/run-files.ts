/** The files of a run folder, made from a bundle: document and series with their schemas, CSV, page and pictures. */
import { parseRun, runJsonSchema, runSeriesSchema, seriesJsonSchema } from '../run/index.js';
import { contactPicture } from './contact/contact-picture.js';
import { cropWindows } from './crop-windows.js';
import { motionCsv, sourcesCsv, spectrumCsv, thirdOctavesCsv } from './csv.js';
import { renderHtml } from './html/page.js';
import { jsonText } from './json-text.js';
import { dataUri, encodeCropPicture, encodePicture } from './picture.js';
import type { ReportBundle } from './types.js';

/** The files that a run is written as; without a frame of the clip there is no frame.jpg and no crop.png. */
export const RUN_FILES = [
  'run.json',
  'trundle-run-1.schema.json',
  'series.json',
  'trundle-series-1.schema.json',
  'motion.csv',
  'spectrum.csv',
  'third-octaves.csv',
  'sources.csv',
  'report.html',
  'frame.jpg',
  'crop.png',
  'contact.png',
] as const;

/** A file of every run folder. */
export type RunFile = (typeof RUN_FILES)[number];

/** Makes all files; the same bytes for the same bundle. @throws ZodError when the document does not fit its own schema */
export async function runFiles(bundle: ReportBundle): Promise<[RunFile, string | Uint8Array][]> {
  const run = parseRun(bundle.run);
  const files: [RunFile, string | Uint8Array][] = [
    ['run.json', jsonText(run)],
    ['trundle-run-1.schema.json', jsonText(runJsonSchema())],
    ['series.json', `${JSON.stringify(runSeriesSchema.parse(bundle.series))}\n`],
    ['trundle-series-1.schema.json', jsonText(seriesJsonSchema())],
    ['motion.csv', motionCsv(bundle.motion)],
    ['spectrum.csv', spectrumCsv(run.spectrum)],
    ['third-octaves.csv', thirdOctavesCsv(run.spectrum)],
    ['sources.csv', sourcesCsv(run.spectrum)],
  ];
  let pictureUri: string | null = null;
  if (bundle.picture) {
    const frame = await encodePicture(bundle.picture);
    pictureUri = dataUri(frame, 'image/jpeg');
    files.push(['frame.jpg', frame]);
    const { window, others } = cropWindows(bundle);
    if (run.verdict.grade !== 'unmeasurable' && window !== null)
      files.push(['crop.png', await encodeCropPicture(bundle.picture, window, others)]);
  }
  files.push(['contact.png', await contactPicture(bundle)], ['report.html', renderHtml(bundle, pictureUri)]);
  return files;
}
