/** The report as one HTML file that stands alone: no script, no network, pictures and charts inside, readable on a phone and on paper. */
import type { RunDocument } from '../../run/index.js';
import type { ReportBundle } from '../types.js';
import { headline } from '../wording.js';
import { cautionsSection, methodSection, reasonsSection } from './closing.js';
import { costSection } from './cost.js';
import { leftOverSection } from './left-over.js';
import { firstScreen } from './first-screen.js';
import { floorSection } from './floor.js';
import { frequencySection } from './frequency.js';
import { html, trusted, verbatim, type Markup } from './markup.js';
import { motionLogPart } from './motion-log.js';
import { assumedSection, setupSection, timecodeAt, warningsSection } from './setup.js';
import { shakeSection } from './shake.js';
import { standalonePage } from './standalone.js';

/**
 * Renders the report; the same text for the same bundle.
 *
 * Everything that comes from outside (file names, warnings) is escaped. A content policy in the file forbids any request and
 * any script.
 *
 * @param pictureUri the bundle's picture as a data URI; null leaves the window without a picture
 */
export function renderHtml(bundle: ReportBundle, pictureUri: string | null = null): string {
  const { run } = bundle;
  const { word } = headline(run);
  const measured = run.verdict.grade !== 'unmeasurable';
  const page = html`<header class="top">
      <div class="steps" aria-hidden="true"></div>
      <p class="slate">
        <span class="name">${verbatim(run.clip.file)}</span
        ><span
          >${timecodeAt(run.clip, run.clip.rangeS[0])} to ${timecodeAt(run.clip, run.clip.rangeS[1])}</span
        ><span>${lens(run)}</span><span>Trundle test pass report</span>
      </p>
    </header>
    <main>
      ${firstScreen(bundle, pictureUri)} ${reasonsSection(run)}
      ${measured ? body(bundle) : html`<p class="note">The figures of this clip cannot be trusted, so they are not shown here. What was computed is in run.json, motion.csv and spectrum.csv.</p>`}
      ${assumedSection(run)} ${warningsSection(run)} ${setupSection(run)} ${methodSection(run)}
      ${cautionsSection()}
    </main>`;
  return standalonePage({
    title: `${word}: ${run.clip.file}`,
    about: run.clip.file,
    kind: 'Trundle test pass report',
    units: run.units,
    body: page,
  });
}

function body(bundle: ReportBundle): Markup {
  return html`${[shakeSection(bundle), motionLogPart(bundle.run), frequencySection(bundle), costSection(bundle), leftOverSection(bundle), floorSection(bundle)].map((section) => trusted(section.text))}`;
}

function lens({ rig }: RunDocument): string {
  return rig.focalLengthMm === undefined ? 'lens not given' : `${rig.focalLengthMm} mm lens`;
}
