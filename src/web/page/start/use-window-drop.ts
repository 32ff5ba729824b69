/** Files that are dropped anywhere on the window. */
import { useEffect, useRef, useState } from 'preact/hooks';

/** What was dropped. */
export interface Dropped {
  readonly files: readonly File[];
  /** Folders among it: browsers give no files for them. */
  readonly folders: number;
}

/** Listens as long as the view is shown. @returns true while files are held over the window */
export function useWindowDrop(onDrop: (dropped: Dropped) => void): boolean {
  const [isOver, setIsOver] = useState(false);
  const told = useRef(onDrop);
  told.current = onDrop;

  useEffect(() => {
    // Entering a child leaves its parent: what counts is how many are entered and not left.
    let depth = 0;
    const enter = (event: DragEvent): void => {
      if (!holdsFiles(event)) return;
      event.preventDefault();
      depth++;
      setIsOver(true);
    };
    const over = (event: DragEvent): void => {
      if (!holdsFiles(event) || event.dataTransfer === null) return;
      event.preventDefault();
      event.dataTransfer.dropEffect = 'copy';
    };
    const leave = (event: DragEvent): void => {
      if (holdsFiles(event) && --depth <= 0) end();
    };
    const end = (): void => {
      depth = 0;
      setIsOver(false);
    };
    const drop = (event: DragEvent): void => {
      if (!holdsFiles(event)) return;
      event.preventDefault();
      end();
      told.current(whatIsIn(event.dataTransfer));
    };
    const listeners = { dragenter: enter, dragover: over, dragleave: leave, drop };
    for (const [name, listener] of Object.entries(listeners))
      window.addEventListener(name, listener as EventListener);
    return () => {
      for (const [name, listener] of Object.entries(listeners))
        window.removeEventListener(name, listener as EventListener);
    };
  }, []);
  return isOver;
}

/** True while files are dragged, not text of a page. */
export function holdsFiles({ dataTransfer }: DragEvent): boolean {
  return dataTransfer !== null && Array.from(dataTransfer.types).includes('Files');
}

/** Files and folders that were let go. */
export function whatIsIn(data: DataTransfer | null): Dropped {
  const items = Array.from(data?.items ?? []).filter(({ kind }) => kind === 'file');
  const isFolder = (item: DataTransferItem): boolean => item.webkitGetAsEntry()?.isDirectory === true;
  return {
    files: items.filter((item) => !isFolder(item)).flatMap((item) => item.getAsFile() ?? []),
    folders: items.filter(isFolder).length,
  };
}
