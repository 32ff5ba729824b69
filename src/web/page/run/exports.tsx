/** What can be taken along of a run: report, print, picture, data. */
import { useState } from 'preact/hooks';
import { exportTexts } from '../../../texts/index.js';

type DataFile = keyof typeof exportTexts.files;
type Paper = keyof typeof exportTexts.papers;

const DATA_FILES = Object.keys(exportTexts.files) as DataFile[];
const PAPERS = Object.keys(exportTexts.papers) as Paper[];
/** Made from the motion. */
const NEED_SERIES: ReadonlySet<DataFile> = new Set(['series.json', 'motion.csv', 'crop.png']);

/** Links to the files. @param hasSeries false where the motion was not kept: files made from it are left out */
export function Exports({ id, hasSeries }: { readonly id: number; readonly hasSeries: boolean }) {
  const [paper, setPaper] = useState<Paper>('a4');
  const file = (name: string): string => `/api/runs/${id}/files/${name}`;
  return (
    <section class="exports" aria-labelledby="exports">
      <h2 id="exports">{exportTexts.title}</h2>
      <div class="export-main">
        {hasSeries && (
          <>
            <a class="button" href={file('report.html')} download>
              {exportTexts.report}
            </a>
            <span class="with-paper">
              <a class="button" href={`${file('report.pdf')}?paper=${paper}`} download>
                {exportTexts.pdf}
              </a>
              <label>
                <span>{exportTexts.paper}</span>
                <select value={paper} onChange={(event) => setPaper(event.currentTarget.value as Paper)}>
                  {PAPERS.map((name) => (
                    <option key={name} value={name}>
                      {exportTexts.papers[name]}
                    </option>
                  ))}
                </select>
              </label>
            </span>
            <a class="button" href={file('contact.png')} download>
              {exportTexts.picture}
            </a>
          </>
        )}
      </div>
      {hasSeries && <p class="muted small">{exportTexts.pdfWaits}</p>}
      <details>
        <summary>{exportTexts.more}</summary>
        <ul class="files">
          {DATA_FILES.filter((name) => hasSeries || !NEED_SERIES.has(name)).map((name) => (
            <li key={name}>
              <a href={file(name)} download>
                {exportTexts.files[name]}
              </a>{' '}
              <code translate={false}>{name}</code>
            </li>
          ))}
        </ul>
      </details>
    </section>
  );
}
