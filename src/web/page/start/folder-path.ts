/** Paths within an allowed folder, with slashes: their parts as crumbs. */

/** One step of the way. */
export interface Crumb {
  readonly name: string;
  /** From the allowed folder; empty for itself. */
  readonly path: string;
}

/** The way from the allowed folder down to a path. @param root name of the allowed folder */
export function crumbsOf(root: string, path: string): Crumb[] {
  const parts = path === '' ? [] : path.split('/');
  return [
    { name: root, path: '' },
    ...parts.map((name, i) => ({ name, path: parts.slice(0, i + 1).join('/') })),
  ];
}

/** The path of something in a folder. */
export function below(path: string, name: string): string {
  return path === '' ? name : `${path}/${name}`;
}
