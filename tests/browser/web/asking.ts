/** Questions beside the verdict: sliders that are answered in the page. */
import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { passOfRun, whatIf, type WhatIfWish } from '../../../src/judge/index.js';
import { cropWords, inLine, leftWords } from '../../../src/report/in-browser.js';
import { askTexts, askedAnswerTexts, playerTexts, verdictTexts } from '../../../src/texts/index.js';
import type { About, StoredRun } from '../../../src/web/api.js';
import { patiently } from '../support/patiently.js';
import { openWatched, type Shared, type WatchedPage } from '../support/watched-page.js';

/** Places of the thumb of the lens, of 400 steps, each far enough from the last for another crop. */
const PLACES = [120, 280, 160, 320, 200, 360, 140, 300, 180] as const;
/** From the thumb to the drawn answer on a busy machine, ms; on an idle one it is some tens. */
const ANSWERED_MS = 500;

/**
 * Moves the slider of a name from place to place and waits each time until the answer stands there, drawn; ms of each. Where nothing
 * changes within 10 s it is 10 s.
 */
const moveAndTime = (name: string, places: readonly number[]): string => `(async () => {
  const slider = [...document.querySelectorAll('input[type=range]')].find((e) => e.labels[0]?.textContent === ${JSON.stringify(name)});
  const answer = document.querySelector('dl[aria-label=${JSON.stringify(askedAnswerTexts.label)}]');
  const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
  const taken = [];
  for (const place of ${JSON.stringify(places)}) {
    const before = answer.textContent;
    const start = performance.now();
    slider.value = String(place);
    slider.dispatchEvent(new Event('input', { bubbles: true }));
    while (answer.textContent === before && performance.now() - start < 10000) await frame();
    await frame();
    taken.push(performance.now() - start);
  }
  return taken;
})()`;

