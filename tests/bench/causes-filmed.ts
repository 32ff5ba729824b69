/** What is named in filmed passes of one known cause, two at once and none, a line each, and how many names are right. */
import { causeAccuracyOf, type CauseAccuracy } from '../support/cause-accuracy.js';
import { CAUSE_PASSES } from '../support/cause-passes.js';

/** Prints a line per pass whose name holds one of the words (all when there are none), and the summary. */
export async function printFilmedCauseTable(
  words: readonly string[],
  write: (text: string) => void,
): Promise<void> {
  const wanted = CAUSE_PASSES.filter(
    ({ pass }) => words.length === 0 || words.some((word) => pass.name.includes(word)),
  );
  if (wanted.length === 0) return;
  write(
    'Filmed passes, 10 s: sources with a right name, with a wrong one, without; true causes that lack their name; speed told over the true one; what was found, as frequency seen and name.\n\n' +
      '| pass | right | wrong | unnamed | lacking | speed | sources | film s | measure s |\n|---|---|---|---|---|---|---|---|---|\n',
  );
  const passes: CauseAccuracy[] = [];
  for (const pass of wanted) {
    const one = await causeAccuracyOf(pass, 2);
    passes.push(one);
    write(`| ${cells(one).join(' | ')} |\n`);
  }
  const sum = (count: (one: CauseAccuracy) => number): number =>
    passes.reduce((total, one) => total + count(one), 0);
  write(
    `\n- names right: ${sum(right)}; wrong: ${sum(({ wrong }) => wrong.length)}; sources without a name: ${sum(unnamed)}\n` +
      `- causes with their name: ${sum(({ truth, lacking }) => truth.length - lacking.length)} of ${sum(({ truth }) => truth.length)}\n\n`,
  );
}

function unnamed({ spectrum }: CauseAccuracy): number {
  return spectrum.sources.filter(({ cause }) => cause === 'unknown').length;
}

function right(one: CauseAccuracy): number {
  return one.spectrum.sources.length - unnamed(one) - one.wrong.length;
}

function cells(one: CauseAccuracy): string[] {
  const { pass, spectrum, wrong, lacking, trueSpeedMps, filmingS, measuringS } = one;
  const told = spectrum.sources.map(({ freqHz, cause, confidence, sound }) => {
    const heard = sound === null ? '' : ` heard at ${sound.trueHz.toFixed(1)}`;
    return `${freqHz.toFixed(2)} ${cause}${confidence === null ? '' : ` ${confidence.toFixed(2)}`}${heard}`;
  });
  const speed = spectrum.suggestedSpeed;
  return [
    pass.pass.name.replace('cause-', ''),
    String(right(one)),
    String(wrong.length),
    String(unnamed(one)),
    lacking.map(({ cause }) => cause).join(', ') || '-',
    speed === null ? '-' : (speed.mps / trueSpeedMps).toFixed(4),
    told.join('; ') || '-',
    filmingS.toFixed(1),
    measuringS.toFixed(1),
  ];
}
