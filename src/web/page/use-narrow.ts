/** Whether the window is as narrow as a phone held upright. */
import { useEffect, useState } from 'preact/hooks';

/** Follows the window; the same width as in the styles. */
export function useNarrow(): boolean {
  const [query] = useState(() => matchMedia('(max-width: 44rem)'));
  const [isNarrow, setIsNarrow] = useState(query.matches);
  useEffect(() => {
    const follow = (): void => setIsNarrow(query.matches);
    query.addEventListener('change', follow);
    return () => query.removeEventListener('change', follow);
  }, [query]);
  return isNarrow;
}
