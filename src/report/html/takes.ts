/** What takes of other lengths will need, beside what the test needed. */
import { figure, percentFigure, percentUp, type RunDocument } from '../../run/index.js';
import { againSentence, hitsSentence, takeSentence } from '../../stabilise/index.js';
import { namedTake } from '../wording.js';
import { html, type Insert, type Markup } from './markup.js';
import { table } from './table.js';

/** Sentence and tables; null when nothing was foretold. */
export function takesPart({ stabilise, clip }: RunDocument): Markup | null {
  const { longerTake, again, hitsSeen } = stabilise;
  const kept =
    stabilise.mode === 'keepMove'
      ? ''
      : 'No take is foretold for this way; what follows holds where the move is kept. ';
  const named = namedTake(stabilise);
  if (named === null) return null;
  const testS = clip.rangeS[1] - clip.rangeS[0];
  const upper = (take: { upper95Percent: number | null; atLeast: boolean }): string =>
    take.upper95Percent === null
      ? '–'
      : take.upper95Percent >= 50
        ? 'more than half'
        : `${take.atLeast ? 'at least ' : ''}${percentUp(take.upper95Percent)} %`;
  const typical = (percent: number | null): string =>
    percent === null ? '–' : `${percentFigure(percent)} %`;
  return html`<p>${kept}${takeSentence(testS, again.medianPercent, named)}</p>
    ${table({
      caption: `Crop of other takes on a surface like this${kept === '' ? '' : ', keeping the move'} (this test: ${figure(testS)} s)`,
      head: [
        'Take',
        'Typical crop',
        '19 in 20 below',
        'Needs more than the test',
        '19 in 20 below, starting on this stretch',
      ],
      rows: longerTake.map((take): Insert[] => {
        const same = again.longer.find(({ takeS }) => takeS === take.takeS);
        return [
          `${figure(take.takeS)} s`,
          typical(take.medianPercent),
          upper(take),
          `${Math.round(100 * take.chanceExceeds)} in 100`,
          same === undefined ? '–' : upper(same),
        ];
      }),
      numeric: [1, 2, 3, 4],
      wideOnly: [4],
    })}
    <p class="legend">
      ${againSentence(again)} ${hitsSentence({ seen: hitsSeen }, named)} ${refusals(longerTake)}
    </p>`;
}

type Takes = RunDocument['stabilise']['longerTake'];

function refusals(takes: Takes): string {
  const whys = new Set(takes.flatMap(({ refused }) => (refused === null ? [] : [refused.why])));
  return whys.size === 0 ? '' : `A dash: no bound, because ${[...whys].join('; because ')}.`;
}
