/** Dark or light: dark until somebody says otherwise, and then as it was said, also next time. */
import { effect, signal } from '@preact/signals';

/** The looks of the page. */
export type Theme = 'dark' | 'light';

const STORED_AS = 'trundle-theme';

/** The look now. */
export const theme = signal<Theme>(stored());

/** Shows the page in its look, and keeps it. */
export function startTheme(): void {
  effect(() => {
    document.documentElement.dataset.theme = theme.value;
    try {
      localStorage.setItem(STORED_AS, theme.value);
    } catch {
      // Where nothing may be kept the choice holds for this page.
    }
  });
}

/** Changes from one to the other. */
export function switchTheme(): void {
  theme.value = theme.peek() === 'dark' ? 'light' : 'dark';
}

function stored(): Theme {
  try {
    return localStorage.getItem(STORED_AS) === 'light' ? 'light' : 'dark';
  } catch {
    return 'dark';
  }
}
