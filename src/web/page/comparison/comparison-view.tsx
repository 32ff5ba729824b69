/** A view of the page; its owner writes it. */
export function ComparisonView({
  runs,
  by,
}: {
  readonly runs: readonly number[];
  readonly by: string | null;
}) {
  return <main>{[...runs, by].join(' ')}</main>;
}
