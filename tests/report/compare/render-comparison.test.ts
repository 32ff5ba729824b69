import { describe, expect, it } from 'vitest';
import { parseComparison } from '../../../src/run/index.js';
import { renderComparison } from '../../../src/report/index.js';
import { axisRatio, madeUpComparison } from '../support/made-up-comparison.js';
import {
  MADE_UP_COMPARISONS,
  belowNoise,
  hostileComparison,
  lanesOnly,
  onePassEach,
  ownLanes,
  threeSetups,
  unequalSpeeds,
  withBands,
} from '../support/made-up-comparisons.js';

/** The page as it is read: without tags, style, script and what the script reads. */
function wordsOf(page: string): string {
  return page
    .replace(/<(style|script)\b[\s\S]*?<\/\1>/g, '')
    .replace(/<[^>]*>/g, ' ')
    .replace(/[\s\u00a0]+/g, ' ');
}

function sectionOf(page: string, id: string): string {
  return new RegExp(`<section[^>]*aria-labelledby="${id}"[\\s\\S]*?</section>`).exec(page)?.[0] ?? '';
}

describe.each(Object.entries(MADE_UP_COMPARISONS))('the page of a comparison: %s', (_, make) => {
  const page = renderComparison(make());
  const words = wordsOf(page);

  it('is made from a document that its schema takes', () => {
    expect(parseComparison(make())).toEqual(make());
  });

  it('shows no figure that is none, and never says that setups are equal', () => {
    expect(words).not.toMatch(/NaN|undefined|\bnull\b|Infinity/);
    expect(words).not.toMatch(/\bequal\b/i);
    expect(page).not.toMatch(/="(?:NaN|undefined|null|[^"]*\bNaN\b[^"]*)"/);
  });

  it('has no id twice and no heading that is not there', () => {
    const ids = [...page.matchAll(/ id="([^"]*)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const [, id] of page.matchAll(/aria-labelledby="([^"]*)"/g)) expect(ids).toContain(id);
  });

  it('stands alone: no script but that of the page, no address outside', () => {
    const policy =
      /content="default-src 'none'; (script-src 'sha256-[^']+'; )?img-src data:; style-src 'unsafe-inline'"/;
    const [whole, script] = policy.exec(page) ?? [];
    expect(whole).toBeDefined();
    // Without a chart to look into there is nothing to run.
    if (make().pairs.length === 0) expect(script).toBeUndefined();
    const markup = page.replace(
      /<script(?: type="application\/json" class="live-data")?>[\s\S]*?<\/script>/g,
      '',
    );
    expect(markup).not.toMatch(/<script|<img|<link(?![^>]*href="data:,")|url\((?!#)|onerror="/i);
  });

  it('is the same for the same comparison', () => {
    expect(renderComparison(make())).toBe(page);
  });
});

describe('the page of a comparison', () => {
  it('gives the sentence first, then each ratio with its range', () => {
    const page = renderComparison(madeUpComparison());
    const answer = sectionOf(page, 'answer');

    expect(wordsOf(answer).trim()).toMatch(
      /^Soft wheels is smoother on this lane: tilt RMS 0\.8 of hard wheels/,
    );
    for (const figure of ['0.80', '0.66 to 0.96', '1.08', '0.90 to 1.30', '0.92', '0.76 to 1.11'])
      expect(answer).toContain(`>${figure}<`);
  });

  it('shows every figure of every pass', () => {
    const passes = wordsOf(sectionOf(renderComparison(madeUpComparison()), 'passes'));

    for (const figure of [
      '0.039°',
      '0.011°',
      '0.029°',
      '2.9 %',
      '0.055°',
      '4.1 %',
      'Marginal',
      '0.3 m/s',
      'back',
    ])
      expect(passes).toContain(figure);
  });

  it('names every run with its folder', () => {
    const comparison = threeSetups();
    const runs = sectionOf(renderComparison(comparison), 'runs');

    for (const { place, clip } of comparison.groups.flatMap((group) => group.runs)) {
      expect(runs).toContain(`>${place}<`);
      expect(runs).toContain(`>${clip}<`);
    }
  });

  it('says plainly that the spreads are assumed, or where the log stands for them', () => {
    expect(wordsOf(sectionOf(renderComparison(madeUpComparison()), 'spreads'))).toContain(
      'Assumed, not measured.',
    );
    const logged = madeUpComparison((draft) => (draft.priors.betweenPassesFrom = 'log'));

    expect(wordsOf(sectionOf(renderComparison(logged), 'spreads'))).toContain(
      'The spread of passes is from the log of runs; that of lanes is assumed, not measured.',
    );
  });

  it('puts a box on the first screen only when the comparison is not fair', () => {
    expect(sectionOf(renderComparison(unequalSpeeds()), 'answer')).toContain('Not a fair comparison');
    expect(renderComparison(madeUpComparison())).not.toContain('class="unfair"');
  });

  it('says what would decide, and nothing of it where all is clear', () => {
    const answer = (make: () => ReturnType<typeof madeUpComparison>): string =>
      wordsOf(sectionOf(renderComparison(make()), 'answer'));

    expect(answer(onePassEach)).toContain('Tilt: 4 passes of each would show a difference of 20 %.');
    expect(answer(ownLanes)).toContain('Sooner: run both on one lane, in the order A B B A.');
    expect(
      answer(() =>
        madeUpComparison((draft) => {
          draft.pairs[0].axes.splice(1);
        }),
      ),
    ).not.toContain('What would decide');
  });

  it('draws only bands that stand up to the correction as clear', () => {
    const comparison = withBands();
    const clear = (page: string): number => page.match(/class="ratio-bar clear"/g)?.length ?? 0;
    const before = clear(renderComparison(comparison));
    for (const band of comparison.pairs[0].bands) band.pHolm = 0.2;

    // Tilt as observed, drawn for a desk and for a phone, and one band.
    expect(before).toBe(3);
    expect(clear(renderComparison(comparison))).toBe(2);
  });

  it('keeps what is below the noise as words', () => {
    const page = wordsOf(renderComparison(belowNoise()));

    expect(page).toContain('below noise');
    expect(page).toContain('not foretold');
    expect(page).toContain('Pan is below the noise with both');
  });

  it('says the same in chart and table of an axis that is smoother by its bound', () => {
    const comparison = belowNoise();
    comparison.pairs[0].axes[2].says = 'aSmoother';
    const page = renderComparison(comparison);
    const chart = /<svg[^>]*aria-label="Shake of[^"]*"[\s\S]*?<\/svg>/.exec(page)?.[0] ?? '';

    expect(chart).toContain('Pan not compared, Roll clear: soft wheels smoother');
    expect(chart.match(/>not compared</g)).toHaveLength(1);
    expect(chart).toMatch(/>soft wheels<\/text><text[^>]*>smoother</);
    expect(wordsOf(sectionOf(page, 'pair-1'))).toMatch(/Roll below noise .{1,20}– soft wheels smoother/);
  });

  it('draws a band that only a bound decides, and counts it as clear', () => {
    const comparison = withBands();
    const none = { ratio: null, ci95: null, degrees: null, p: null, pHolm: null, aSmoother: null };
    const roll = comparison.pairs[0].bands.filter(({ axis }) => axis === 'roll');
    for (const band of roll) Object.assign(band, { ...none, aRms: null, says: 'notCompared' });
    expect(wordsOf(renderComparison(comparison))).toContain('Not compared in any band: roll.');

    roll[0].says = 'aSmoother';
    const words = wordsOf(renderComparison(comparison));
    expect(words).not.toContain('Not compared in any band');
    expect(words).toMatch(new RegExp(`Clear in [^.]*roll ${roll[0].label}`));
  });

  it('says beside the crops of the passes and beside the cost what each of them is', () => {
    const page = renderComparison(madeUpComparison());
    const passes = wordsOf(sectionOf(page, 'passes'));
    const foretold = 'Foretold for takes of 60 s and a 35 mm lens: half of such takes need less.';

    expect(passes).toContain('Crop: of the pass itself, worked out anew for a 35 mm lens,');
    expect(passes).toContain('the reports of the runs give it for their own');
    expect(passes).toContain('Speed: travel over time where the travel is known');
    expect(wordsOf(sectionOf(page, 'pair-1'))).toContain(foretold);
    const unknown = madeUpComparison((draft) => {
      draft.common.focalLengthMm = null;
      for (const { runs } of draft.groups) for (const run of runs) run.speedMps = null;
    });
    expect(wordsOf(renderComparison(unknown))).toContain('Foretold for takes of 60 s and one lens:');
    expect(wordsOf(renderComparison(unknown))).not.toContain('Speed: travel over time');
  });

  it('gives the cost of takes of each length apart', () => {
    const comparison = threeSetups();
    comparison.pairs[1].crop = { ...comparison.pairs[1].crop, takeS: 12 };
    const answer = wordsOf(sectionOf(renderComparison(comparison), 'answer'));

    expect(answer).toContain('Crop of a take of 60 s, median: soft wheels');
    expect(answer).toContain('Crop of a take of 12 s, median: aluminium rail');
    expect(answer).toContain('Foretold for takes of 60 and 12 s');
  });

  it('gives the lanes first where there is nothing else to compare', () => {
    const page = renderComparison(lanesOnly());

    expect(page.indexOf('id="lanes"')).toBeLessThan(page.indexOf('id="passes"'));
    expect(page).not.toContain('id="spreads"');
    expect(sectionOf(page, 'lanes')).toContain('keep off 2.1 to 2.9 m');
  });

  it('gives lengths and speeds in the units asked for, in the plan and in its tables', () => {
    const lanes = wordsOf(renderComparison(lanesOnly(), { units: 'imperial' }));
    expect(lanes).toContain('along the lane, ft');
    expect(lanes).toContain('keep off 6 ft 11 in to 9 ft 6 in');
    expect(lanes).toContain('0.98 ft/s');
    expect(lanes).toContain('35 mm lens for all crops');
    expect(wordsOf(renderComparison(unequalSpeeds(), { units: 'both' }))).toContain('0.3 m/s (0.98 ft/s)');
  });

  it('shades what cannot be told only where the answer follows from it', () => {
    const fields = (page: string): number => page.match(/class="untold"/g)?.length ?? 0;
    const amongMany = madeUpComparison((draft) => {
      // Alone its range leaves out 1; among several questions it is not clear.
      Object.assign(draft.pairs[0].axes[2], { ratio: 0.8, ci95: [0.7, 0.91] });
    });

    // Three axes, drawn for a desk and for a phone.
    expect(fields(renderComparison(madeUpComparison()))).toBe(6);
    expect(fields(renderComparison(amongMany))).toBe(4);
  });

  it('says on the first screen that it was fair, and what every setup costs', () => {
    const answer = wordsOf(sectionOf(renderComparison(threeSetups()), 'answer'));

    expect(answer).toContain('The comparison is fair as far as it was noted.');
    expect(answer).toContain('Crop of a take of 60 s, median: soft wheels 3.7 %, hard wheels');
    expect(sectionOf(renderComparison(unequalSpeeds()), 'answer')).not.toContain('is fair as far');
  });

  it('leads with the medians of the axis that shakes most, also where one setup lies below the noise', () => {
    const comparison = onePassEach();
    comparison.groups[1].runs[0].rmsDeg = { pan: null, tilt: null, roll: null };
    comparison.groups[0].runs[0].rmsDeg = { pan: null, tilt: 0.029, roll: 0.068 };

    expect(wordsOf(sectionOf(renderComparison(comparison), 'passes'))).toContain(
      'Roll, median of the passes: soft wheels 0.068° and hard wheels below noise.',
    );
  });

  it('names in its links every section that it has', () => {
    const page = renderComparison(threeSetups());
    const links = [...page.matchAll(/<li><a href="#([\w-]+)"/g)].map(([, id]) => id);

    expect(links).toEqual(['passes', 'pair-1', 'pair-2', 'pair-3', 'spreads', 'runs', 'method', 'cautions']);
  });

  it('takes names and sentences as text', () => {
    const page = renderComparison(hostileComparison());

    expect(page).toContain('&lt;script&gt;alert(1)&lt;/script&gt;');
    expect(page).toContain('/home/&lt;img src=x onerror=alert(2)&gt;/run');
    expect(page).not.toMatch(/[\u0000-\u0008\u000b\u000c\u000e-\u001f]/);
  });
});

describe('passes in the table', () => {
  const labels = (numbers: readonly (number | null)[]): string[] => {
    const comparison = madeUpComparison((draft) => {
      draft.groups.flatMap(({ runs }) => runs).forEach((run, i) => (run.passNumber = numbers[i]));
    });
    const rows = sectionOf(renderComparison(comparison), 'passes').matchAll(
      /(\d+): (?=<|\S*\.mp4|\S*wheels)/g,
    );
    return [...rows].map(([, number]) => number);
  };

  it('are called by their numbers where these tell all of them apart', () => {
    expect(labels([4, 2, 7, 1, 9, 3])).toEqual(['4', '2', '7', '1', '9', '3']);
  });

  it('are counted where numbers come twice, or one has none', () => {
    expect(labels([1, 2, 3, 1, 2, 3])).toEqual(['1', '2', '3', '4', '5', '6']);
    expect(labels([4, 2, 7, 1, 9, null])).toEqual(['1', '2', '3', '4', '5', '6']);
  });
});

describe('the crop of a pair', () => {
  it('has one bound in the sentence and in the table', () => {
    const comparison = madeUpComparison((draft) => {
      draft.pairs[0].crop.a.upper95Percent = 4.72;
    });
    expect(sectionOf(renderComparison(comparison), 'pair-1')).toMatch(/4\.8[\s\u00a0]%/);
  });
});

describe('one direction of ratios', () => {
  it('is that of the headline: the smoother side over the other', () => {
    const page = renderComparison(
      madeUpComparison((draft) => {
        draft.pairs[0].axes[0] = axisRatio('tilt', {
          ...{ ratio: 4.85, ci95: [2.67, 8.82], aRms: 0.097, bRms: 0.02, aSmoother: 0.001 },
          says: 'bSmoother',
          needed: null,
        });
      }),
    );
    expect(page).toMatch(/hard wheels over soft wheels \(95\s% range\)/);
    expect(page).toContain('0.11 to 0.37');
    expect(page).not.toContain('2.67 to 8.82');
    expect(renderComparison(madeUpComparison())).toMatch(/soft wheels over hard wheels \(95\s% range\)/);
  });
});

describe('a run that was left out of the test', () => {
  const page = renderComparison(
    madeUpComparison((draft) => {
      draft.groups[1].runs[2].lane = 'lane 2';
      draft.groups[1].runs[2].leftOut = true;
    }),
  );

  it('is marked where the passes stand side by side, and named so in their table', () => {
    expect(page).toContain('pass-dot left-out');
    expect(page).toMatch(/hard wheels<span class="sub">left out of the test<\/span>/);
    expect(page).toContain('not in the median');
    expect(renderComparison(madeUpComparison())).not.toMatch(/class="pass-dot left-out|left out of the test/);
  });

  it('is in no median', () => {
    // 0.0412 deg times the middle of the factors 1.24 and 1.19 that are left.
    expect(page).toMatch(/hard wheels 0\.05°/);
  });
});
