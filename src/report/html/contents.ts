/** Links to the sections of a page, read from the sections themselves. */
import { pageTexts } from '../../texts/index.js';
import { html, trusted, type Markup } from './markup.js';

/** The heading that a section is named after, with its id. */
const HEADING = /<h2 id="([\w-]+)"[^>]*>([\s\S]*?)<\/h2>/g;

/** Navigation to every section that has a heading with an id, in the order of the page. */
function contents(sections: Markup): Markup {
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

/** What comes under the first screen of a page: links to the sections, and the sections. */
export function bodyOf(sections: readonly Markup[]): Markup {
  const all = trusted(sections.map(({ text }) => text).join(''));
  return html`<div class="body">
    ${contents(all)}
    <div class="sections">${all}</div>
  </div>`;
}
