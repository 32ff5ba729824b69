/** Links to the sections of a page, read from the sections themselves. */
import { pageTexts } from '../../texts/index.js';
import { html, trusted, type Markup } from './markup.js';

/** The heading that a section is named after, with its id. */
const HEADING = /<h2 id="([\w-]+)"[^>]*>([\s\S]*?)<\/h2>/g;

/**
 * Navigation to every section that has a heading with an id, in the order of the page.
 * @param sections the sections, as they stand in the page
 */
export function contents(sections: Markup): Markup {
  const links = [...sections.text.matchAll(HEADING)].map(([, id, heading]) => {
    const name = trusted(heading.replace(/<[^>]+>/g, '').trim());
    return html`<li><a href="#${id}">${name}</a></li>`;
  });
  return html`<nav class="contents" aria-label="${pageTexts.contents}">
    <ul>
      ${links}
    </ul>
  </nav>`;
}
