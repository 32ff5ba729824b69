/** What a process takes with all that it started (Linux; nothing elsewhere). */
import fs from 'node:fs';

/** Of a whole process group, now. */
export interface GroupUse {
  /** Resident bytes, shared pages counted once for each process. */
  readonly bytes: number;
  /** Computing time since the leader began, seconds; that of programs that have left counts once somebody has waited for them. */
  readonly computedS: number;
}

/** Clock ticks of /proc a second, the same on all Linux systems in use. */
const TICKS_PER_S = 100;
const PAGE_BYTES = 4096;

/** What the process group led by `leader` takes. */
export function groupUse(leader: number): GroupUse {
  let pages = 0;
  let ticks = 0;
  if (process.platform !== 'linux') return { bytes: 0, computedS: 0 };
  for (const pid of fs.readdirSync('/proc').filter((name) => /^\d+$/.test(name))) {
    try {
      // After the name in brackets: state, parent, group; from the twelfth on user and system time, own and of children that left.
      const stat = fs.readFileSync(`/proc/${pid}/stat`, 'utf8');
      const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
      if (Number(fields[2]) !== leader) continue;
      pages += Number(fs.readFileSync(`/proc/${pid}/statm`, 'utf8').split(' ')[1]);
      for (const field of fields.slice(11, 15)) ticks += Number(field);
    } catch {
      // It left while it was looked at.
    }
  }
  return { bytes: pages * PAGE_BYTES, computedS: ticks / TICKS_PER_S };
}

/** Resident bytes of all that descends from a process, in whatever groups, now; itself left out, shared pages counted once for each. */
export function descendantBytes(ancestor: number): number {
  if (process.platform !== 'linux') return 0;
  const all = fs
    .readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .flatMap((name) => {
      try {
        const stat = fs.readFileSync(`/proc/${name}/stat`, 'utf8');
        const parent = Number(stat.slice(stat.lastIndexOf(')') + 2).split(' ')[1]);
        const pages = Number(fs.readFileSync(`/proc/${name}/statm`, 'utf8').split(' ')[1]);
        return [{ pid: Number(name), parent, pages }];
      } catch {
        // It left while it was looked at.
        return [];
      }
    });
  const family = new Set([ancestor]);
  // Numbers come round again, so a child may stand before its parent.
  for (let before = 0; before < family.size;) {
    before = family.size;
    for (const { pid, parent } of all) if (family.has(parent)) family.add(pid);
  }
  family.delete(ancestor);
  return PAGE_BYTES * all.reduce((sum, { pid, pages }) => sum + (family.has(pid) ? pages : 0), 0);
}

/** Computing time of all programs that this process has started and waited for, with theirs, seconds (Linux; 0 elsewhere). */
export function childrenComputedS(): number {
  if (process.platform !== 'linux') return 0;
  const stat = fs.readFileSync('/proc/self/stat', 'utf8');
  const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
  return (Number(fields[13]) + Number(fields[14])) / TICKS_PER_S;
}
