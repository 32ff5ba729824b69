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
