/** A link to another view: goes there without loading the page anew; with a modifier key the browser does what it always does. */
import type { ComponentProps } from 'preact';
import { go } from '../router.js';

/** Shows it. @param props.href address within the page */
export function Link(props: ComponentProps<'a'> & { readonly href: string }) {
  return (
    <a
      {...props}
      onClick={(event) => {
        if (event.button !== 0 || event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
        event.preventDefault();
        go(props.href);
      }}
    />
  );
}
