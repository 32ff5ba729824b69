/** Whether one path lies inside another: for real paths, with all links followed. */
import path from 'node:path';

/** Whether a real path is that of a folder or lies inside it. @example isInside('/clips/a/b.mov', '/clips') // true */
export function isInside(real: string, folder: string): boolean {
  const rest = path.relative(folder, real);
  return rest === '' || (rest !== '..' && !rest.startsWith(`..${path.sep}`) && !path.isAbsolute(rest));
}
