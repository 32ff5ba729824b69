/** The motion log on the report page: sentences, and a table of the turning axes as log and picture saw them. */
import { figure, ANGULAR_AXES, type RunDocument } from '../../run/index.js';
import { figureTexts, motionLogTexts } from '../../texts/index.js';
import { motionLogWords } from '../motion-log-words.js';
import { axisNames } from '../wording.js';
import { html, verbatim, type Insert, type Markup } from './markup.js';
import { table } from './table.js';

/** The section on the motion log; nothing when none was given. */
export function motionLogPart(run: RunDocument): Markup {
  const { motionLog } = run;
  if (!motionLog) return html``;
  return html`<section aria-labelledby="motion-log">
    <h2 id="motion-log">${motionLogTexts.heading}</h2>
    <p class="muted">${verbatim(motionLog.file)}</p>
    <ul>
      ${motionLogWords(run).map((words) => html`<li>${words}</li>`)}
    </ul>
    ${comparison(run)}
  </section>`;
}

function comparison(run: RunDocument): Markup | null {
  const { motionLog, motion } = run;
  if (!motionLog) return null;
  const rows = ANGULAR_AXES.flatMap((name): Insert[][] => {
    const axis = motionLog.axes[name];
    if (!axis) return [];
    const { gain, gainCi95 } = axis;
    return [
      [
        axisNames(run)[name].name,
        `${figure(axis.rmsVideoDeg)}°`,
        `${figure(axis.rmsLogDeg)}°`,
        `${figure(axis.rmsDifferenceDeg)}°`,
        axis.correlation.toFixed(3),
        gain === null
          ? '–'
          : html`${gain.toFixed(3)}${
              gainCi95 &&
              html`<span class="sub"
                >${figureTexts.range(gainCi95[0].toFixed(3), gainCi95[1].toFixed(3))}</span
              >`
            }`,
        axis.agrees ? motionLogTexts.yes : motionLogTexts.no,
      ],
    ];
  });
  if (rows.length === 0) return null;
  const [low, high] = motion.bandHz;
  const { heads } = motionLogTexts;
  return table({
    caption: motionLogTexts.caption(figure(low), figure(high)),
    head: [
      heads.axis,
      heads.picture,
      heads.log,
      heads.difference,
      heads.correlation,
      html`${heads.gain}<span class="sub">${heads.range}</span>`,
      heads.agree,
    ],
    rows,
    numeric: [1, 2, 3, 4, 5],
    wideOnly: [4],
  });
}
