/** The style of the charts for a picture file: every custom property put in by its light colour, since picture engines know none. */
import { CHART_STYLE, LIGHT_COLOURS } from '../charts/index.js';

/** Titles of axes are a little smaller in the page; in a picture that is shrunk they stay as large as the rest. */
const ONE_SIZE = '.chart text,.chart tspan{font-size:11px!important}';

/** Stretches that noise hides stay blank: there is no room to say what their dashes mean. */
const NO_HIDDEN = '.unknown-box{fill:none!important;stroke:none!important}';

/** Value of each custom property of the light theme, by its name with the dashes. */
export function lightColours(): ReadonlyMap<string, string> {
  return new Map(
    [...LIGHT_COLOURS.matchAll(/(--[a-z-]+):\s*([^;]+)/g)].map(([, name, value]) => [name, value.trim()]),
  );
}

/** One colour of the light theme. @throws RangeError when the theme has none of this name */
export function lightColour(name: string): string {
  const colour = lightColours().get(`--${name}`);
  if (colour === undefined) throw new RangeError(`The light theme has no colour "${name}".`);
  return colour;
}

/**
 * The classes of the charts without custom properties, without rules for certain media, and without the box of a chart in a page.
 * @throws RangeError when a class uses a property that the light theme does not have
 */
export function standaloneChartStyle(): string {
  return CHART_STYLE.replace(/@[a-z-]+[^{]*\{(?:[^{}]*\{[^{}]*\})*[^{}]*\}/g, '')
    .replace(/var\(--([a-z-]+)[^)]*\)/g, (_, name: string) => lightColour(name))
    .replace(/(^|\})\s*\.chart\s*\{[^}]*\}/g, '$1')
    .trim()
    .concat(ONE_SIZE, NO_HIDDEN);
}
