/** What the window is called while a view is shown. */
import { useEffect } from 'preact/hooks';
import { frameTexts } from '../../../texts/index.js';

/** Names the window. @param title of the view, or of what it shows */
export function useTitle(title: string): void {
  useEffect(() => {
    document.title = frameTexts.titleOf(title);
  }, [title]);
}
