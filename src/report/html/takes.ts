/** What takes of other lengths will need, beside what the test needed. */
import { figure, percentFigure, percentUp, type RunDocument } from '../../run/index.js';
import { againSentence, hitsSentence, takeSentence } from '../../stabilise/index.js';
import { takeTexts } from '../../texts/index.js';
import { namedTake } from '../wording.js';
import { html, type Insert, type Markup } from './markup.js';
import { table } from './table.js';

/** Where more than this share of the picture is lost, nobody delivers the shot. */
const NOT_USABLE_PERCENT = 50;

/** Sentence and tables; null when nothing was foretold. */
export function takesPart({ stabilise, clip }: RunDocument): Markup | null {
  const { longerTake, again, hitsSeen } = stabilise;
  const named = namedTake(stabilise);
  if (named === null) return null;
  const keptMove = stabilise.mode === 'keepMove';
  const testS = clip.rangeS[1] - clip.rangeS[0];
  const { head } = takeTexts;
  return html`<h3>${takeTexts.heading}</h3>
    <p>
      ${keptMove ? '' : takeTexts.otherWay}${takeSentence(testS, again.medianPercent, named)}
      ${againSentence(again)}
    </p>
    <p>${hitsSentence({ seen: hitsSeen }, named)} ${takeTexts.whatIsAHit}</p>
    ${table({
      caption: takeTexts.caption(figure(testS), !keptMove),
      head: [head.take, head.typical, head.bound, head.more, head.fromHere],
      rows: longerTake.map((take): Insert[] => {
        const same = again.longer.find(({ takeS }) => takeS === take.takeS);
        return [
          takeTexts.seconds(figure(take.takeS)),
          take.medianPercent === null ? '–' : `${percentFigure(take.medianPercent)} %`,
          upper(take),
          takeTexts.inHundred(Math.round(100 * take.chanceExceeds)),
          same === undefined ? '–' : upper(same),
        ];
      }),
      numeric: [1, 2, 3, 4],
      wideOnly: [4],
    })}
    ${refusals(longerTake)}`;
}

type Takes = RunDocument['stabilise']['longerTake'];

function upper({ upper95Percent, atLeast }: Pick<Takes[number], 'upper95Percent' | 'atLeast'>): string {
  if (upper95Percent === null) return '–';
  if (upper95Percent >= NOT_USABLE_PERCENT) return takeTexts.overHalfCell;
  return atLeast ? takeTexts.atLeastCell(percentUp(upper95Percent)) : `${percentUp(upper95Percent)} %`;
}

function refusals(takes: Takes): Markup | null {
  const whys = new Set(takes.flatMap(({ refused }) => (refused === null ? [] : [refused.why])));
  return whys.size === 0 ? null : html`<p class="legend">${takeTexts.dash([...whys])}</p>`;
}
