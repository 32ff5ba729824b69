/** Brings a field of the form into sight, opens the group it is folded into, and sets the focus there. */
import type { SettingName } from '../../../settings/index.js';

/** After what is being drawn stands there. */
export function focusField(name: SettingName): void {
  requestAnimationFrame(() => {
    const field = document.getElementById(`setting-${name}`);
    const group = field?.closest('details');
    if (group) group.open = true;
    field?.scrollIntoView({ block: 'center' });
    field?.focus({ preventScroll: true });
  });
}
