/** What can be taken along of a run: report, print, picture, data. */
import { useState } from 'preact/hooks';
import { exportTexts } from '../../../texts/index.js';

type DataFile = keyof typeof exportTexts.files;
type Paper = keyof typeof exportTexts.papers;

const DATA_FILES = Object.keys(exportTexts.files) as DataFile[];
const PAPERS = Object.keys(exportTexts.papers) as Paper[];

/** Links to the files. @param props.hasWindow false for a run without a verdict: there is no crop to draw */
export function Exports({ id, hasWindow }: { readonly id: number; readonly hasWindow: boolean }) {
  const [paper, setPaper] = useState<Paper>('a4');
  const file = (name: string): string => `/api/runs/${id}/files/${name}`;
  return (
    <section class="exports" aria-labelledby="exports">
      <h2 id="exports">{exportTexts.title}</h2>
      <div class="export-main">
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
      </div>
      <p class="muted small">{exportTexts.pdfWaits}</p>
      <details>
        <summary>{exportTexts.more}</summary>
        <ul class="files">
          {DATA_FILES.filter((name) => hasWindow || name !== 'crop.png').map((name) => (
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
