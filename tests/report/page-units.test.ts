/** Quantities of a page in the units that were asked for. 1 ft is 0.3048 m and 1 in is 25.4 mm exactly (agreement of 1959). */
import { describe, expect, it } from 'vitest';
import { lensMm } from '../../src/report/format.js';
import { html, verbatim } from '../../src/report/html/markup.js';
import { pageInUnits } from '../../src/report/html/page-units.js';
import { renderHtml } from '../../src/report/index.js';
import { madeUpBundle } from './support/made-up-bundle.js';
import type { Change } from './support/made-up-run.js';

const page = (change?: Change): string => renderHtml(madeUpBundle(change), null);

/** Metric quantities that are left in the words of a page, focal lengths and sensor widths aside. */
function metricLeft(text: string): string[] {
  const words = text
    .replace(/<(title|style|script|span translate="no")[\s\S]*?<\/(?:title|style|script|span)>/g, '')
    .replace(/<[^>]+>/g, '|');
  const found = words.match(/[^|]{0,30}(?<![\w.-])\d+(?:\.\d+)?[ \u00a0](?:mm|m|m\/s)(?![\w³²/])[^|]{0,20}/g);
  return (found ?? []).filter((quantity) => !/lens|sensor/i.test(quantity));
}

describe('quantities of a page', () => {
  const piece =
    '<p title="joint at 0.71 m">2.9 mm <b>0.5 m/s</b></p><svg aria-label="0.2 to 0.4 mm"><text>3 m</text></svg>';

  it('stay as they are to the byte in metric', () => {
    expect(pageInUnits(piece, 'metric')).toBe(piece);
    expect(page((run) => (run.units = 'metric'))).toBe(page());
  });

  it('are rewritten in texts, titles and labels', () => {
    expect(pageInUnits(piece, 'imperial')).toBe(
      '<p title="joint at 2 ft 4 in">0.11 in <b>1.6 ft/s</b></p><svg aria-label="0.008 to 0.02 in"><text>9 ft 10 in</text></svg>',
    );
  });

  it('stand beside the metric ones where both are wanted', () => {
    expect(pageInUnits('<p>2.9 mm</p>', 'both')).toBe('<p>2.9 mm (0.11 in)</p>');
  });

  it.each([
    ['a script', '<script type="application/json">{"a":"2 mm"}</script>'],
    ['a style', '<style>p{content:"2 mm"}</style>'],
    ['a comment', '<!-- 2 mm -->'],
    ['other attributes', '<a href="#2 mm" data-of="2 mm">x</a>'],
    ['what must not be translated', '<b translate="no" title="2 mm">2 mm <b>3 m</b><br> 4 m</b>'],
    ['a focal length in a bare cell', `<td>${lensMm(28)}</td>`],
    ['a file name', html`<p>${verbatim('take 3 m 2 mm.mp4')}</p>`.text],
  ])('stay as they are in %s', (_, kept) => {
    expect(pageInUnits(`${kept}<p>2 mm</p>`, 'imperial')).toBe(`${kept}<p>0.08 in</p>`);
  });

  it('stay as a standard names them, while what was measured is rewritten', () => {
    const text = page((run) => (run.units = 'imperial'));
    expect(text).toMatch(/BS\s8204 under 2\u202fm\b/);
    expect(text).toMatch(/waves of 0\.35\sto 91\u202fm/);
    expect(text).toMatch(/Gap under 0\.1\u202fm/);
    expect(text).toMatch(/0\.016\sin ± 0\.\d+\sin at 5\sft/);
    expect(text).toContain('translations in inches');
  });

  it('are imperial all over the report when the run says so, but not in the name of the clip', () => {
    const text = page((run) => {
      run.units = 'imperial';
      run.clip.file = 'lane 3 m.mp4';
    });
    expect(text).toContain('<span translate="no">lane 3 m.mp4</span>');
    expect(text).toMatch(/\d in\b/);
    expect(metricLeft(text)).toEqual([]);
  });
});
