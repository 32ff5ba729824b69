import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { renderHtml } from '../../src/report/index.js';
import { glued, html, trusted, verbatim } from '../../src/report/html/markup.js';
import { inlineScript } from '../../src/report/html/page-script-file.js';
import { cssString } from '../../src/report/html/print-style.js';
import { timecodeAt } from '../../src/report/charts/index.js';
import { madeUpBundle } from './support/made-up-bundle.js';
import { madeUpRun, type Change } from './support/made-up-run.js';
import { setCrop } from './support/made-up-stabilise.js';

const OUTCOME = {
  cropPercent: { value: 1.9, low: 1.6, high: 2.4 },
  coverable: true,
  residualPx: { value: 0.7, low: 0.5, high: 0.8 },
  grade: 'pass',
} as const;
const PICTURE = 'data:image/jpeg;base64,AAAA';
const page = (change?: Change): string => renderHtml(madeUpBundle(change), PICTURE);

/** The page without its scripts and data. */
function outsideScripts(text: string): string {
  return text.replace(/<script\b[\s\S]*?<\/script>/g, '');
}

/** What stands on the page, tags, styles, scripts and data left out, white space joined. */
function words(text: string): string {
  return text
    .replace(/<(style|script)\b[\s\S]*?<\/\1>/g, '')
    .replace(/<[^>]+>/g, ' ')
    .replace(/\s+/g, ' ');
}

