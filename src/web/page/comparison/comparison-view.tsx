/** A view of the page; its owner writes it. */
export function ComparisonView() {
  return <main></main>;
}
