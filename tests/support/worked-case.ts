/** Cases that were computed apart from the project, by id: tests/reference/worked.json. */
import worked from '../reference/worked.json' with { type: 'json' };

/** The case, its expected values typed by the caller. @throws Error when there is no such id */
export function workedCase<Expected, Inputs = unknown>(id: string): { inputs: Inputs; expected: Expected } {
  const found = (worked.cases as readonly { id: string }[]).find((entry) => entry.id === id);
  if (!found) throw new Error(`No reference case "${id}"`);
  return found as unknown as { inputs: Inputs; expected: Expected };
}
