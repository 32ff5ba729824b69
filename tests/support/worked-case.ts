/** Cases that were computed apart from the project, by id: tests/reference/worked.json. */
import worked from '../reference/worked.json' with { type: 'json' };

interface Case {
  readonly id: string;
  readonly inputs: unknown;
  readonly expected: unknown;
}

/** Inputs and expected values of one case, in the shape that the caller knows. @throws Error when there is no such case */
export function caseOf<Inputs, Expected>(id: string): { inputs: Inputs; expected: Expected } {
  const found = (worked.cases as readonly Case[]).find((one) => one.id === id);
  if (!found) throw new Error(`no case ${id}`);
  return found as { inputs: Inputs; expected: Expected };
}
