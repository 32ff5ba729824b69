/** Starts the page. */
import { render } from 'preact';
import { loadAbout } from './about.js';
import { startDropElsewhere } from './drop-elsewhere.js';
import { startEvents } from './events.js';
import { Frame } from './frame.js';
import { startKeys } from './keys.js';
import './style.css';
import { startTheme } from './theme.js';

const root = document.getElementById('page');
if (root !== null) {
  startTheme();
  startKeys();
  startEvents();
  startDropElsewhere();
  void loadAbout();
  render(<Frame />, root);
}
