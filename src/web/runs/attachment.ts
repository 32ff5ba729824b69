/** How a file of a run is named and typed for whoever downloads it. */
import path from 'node:path';

/** By the ending of a name. */
const TYPES: Readonly<Record<string, string>> = {
  '.json': 'application/json;charset=utf-8',
  '.csv': 'text/csv;charset=utf-8',
  '.html': 'text/html;charset=utf-8',
  '.jpg': 'image/jpeg',
  '.png': 'image/png',
  '.pdf': 'application/pdf',
  '.mp4': 'video/mp4',
};

/** Longest part that a clip gives to the name of a file; file systems take 255 bytes. */
const MOST_CHARACTERS = 60;

/** Media type of a file of a run. */
export function typeOf(name: string): string {
  return TYPES[path.extname(name)] ?? 'application/octet-stream';
}

/** The name of a file of a run, told apart from that of another. @example fileNameOf('A004_C012.mov', 'motion.csv') // "A004_C012-motion.csv" */
export function fileNameOf(clipFile: string, name: string): string {
  const stem = path.parse(clipFile).name.replace(/[/\\:*?"<>|\p{C}]/gu, '_');
  return `${[...stem].slice(0, MOST_CHARACTERS).join('')}-${name}`;
}

/**
 * Content-Disposition by RFC 6266: a name in ASCII for everybody, and where that is not all of it the whole in UTF-8 (RFC 8187).
 *
 * @param fileName without separators and control characters
 */
export function disposition(kind: 'inline' | 'attachment', fileName: string): string {
  const ascii = fileName
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/[^ -~]|["\\%]/g, '_');
  const plain = `${kind}; filename="${ascii}"`;
  return ascii === fileName ? plain : `${plain}; filename*=UTF-8''${percentCoded(fileName)}`;
}

function percentCoded(text: string): string {
  return encodeURIComponent(text).replace(
    /['()*]/g,
    (character) => `%${character.charCodeAt(0).toString(16).toUpperCase()}`,
  );
}
