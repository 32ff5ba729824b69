/** The verdict on a run in a word or two, as the table of the log has it. */
import { doubtsAmong, type RunDocument } from '../run/index.js';
import { batchTexts } from '../texts/index.js';

/**
 * The grade, and that it is in doubt where it is.
 * @example verdictWord(run) // "pass, in doubt"
 */
export function verdictWord({
  verdict: { grade },
  warnings,
}: Pick<RunDocument, 'verdict' | 'warnings'>): string {
  const isDoubted = grade !== 'unmeasurable' && doubtsAmong(warnings).length > 0;
  return isDoubted ? batchTexts.inDoubt(grade) : grade;
}
