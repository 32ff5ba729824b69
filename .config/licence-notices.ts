/** Puts the licence notices of packages at the head of every bundled file that holds code of theirs, as these licences ask for. */
import fs from 'node:fs';
import path from 'node:path';
import type { Plugin } from 'vite';

const FOLDER = /^(.*\/node_modules\/((?:@[^/]+\/)?[^/]+))\//;

/** The text of the licence of an installed package: its file, else the end of its README that speaks of it. */
export function licenceText(folder: string): string | null {
  const names = fs.existsSync(folder) ? fs.readdirSync(folder) : [];
  const file = names.find((name) => /^(licen[cs]e|copying)(\.|$)/i.test(name));
  if (file !== undefined) return fs.readFileSync(path.join(folder, file), 'utf8').trim();
  const readme = names.find((name) => /^readme/i.test(name));
  const text = readme === undefined ? '' : fs.readFileSync(path.join(folder, readme), 'utf8');
  const at = text.search(/^#+\s*licen[cs]e\s*$/im);
  return at < 0 ? null : text.slice(at).replace(/^.*\n/, '').trim();
}

/** One comment for packages, given by their folders: what is alike in their licences stands once. */
export function noticeOf(folders: readonly string[]): string {
  const holders = new Map<string, string[]>();
  for (const folder of [...folders].sort()) {
    const { name, version } = JSON.parse(fs.readFileSync(path.join(folder, 'package.json'), 'utf8')) as {
      name: string;
      version: string;
    };
    const text = licenceText(folder);
    if (text === null) throw new Error(`${name} tells no licence, and code of it is bundled`);
    const lines = text.split(/\r?\n/).map((line) => line.trim());
    const isHolder = (line: string): boolean => /^copyright/i.test(line);
    const rest = lines
      .filter((line) => !isHolder(line))
      .join('\n')
      .replace(/^(the )?\S+ license( \(\S+\))?\n/i, '')
      .replace(/\s+/g, ' ')
      .trim();
    const holder = lines.filter(isHolder).join(' ');
    holders.set(rest, [...(holders.get(rest) ?? []), `${name} ${version}: ${holder}`]);
  }
  const parts = [...holders].map(([rest, names]) => `${names.join('\n')}\n${rest}`);
  return `/*!\n${parts.join('\n\n').replaceAll('*/', '* /').replaceAll('</', '< /')}\n*/\n`;
}

/** The plugin; runs last, so that nothing takes the comments out again. */
export function licenceNotices(): Plugin {
  return {
    name: 'licence-notices',
    enforce: 'post',
    generateBundle(_options, bundle) {
      for (const chunk of Object.values(bundle)) {
        if (chunk.type !== 'chunk') continue;
        const used = Object.entries(chunk.modules).filter(([, { renderedLength }]) => renderedLength > 0);
        const folders = used.flatMap(([id]) => FOLDER.exec(id.replace(/^\0/, ''))?.[1] ?? []);
        if (folders.length > 0) chunk.code = noticeOf([...new Set(folders)]) + chunk.code;
      }
    },
  };
}
