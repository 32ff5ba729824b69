/** Memory of a process with all that it started (Linux; 0 elsewhere). */
import fs from 'node:fs';

/** Resident bytes of the process group led by `leader`, shared pages counted once for each process. */
export function treeBytes(leader: number): number {
  if (process.platform !== 'linux') return 0;
  let pages = 0;
  for (const pid of fs.readdirSync('/proc').filter((name) => /^\d+$/.test(name))) {
    try {
      // After the name in brackets: state, parent, group.
      const stat = fs.readFileSync(`/proc/${pid}/stat`, 'utf8');
      const group = Number(stat.slice(stat.lastIndexOf(')') + 2).split(' ')[2]);
      if (group === leader) pages += Number(fs.readFileSync(`/proc/${pid}/statm`, 'utf8').split(' ')[1]);
    } catch {
      // It left while it was looked at.
    }
  }
  return pages * 4096;
}
