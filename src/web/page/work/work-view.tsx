/** A view of the page; its owner writes it. */
export function WorkView() {
  return <main></main>;
}
