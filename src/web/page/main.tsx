/** Starts the page. */
import { render } from 'preact';

render(<main />, document.body);