describe('the report page', () => {
  const text = page();

  it('holds verdict, measured value and limit in its first heading', () => {
    const heading = words(/<h1[\s\S]*?<\/h1>/.exec(text)?.[0] ?? '');
    expect(heading).toContain('Pass');
    expect(heading).toContain('3.1');
    expect(heading).toContain('limit 5');
  });

  it('asks for nothing from outside and runs no script but its own, by its hash', () => {
    expect(text).not.toMatch(/<iframe|<object|@import|javascript:|<script[^>]* src/i);
    const addresses = [...outsideScripts(text).matchAll(/(?:href|src|url)\s*[=(]\s*["']?([^"')\s>]+)/g)].map(
      ([, address]) => address,
    );
    for (const address of addresses) expect(address).toMatch(/^(?:data:|#)/);
    expect(text).toContain("default-src 'none'");
    const [code, ...more] = [...text.matchAll(/<script>([\s\S]*?)<\/script>/g)].map(([, script]) => script);
    expect(more).toEqual([]);
    const hash = createHash('sha256').update(code).digest('base64');
    expect(text).toContain(`script-src 'sha256-${hash}'`);
  });

  it('is the same twice', () => {
    expect(page()).toBe(text);
  });

  it.each([
    '<img src=x onerror=alert(1)>.mp4',
    '"><script>alert(1)</script>.mov',
    `'};body{display:none}</style><b>.mp4`,
  ])('shows the clip name %s as text only', (file) => {
    const ungraded = (): string => page((run) => (run.surface.observable = false));
    const hostile = page((run) => {
      run.clip.file = file;
      run.clip.codec = file;
      run.warnings.push({ code: 'x', text: file, atS: 1 });
      run.rig.assumed.push({ name: file, value: file, matters: file });
      run.surface.observable = false;
      run.surface.reason = file;
      run.spectrum.method = file;
    });
    expect(hostile).not.toMatch(/<img|<b>\.mp4/);
    // As many scripts as on a page with a harmless name, the same code, and data that do not end their element.
    const scripts = (of: string): string[] => of.match(/<script\b[^>]*>/gi) ?? [];
    expect(scripts(hostile)).toEqual(scripts(ungraded()));
    expect(outsideScripts(hostile)).not.toMatch(/<script|alert\(1\)<\/script>/);
    expect(hostile.match(/<style>/g)).toHaveLength(1);
    expect(hostile.match(/<\/style>/g)).toHaveLength(1);
    const style = /<style>([\s\S]*?)<\/style>/.exec(hostile)?.[1] ?? '';
    expect(style).not.toContain('body{display:none}');
  });

  it('lists what is missing as "not given" and leaves no label blank', () => {
    expect(words(text)).toMatch(/Not given focal length, calibrated, (?:[a-z’, ]+, )?track width, /);
    expect(text).not.toMatch(/<dd>\s*<\/dd>/);
    expect(words(text)).not.toMatch(/undefined|null|NaN/);
  });

  it('carries tool version, checksum, time of analysis, in and out', () => {
    for (const fact of [
      'Trundle 0.1.0 (1a2b3c4)',
      '9f86d081884c7d65',
      '2031-03-14T09:26:53.000Z',
      '2031-03-14 09:26:53 UTC',
      '10:14:02:00',
      '10:14:14:00',
    ])
      expect(text).toContain(fact);
  });

  it('says of every further step whether it is an alternative or comes in addition', () => {
    const bundle = madeUpBundle();
    const step = { code: 'x', text: 'Shim.', effect: 'It helps.', predicted: null };
    bundle.run.verdict = {
      ...bundle.run.verdict,
      grade: 'fail',
      advice: [step, { ...step, predicted: OUTCOME }, step],
    };
    const legend =
      'Each step is reckoned alone. First what passes, then what may, the one that helps most first';
    const told = words(renderHtml(bundle, null));
    expect(told).toContain('Do first Shim. It helps.');
    expect(told).toMatch(/ Or: Shim\. [^.]*\.[^.]*\.[^.]* It helps\. Also: Shim\. It helps\. /);
    expect(told).toContain(legend);
    expect(words(text)).not.toContain(legend);
  });

  it('links to every section that it has, in their order, after the first screen', () => {
    const ids = [...text.matchAll(/<h2 id="([\w-]+)"/g)].map(([, id]) => id);
    const links = [...text.matchAll(/<li><a href="#([\w-]+)">/g)].map(([, id]) => id);
    expect(ids.length).toBeGreaterThan(8);
    expect(links).toEqual(ids);
    expect(ids[0]).toBe('reasons');
    const order = [
      'shake',
      'frequency',
      'floor',
      'cost',
      'left-over',
      'assumed',
      'setup',
      'method',
      'cautions',
    ];
    expect(ids.filter((id) => order.includes(id))).toEqual(order);
    expect(text).toContain('<a class="skip" href="#reasons">');
    expect(text.match(/<main>/g)).toHaveLength(1);
  });

  it('tells what was taken for an input by its plain name, its entry in a rig file beside it, what decides first', () => {
    const taken = (name: string, value: string) => ({ name, value, matters: 'It matters.' });
    const shown = words(
      page((run) => {
        run.units = 'imperial';
        run.rig.assumed = [
          taken('shutterAngleDeg', '180 deg'),
          taken('something new', '1'),
          taken('focalLengthMm', '35 mm'),
          taken('most crop', '5 %'),
        ];
      }),
    );
    expect(shown).toContain('4 inputs were not given');
    expect(shown).toMatch(
      /Most crop max Crop Percent 5.% It matters\. Focal length focal Length Mm 35.mm It matters\. Shutter angle shutter Angle Deg 180 deg It matters\. something new 1 It matters\./,
    );
  });

  it('gives a warning its timecode', () => {
    const shown = words(page((run) => run.warnings.push({ code: 'x', text: 'Cut.', atS: 2 })));
    expect(shown).toMatch(/10:14:04:00, 2.s Cut\./);
  });

  it('says plainly that the out point is not measured, what timecode is counted from, and the settings', () => {
    expect(words(text)).toMatch(
      /Out 10:14:14:00, frame 300, 12.s; not measured itself \(exclusive\), the last frame measured is 10:14:13:24/,
    );
    expect(words(text)).toContain('source timecode, starts at 10:14:02:00');
    expect(words(page((run) => (run.clip.timecodeStart = null)))).toContain('from clip start');
    expect(words(text)).toMatch(/Settings Shake counts from 0\.8 to 12\.5.Hz; pictures followed at/);
  });

  it('names the published sources, and which figures of them are from memory', () => {
    for (const source of [
      'ISO 8608',
      'ASTM E1155',
      'SMPTE ST 12-1',
      'Welch 1967',
      'Liu, Yuan, Tan and Sun 2013',
    ])
      expect(words(text)).toContain(source);
    expect(text).toMatch(/<b>SMPTE ST 12-1<\/b>:\s[^<]*<abbr title="from memory">/);
  });

  it('says what was assumed and how much it matters', () => {
    expect(words(text)).toContain('rolling shutter 0 ms If the sensor reads slowly');
  });

  it('shows of every reason value, 95 % range, limit and room left', () => {
    const shown = words(
      page((run) => {
        run.delivery.name = 'web HD';
        setCrop(run.stabilise, 4.4);
      }),
    );
    expect(shown).toContain(
      'for web HD, 1920x1080: crop 4.4 % of the width (limit 5 %, but a repeat may need up to 6 %)',
    );
    expect(shown).toMatch(
      /\(19 of 20 stay below\)\. 4\.4 % \(4\.\d+ to 6 %\), limit 5 %, room 0\.6 % 4\.4 % 4\.\d+ to 6 % 5 % 0\.6 %/,
    );
    expect(shown).toMatch(
      /, room 0\.43 px RMS 0\.4 px RMS 0\.\d+ to 0\.\d+ px RMS 0\.83 px RMS 0\.43 px RMS/,
    );
    expect(shown).toContain('web HD: 1920 x 1080 px, watched from 3.1 heights of the screen');
    const over = words(page((run) => setCrop(run.stabilise, 8)));
    expect(over).toMatch(/8 % 7\.\d+ to 10\.8 % 5 % −3 %/);
  });

  it('keeps the words of statistics off the front', () => {
    const front = words(/<section class="first"[\s\S]*?<\/section>/.exec(text)?.[0] ?? '');
    expect(front.length).toBeGreaterThan(200);
    for (const word of ['PSD', 'RMSE', 'homography', 'eigenvalue', '!']) expect(front).not.toContain(word);
  });

  it('names every table and chart', () => {
    const tables = text.match(/<table>/g) ?? [];
    expect(text.match(/<caption>/g)).toHaveLength(tables.length);
    // Drawings within a drawing stand at a place of it, and share its name.
    for (const [svg] of text.matchAll(/<svg (?!x=)[^>]*>/g))
      expect(svg).toMatch(/aria-label="[^"]+"|aria-hidden="true"/);
    expect((text.match(/<svg /g) ?? []).length).toBeGreaterThan(14);
  });

  it('shows no figures of a clip that cannot be measured', () => {
    const shown = words(page((run) => (run.tracking.coverage = 0.01)));
    expect(shown).toContain('This clip cannot tell');
    expect(shown).not.toContain('Shake by axis');
    expect(shown).not.toContain('What stabilising costs');
  });

  it('draws no curve for an axis that was not observable', () => {
    const blind = page((run) => {
      for (const axis of ['lateral', 'vertical', 'axial'] as const)
        Object.assign(run.motion.translational[axis], {
          status: 'notObservable',
          rms: null,
          ci95: null,
          below: null,
        });
      run.motion.translational.observable = 'no';
      run.motion.translational.reason = 'The scene is flat.';
      run.motion.separation.unsplit = {
        cause: 'flatScene',
        ifAllAngular: { panDeg: 0.0211, tiltDeg: 0.034 },
        ifAllTranslation: { lateral: 1.42, vertical: 2.3 },
        change: [{ code: 'near-object', text: 'Put a stand within 1.8 m of the lens.' }],
      };
    });
    expect(words(blind)).toContain(
      'Translation could not be told from rotation in this clip. The scene is flat.',
    );
    expect(words(blind)).toContain(
      'if all of it were angular, pan is below 0.022° and tilt below 0.034°; ' +
        'if all of it were translation, lateral is below 1.5 mm and vertical below 2.3 mm',
    );
    expect(words(blind)).toContain('Put a stand within 1.8 m of the lens.');
    expect(words(blind)).toContain('Pan-equivalent');
    for (const name of ['Lateral', 'Vertical', 'Axial'])
      expect(words(blind)).toContain(`${name} not observable`);
    const timeline = /<script[^>]*>(\{"kind":"timeline"[\s\S]*?)<\/script>/.exec(blind)?.[1] ?? '';
    const { data } = JSON.parse(timeline) as { data: { axes: { id: string; curve: unknown }[] } };
    const drawn = data.axes.filter(({ curve }) => curve !== null).map(({ id }) => id);
    expect(drawn).toEqual(['pan', 'tilt', 'roll']);
  });

  it('says which axes are not reliable, and where the readout came from', () => {
    const shown = words(
      page((run) => {
        run.motion.unreliable = [{ axis: 'vertical', reason: 'Knocks were faster than the frames.' }];
        delete run.rig.readoutMs;
        run.motion.readout = {
          source: 'found',
          readoutMs: 14.6,
          ci95Ms: [13.1, 16],
          state: 'corrected',
          costFall: 0.2,
        };
      }),
    );
    expect(shown).toContain('Vertical (not reliable)');
    expect(shown).toContain('Vertical. Knocks were faster than the frames.');
    expect(shown).toContain('not given; found in the clip: 14.6 ms (13.1 to 16 ms), corrected');
  });

  it('stands without a picture, without peaks and without a surface', () => {
    const bare = renderHtml({
      ...madeUpBundle((run) => {
        run.spectrum.peaks = [];
        run.spectrum.series = {};
        run.stabilise.curve = [];
        run.stabilise.longerTake = [];
        run.surface = {
          ...run.surface,
          observable: false,
          reason: 'the wheelbase was not given',
          profile: null,
          bumps: [],
        };
      }),
      picture: null,
      pictureAtS: null,
    });
    expect(words(bare)).toContain('No frame could be read');
    expect(words(bare)).toContain('Not graded: the wheelbase was not given');
    expect(outsideScripts(bare)).not.toMatch(/NaN|undefined/);
  });

  it('cautions people', () => {
    expect(words(text)).toContain('it is no statement on structural safety');
  });
});

describe('markup', () => {
  it('escapes what is put into it, but not what is markup already', () => {
    expect(html`<p>${'<b>'}${trusted('<i>')}${['&', html`<u></u>`]}${null}${false}${3}</p>`.text).toBe(
      '<p>&lt;b&gt;<i>&amp;<u></u>3</p>',
    );
  });

  it('keeps a number with its unit, but leaves a file name to the letter', () => {
    expect(glued('crop 3.1 % of 5 metres')).toBe('crop 3.1\u00a0% of 5 metres');
    expect(verbatim('take 3 m.mp4').text).toBe('<span translate="no">take 3 m.mp4</span>');
  });

  it('writes CSS strings that cannot end early', () => {
    expect(cssString(`a"\\</style>\n`)).not.toMatch(/["\\<>\n](?!$|[0-9a-f])|<|>|\n/);
    expect(cssString('clip 3.mp4')).toBe('"clip 3.mp4"');
  });
});

describe('timecode of a point', () => {
  it('counts from the clip start label, drop-frame where the label is', () => {
    const { clip } = madeUpRun();
    expect(timecodeAt(clip, 2)).toBe('10:14:04:00');
    expect(timecodeAt({ ...clip, timecodeStart: null }, 2)).toBe('00:00:02:00');
    // Frame 1800 at 29.97 is 00:01:00;02 (SMPTE ST 12-1 counting, from memory).
    const drop = { ...clip, fpsFraction: '30000/1001', timecodeStart: '00:00:00;00' };
    expect(timecodeAt(drop, 60.06)).toBe('00:01:00;02');
  });
});

describe('a script that stands in a page', () => {
  it('is known by the hash of its text: SHA-256 of "a()", by OpenSSL', () => {
    const hash = 'qVpDBgj7bpq5hMAcGp3AOc79J3Y1Z4HvySTwKrWDoy4=';
    expect(inlineScript('a()\r\n')).toEqual({ text: 'a()', source: `'sha256-${hash}'` });
  });

  it.each(['"</script>"', '"<!--"'])('is refused where %s would end it or hide its end', (text) => {
    expect(() => inlineScript(text)).toThrow(RangeError);
  });
});
