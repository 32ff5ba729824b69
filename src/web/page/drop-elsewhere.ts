/** Clips that are dropped while another view is shown: they are taken to a new pass, and the browser does not leave the page for them. */
import { startTexts } from '../../texts/index.js';
import { about } from './about.js';
import { tell } from './notices.js';
import { go, route } from './router.js';
import { addFiles } from './start/send-clips.js';
import { holdsFiles, whatIsIn } from './start/use-window-drop.js';

/** Listens for as long as the page is open; a new pass takes what is dropped by itself. */
export function startDropElsewhere(): void {
  addEventListener('dragover', (event) => {
    if (isElsewhere(event)) event.preventDefault();
  });
  addEventListener('drop', (event) => {
    if (!isElsewhere(event)) return;
    event.preventDefault();
    const { files, folders } = whatIsIn(event.dataTransfer);
    if (folders > 0) tell(startTexts.isFolder);
    if (files.length === 0 || about.value === null) return;
    void addFiles(files, about.value).then((words) => {
      if (words !== '') tell(words);
    });
    go('/');
  });
}

function isElsewhere(event: DragEvent): boolean {
  return route.peek().view !== 'start' && holdsFiles(event);
}
