/** Shake by frequency: scales, ranges, peaks with their causes, bands, reading. */
import { describe, expect, it } from 'vitest';
import { figure } from '../../src/run/index.js';
import { decades, power, spectrumChart, thirdOctaveChart } from '../../src/report/charts/index.js';
import { bandTable } from '../../src/report/html/band-table.js';
import { leadAxis, leadWords } from '../../src/report/html/spectrum-lead.js';
import { renderHtml } from '../../src/report/index.js';
import { expectWithin } from '../support/expect-within.js';
import { madeUpBundle } from './support/made-up-bundle.js';
import { BANDS, SPECTRUM } from './support/made-up-charts.js';

const WIDE = { widthPx: 1080 };
/** Numbers in a drawing have two decimals. */
const TWO_DECIMALS = { abs: 0.02, why: 'numbers have two decimals' };

describe('the spectrum scale', () => {
  it('covers whole decades with room above for a mark', () => {
    const exponents = (values: number[]): number[] =>
      decades(values).map((value) => Math.round(Math.log10(value)));
    expect(exponents([2e-5, 3e-3])).toEqual([-5, -2]);
    expect(exponents([2e-5, 8e-3])).toEqual([-5, -1]);
    expect(exponents([0, -1])).toEqual([-6, 0]);
    expect(power(-12)).toBe('10⁻¹²');
  });
});

describe('the spectrum of an axis', () => {
  it('draws the 95 % range of each reading as a band around it', () => {
    const { svg } = spectrumChart.draw({ ...SPECTRUM, domain: [1e-8, 1e-2] }, WIDE);
    const d = /class="range-band angular" d="M[\d.]+,([\d.]+)/.exec(svg);
    const curve = /class="series angular" d="M[\d.]+,([\d.]+)/.exec(svg);
    // Six decades over 240 px; the upper edge comes first and lies log10(2.5) over the curve.
    expectWithin(Number(curve?.[1]) - Number(d?.[1]), 40 * Math.log10(2.5), {
      abs: 0.06,
      why: 'the band has one decimal',
    });
  });

  it('names the cause at its peak where there is room, the number alone for one without a name', () => {
    const unknown = { freqHz: 4, mark: '2', short: '', name: 'Unknown' };
    const { svg } = spectrumChart.draw({ ...SPECTRUM, peaks: [...SPECTRUM.peaks, unknown] }, WIDE);
    expect(svg).toContain('>1 wheel<');
    expect(svg).toContain('>2<');
  });

  it.each([360, 1080])('never overprints marks in a drawing of %i px', (widthPx) => {
    const freqHz = Array.from({ length: 100 }, (_, i) => 0.25 * (i + 1));
    const crowded = [9, 9.1, 9.2, 9.3, 9.4, 9.6, 11, 11.2];
    const { svg } = spectrumChart.draw(
      {
        ...SPECTRUM,
        freqHz,
        psd: freqHz.map(() => 1e-5),
        background: null,
        noiseFloor: null,
        peaks: crowded.map((f, i) => ({ freqHz: f, mark: String(i + 1), short: 'joints', name: 'Joints' })),
      },
      { widthPx },
    );
    const labels = [
      ...svg.matchAll(/class="peak-label" x="([\d.-]+)" y="([\d.-]+)" text-anchor="(\w+)">([^<]*)</g),
    ].map(([, x, y, anchor, text]) => {
      // Letters of small print are 6 px wide on the average.
      const width = 6 * text.length;
      const left = Number(x) - (anchor === 'start' ? 0 : anchor === 'end' ? width : width / 2);
      return { left, right: left + width, y: Number(y) };
    });
    expect(labels).toHaveLength(crowded.length);
    labels.forEach((one, i) => {
      for (const other of labels.slice(i + 1))
        expect(one.right <= other.left || other.right <= one.left || Math.abs(one.y - other.y) >= 10).toBe(
          true,
        );
    });
  });

  it('tells frequency, wave on the floor, reading with its range, and the cause at a peak', () => {
    const { read, stops } = spectrumChart.draw(SPECTRUM, WIDE);
    const reading = read(1.1);
    expect(reading?.at).toBe(1);
    expect(reading?.place).toBe('1.00 Hz, a wave of 250 mm on the floor');
    expect(reading?.values.map(({ text }) => text)).toEqual([
      '2.0 × 10⁻⁴ °²/Hz (1.0 × 10⁻⁴ to 5.0 × 10⁻⁴)',
      'noise 5.0 × 10⁻⁷ °²/Hz',
      'no. 1: Wheel, once a turn',
    ]);
    expect(stops).toEqual([0.5, 1, 2, 4, 8]);
    const inches = spectrumChart.draw({ ...SPECTRUM, units: 'imperial' }, WIDE).read(1);
    expect(inches?.place).toBe('1.00 Hz, a wave of 9.84 in on the floor');
    const still = spectrumChart.draw({ ...SPECTRUM, speedMps: null }, WIDE).read(1);
    expect(still?.place).toBe('1.00 Hz');
  });

  it('shows a part on the scale of the whole, with frequencies to read it by', () => {
    const part = spectrumChart.draw(SPECTRUM, { ...WIDE, from: 1.1, to: 1.9 });
    expect(part.domain).toEqual([1.1, 1.9]);
    expect(part.svg.match(/class="tick"/g)?.length).toBeGreaterThan(2);
    expect(part.svg).not.toContain('>1 wheel<');
  });
});

