/** A view of the page; its owner writes it. */
export function StartView() {
  return <main></main>;
}
