/** The style of reports inside the page that is served: the same rules, the colours by a switch in place of the system. */
import { describe, expect, it } from 'vitest';
import { DARK_COLOURS, LIGHT_COLOURS, PRINT_COLOURS } from '../../src/report/charts/index.js';
import { familyStyle } from '../../src/report/index.js';
import { pageStyle } from '../../src/report/html/style.js';

describe('the style of the served page', () => {
  const style = familyStyle();

  it('is dark unless the page says light, whatever the system prefers', () => {
    expect(style).not.toContain('prefers-color-scheme');
    const [dark, light] = [style.indexOf(`:root{${DARK_COLOURS}`), style.indexOf(LIGHT_COLOURS)];
    expect(dark).toBeGreaterThanOrEqual(0);
    expect(style.slice(0, light)).toMatch(/:root:where\(\[data-theme=light\]\)\{$/);
    expect(dark).toBeLessThan(light);
  });

  it('prints black on white in either theme: no theme weighs more than the root, and paper comes last', () => {
    expect(style.lastIndexOf(`:root{${PRINT_COLOURS}`)).toBeGreaterThan(style.lastIndexOf('data-theme'));
    expect(style).not.toMatch(/:root\[data-theme/);
  });

  it('shares every rule of the screen with the files', () => {
    const rules = (text: string, end: string): string =>
      text.slice(text.indexOf('\n*{box-sizing'), text.indexOf(end));
    const shared = rules(style, '\n@page{');
    expect(shared.length).toBeGreaterThan(5000);
    expect(rules(pageStyle('clip', 'report'), '\n@page{')).toBe(shared);
  });
});
