/** Says that something is on its way; appears only after a moment, so that what comes at once does not flicker. */
import { frameTexts } from '../../../texts/index.js';

/** Shows it. @param props.what in a word or two */
export function Busy({ what = frameTexts.loading }: { readonly what?: string }) {
  return (
    <p class="busy" role="status">
      {what}
    </p>
  );
}
