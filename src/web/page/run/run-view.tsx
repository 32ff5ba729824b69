/** A view of the page; its owner writes it. */
export function RunView({ id }: { readonly id: number }) {
  return <main>{id}</main>;
}