describe('thirds of an octave', () => {
  it('stand between their edges on the axis of frequency of the spectrum', () => {
    const { svg, area } = thirdOctaveChart.draw(BANDS, WIDE);
    const [bar] = [...svg.matchAll(/class="bar angular" x="([\d.]+)" y="[\d.]+" width="([\d.]+)"/g)];
    const at = (f: number): number =>
      area.left + ((area.right - area.left) * Math.log(f / 0.5)) / Math.log(8 / 0.5);
    // A pixel is left free at each side.
    expectWithin(Number(bar[1]), at(0.891) + 1, TWO_DECIMALS);
    expectWithin(Number(bar[1]) + Number(bar[2]), at(1.778) - 1, TWO_DECIMALS);
    expect(svg.match(/class="bound"/g)).toHaveLength(1);
  });

  it('are read band by band, a hidden one as a bound', () => {
    const { read } = thirdOctaveChart.draw(BANDS, WIDE);
    expect(read(1.2)).toMatchObject({
      place: '0.89 to 1.8 Hz',
      values: [{ text: '0.02° RMS (0.01 to 0.06°)' }],
    });
    expect(read(7)?.values[0].text).toBe('below 0.004°');
    expect(thirdOctaveChart.draw({ ...BANDS, bands: [] }, WIDE).read(1)).toBeNull();
  });
});

describe('the axis that is shown first', () => {
  it('is the one that shows the strongest named source most', () => {
    const bundle = madeUpBundle();
    expect(leadAxis(bundle, ['pan', 'tilt', 'roll', 'vertical'])).toBe('tilt');
    expect(leadAxis(bundle, ['pan', 'vertical'])).toBe('pan');
    expect(leadWords(bundle, 'tilt')).toBe(
      'Tilt shows no. 1 most: Wheel, once a turn: out of round or a flat, 1.62 Hz, 14 dB over the level around it.',
    );
  });

  it('is the axis that shakes the picture most where no peak stands out, told by its strongest band', () => {
    const bundle = madeUpBundle((run) => Object.assign(run.spectrum, { sources: [], peaks: [] }));
    expect(leadAxis(bundle, ['pan', 'tilt'])).toBe('tilt');
    const bands = bundle.run.spectrum.thirdOctaves.tilt ?? [];
    const strongest = bands.reduce((most, band) => ((band.rms ?? 0) > (most.rms ?? 0) ? band : most));
    const edges = `${figure(strongest.fromHz)} to ${figure(strongest.toHz)} Hz`;
    expect(leadWords(bundle, 'tilt')).toMatch(
      new RegExp(`the strongest band of tilt is ${edges} with 0\\.\\d+° RMS\\.$`),
    );
    // The chart and the table name the band by the same edges.
    const { fromHz, toHz } = strongest;
    const chart = thirdOctaveChart.draw(
      { ...BANDS, bands: [{ ...BANDS.bands[0], fromHz, toHz }] },
      { widthPx: 1080 },
    );
    expect(chart.read(Math.sqrt(fromHz * toHz))?.place).toBe(edges);
    expect(bandTable(bundle.run, ['tilt']).text.replace(/\s+/g, ' ')).toContain(`${edges}<span`);
    expect(leadAxis(bundle, [])).toBeNull();
  });

  it('stands large before the others; an axis under its noise is named, not drawn', () => {
    const page = renderHtml(madeUpBundle(), null);
    expect(page.indexOf('Tilt by frequency')).toBeLessThan(page.indexOf('The other axes'));
    expect(page).toContain('Lateral: under the noise over all frequencies');
  });
});