export function asking(shared: Shared): void {
  describe('a question beside the verdict', () => {
    let watched: WatchedPage;
    let page: Page;
    let stored: StoredRun;
    let answer: Locator;
    const said = (name: string): Promise<string | null> =>
      answer.locator('div').filter({ hasText: name }).getByRole('definition').textContent();
    const exact = (field: string, unit: string): Locator =>
      page.getByLabel(askTexts.exact(field, unit), { exact: true });

    /** Takes back whatever is asked. */
    async function goBack(): Promise<void> {
      const back = page.getByRole('button', { name: askTexts.back });
      if ((await back.getAttribute('aria-disabled')) !== 'true') await back.click();
    }

    beforeAll(async () => {
      stored = await shared.served.measured();
      watched = await openWatched(shared, { path: `/runs/${stored.row.id}` });
      page = watched.page;
      answer = page.getByLabel(askedAnswerTexts.label, { exact: true });
      await answer.waitFor();
      await page.getByRole('img', { name: playerTexts.shotPicture }).waitFor();
      await page.getByRole('img', { name: askedAnswerTexts.curveLabel('', '').split(';')[0] }).waitFor();
    });
    afterAll(() => watched.close());

    it('is answered while the thumb moves', async () => {
      const taken = await page.evaluate<number[]>(moveAndTime(askTexts.fields.lens, PLACES));
      const sorted = taken.toSorted((a, b) => a - b);
      const medianMs = sorted[Math.floor(sorted.length / 2)];
      process.stderr.write(
        `A question beside the verdict is answered and drawn within ${medianMs.toFixed(0)} ms.\n`,
      );
      expect(medianMs).toBeLessThan(ANSWERED_MS);
    });

    it('changes verdict, window and trade-off, and all of it goes back', async () => {
      const shot = page.getByRole('img', { name: playerTexts.shotPicture });
      const curve = page.getByRole('img', { name: askedAnswerTexts.curveLabel('', '').split(';')[0] });
      const now = async (): Promise<string[]> => [
        (await answer.textContent()) ?? '',
        (await shot.screenshot()).toString('base64'),
        await curve.innerHTML(),
      ];
      await goBack();
      await patiently(() => said(askedAnswerTexts.crop)).toContain(inLine(cropOf(stored)));
      let before = await now();
      // Until the window and the trade-off of the answer are drawn as well.
      await patiently(async () => [before, (before = await now())].map((parts) => parts.join())).toSatisfy(
        ([last, latest]: string[]) => last === latest,
      );
      const asMeasured = before;
      const lens = page.getByLabel(askTexts.fields.lens, { exact: true });
      await lens.press('PageUp');
      await lens.press('PageUp');
      await patiently(async () => (await now()).map((part, i) => part !== asMeasured[i])).toEqual([
        true,
        true,
        true,
      ]);
      await goBack();
      await patiently(now).toEqual(asMeasured);
    });

    it.each<[string, (about: About) => WhatIfWish, () => Promise<void>]>([
      [
        'a longer lens',
        () => ({ focalLengthMm: 50 }),
        async () => {
          await exact(askTexts.fields.lens, askTexts.units.mm).fill('50');
          await page.keyboard.press('Enter');
        },
      ],
      [
        'a smoothing and a limit of its own',
        () => ({ smoothingS: 0.5, delivery: { maxCropPercent: 2.5 } }),
        async () => {
          await exact(askTexts.fields.smoothing, askTexts.units.s).fill('0.5');
          await page.keyboard.press('Enter');
          await page.getByLabel(askTexts.fields.maxCrop, { exact: true }).fill('2.5');
          await page.keyboard.press('Enter');
        },
      ],
      [
        'another delivery, held still',
        (about) => ({ delivery: { name: Object.keys(about.deliveries)[1] }, mode: 'holdStill' }),
        async () => {
          const name = Object.keys((await shared.served.get<About>('/api/about')).deliveries)[1];
          await page.getByLabel(askTexts.fields.delivery, { exact: true }).selectOption(name);
          await page.getByRole('radio', { name: askTexts.ways.holdStill }).check();
        },
      ],
    ])('is answered with the figures that the program gives: %s', async (_, wish, set) => {
      await goBack();
      await set();
      const { run, series } = stored;
      if (series === null) throw new Error('the run was kept without its motion');
      const about = await shared.served.get<About>('/api/about');
      const { then } = whatIf(passOfRun(run, series), wish(about), { verdict: run.verdict });
      if (then === null) throw new Error('the program refuses this question');
      const { cropPercent, coverable, residualPx, residualAtMost } = then;
      const { maxCropPercent, maxResidualPx } = then.delivery;
      const figures = {
        crop: inLine(cropWords(cropPercent, coverable, maxCropPercent)),
        left: inLine(leftWords(residualPx, maxResidualPx, residualAtMost)),
        grade: verdictTexts.grades[then.verdict.grade],
      };
      await patiently(async () => ({
        crop: await said(askedAnswerTexts.crop),
        left: await said(askedAnswerTexts.left),
        grade: await said(askedAnswerTexts.grade),
      })).toEqual({
        crop: expect.stringContaining(figures.crop) as unknown,
        left: expect.stringContaining(figures.left) as unknown,
        grade: figures.grade,
      });
    });

    it('stands in the address, so that a page loaded anew asks it again', async () => {
      await goBack();
      await exact(askTexts.fields.lens, askTexts.units.mm).fill('65');
      await page.keyboard.press('Enter');
      await page.waitForURL(/[?&]lens=65\b/);
      const asked = await answer.textContent();
      await page.reload();
      await patiently(() => answer.textContent()).toBe(asked);
      expect(await exact(askTexts.fields.lens, askTexts.units.mm).inputValue()).toBe('65');
      expect(watched.noise).toEqual([]);
    });
  });
}

function cropOf({ run }: StoredRun): ReturnType<typeof cropWords> {
  const { cropPercent, coverable } = run.stabilise;
  return cropWords(
    { value: cropPercent, low: cropPercent, high: cropPercent },
    coverable,
    run.delivery.maxCropPercent,
  );
}
