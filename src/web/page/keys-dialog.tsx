/** Lists the keys that do something on the view that is shown. */
import { useMemo } from 'preact/hooks';
import { frameTexts } from '../../texts/index.js';
import { boundKeys } from './keys.js';
import { Dialog } from './parts/dialog.js';

/** Shows it. */
export function KeysDialog({ onClose }: { readonly onClose: () => void }) {
  const all = useMemo(() => [...boundKeys(), { what: frameTexts.keysClose, keys: ['Escape'] }], []);
  return (
    <Dialog title={frameTexts.keysTitle} onClose={onClose} class="keys-dialog">
      <dl class="key-list">
        {all.map(({ what, keys }) => (
          <div key={what}>
            <dt>
              {keys.map((key) => (
                <kbd key={key}>{nameOf(key)}</kbd>
              ))}
            </dt>
            <dd>{what}</dd>
          </div>
        ))}
      </dl>
    </Dialog>
  );
}

function nameOf(key: string): string {
  const names: Readonly<Record<string, string>> = frameTexts.keyNames;
  if (key.startsWith('Shift+')) return frameTexts.shiftAnd(nameOf(key.slice('Shift+'.length)));
  return names[key] ?? key.toUpperCase();
}
