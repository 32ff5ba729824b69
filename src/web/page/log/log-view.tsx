/** A view of the page; its owner writes it. */
export function LogView() {
  return <main></main>;
}
