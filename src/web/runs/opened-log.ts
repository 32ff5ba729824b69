/** The log as a server uses it: opened when it is first asked for, kept open, and opened anew where its file was replaced. */
import fs from 'node:fs';
import { isInDataFolder, openLog, type RunLog } from '../../log/index.js';
import type { Warning } from '../../run/index.js';

/** One log. What other programs write into it is seen with the next question. */
export class OpenedLog {
  private opened: { readonly log: RunLog; readonly identity: string | null } | null = null;

  /**
   * @param file of the log
   * @param onWarning told when a damaged log was set aside
   */
  constructor(
    private readonly file: string,
    private readonly onWarning: (warning: Warning) => void,
  ) {}

  /** The log as it is now; null where there is none yet, which does not make one. @throws TrundleError with the codes of `openLog` */
  get(): RunLog | null {
    if (this.opened !== null && this.opened.identity !== this.identity()) this.close();
    if (this.opened === null && isInDataFolder(this.file)) {
      const log = openLog(this.file, { onWarning: this.onWarning });
      // Opening may have put another file there.
      this.opened = { log, identity: this.identity() };
    }
    return this.opened?.log ?? null;
  }

  /** Ends its use; the next question opens it again. */
  close(): void {
    this.opened?.log.close();
    this.opened = null;
  }

  /** Which file it is, whatever stands in it; null where there is none. */
  private identity(): string | null {
    const found = fs.statSync(this.file, { bigint: true, throwIfNoEntry: false });
    return found === undefined ? null : `${found.dev}:${found.ino}`;
  }
}
