/** The report as one HTML file that stands alone: no network, pictures and charts inside, readable on a phone and on paper. */
import { timecodeAt } from '../charts/index.js';
import type { RunDocument } from '../../run/index.js';
import { pageTexts } from '../../texts/index.js';
import type { Readers, ReportBundle } from '../types.js';
import { headline } from '../wording.js';
import { assumedSection } from './assumed.js';
import { cautionsSection, methodSection } from './closing.js';
import { bodyOf } from './contents.js';
import { costSection } from './cost.js';
import { firstScreen } from './first-screen.js';
import { floorSection } from './floor.js';
import { frequencySection } from './frequency.js';
import { leftOverSection } from './left-over.js';
import { html, verbatim, type Markup } from './markup.js';
import { motionLogPart } from './motion-log.js';
import { reasonsSection } from './reasons.js';
import { setupSection } from './setup.js';
import { shakeSection } from './shake.js';
import { standalonePage } from './standalone.js';
import { whatIfSection } from './what-if.js';

/**
 * Renders the report; the same text for the same bundle.
 *
 * Everything that comes from outside (file names, warnings) is escaped. A content policy in the file forbids any request.
 *
 * @param pictureUri the bundle's picture as a data URI; null leaves the window without a picture
 */
export function renderHtml(bundle: ReportBundle, pictureUri: string | null = null): string {
  const { run } = bundle;
  const { word } = headline(run);
  const page = html`<a class="skip" href="#reasons">${pageTexts.skip}</a>
    ${header(run)}
    <main>${firstScreen(bundle, pictureUri)} ${reportBody(bundle, 'file')}</main>`;
  return standalonePage({
    title: pageTexts.title(word, run.clip.file),
    about: run.clip.file,
    kind: pageTexts.kind,
    units: run.units,
    body: page,
  });
}

/** Everything under the first screen: contents, and the sections from the reasons to the cautions. */
export function reportBody(bundle: ReportBundle, readers: Readers): Markup {
  const { run } = bundle;
  return bodyOf([
    ...measuredSections(bundle, readers),
    assumedSection(run),
    setupSection(run),
    methodSection(run),
    cautionsSection(),
  ]);
}

/** The sections that hold figures; only the reasons when the figures cannot be trusted. */
function measuredSections(bundle: ReportBundle, readers: Readers): Markup[] {
  const { run } = bundle;
  if (run.verdict.grade === 'unmeasurable')
    return [reasonsSection(run), html`<p class="note">${pageTexts.unmeasured}</p>`];
  return [
    reasonsSection(run),
    shakeSection(bundle),
    motionLogPart(run),
    frequencySection(bundle),
    floorSection(bundle),
    costSection(bundle),
    whatIfSection(bundle, readers),
    leftOverSection(bundle),
  ];
}

/** The line on top: clip, date, what the sheet calls the pass, stretch in timecode, lens, kind of page. */
function header({ clip, rig, pass, createdAt }: RunDocument): Markup {
  const [inS, outS] = clip.rangeS;
  const { focalLengthMm } = rig;
  const { production, slate, take, setup, passNumber } = pass;
  const sheet = [
    production,
    pageTexts.passName({ slate, take, setup, passNumber: passNumber?.toString() }) || undefined,
  ].filter((name) => name !== undefined);
  return html`<header class="top">
    <div class="steps" aria-hidden="true"></div>
    <p class="slate">
      <span class="name">${verbatim(clip.file)}</span
      ><span><time datetime="${createdAt}">${createdAt.slice(0, 10)}</time></span
      >${sheet.map((name) => html`<span>${verbatim(name)}</span>`)}<span
        >${pageTexts.stretch(timecodeAt(clip, inS), timecodeAt(clip, outS))}</span
      ><span>${focalLengthMm === undefined ? pageTexts.noLens : pageTexts.lens(focalLengthMm)}</span
      ><span>${pageTexts.kind}</span>
    </p>
  </header>`;
}
