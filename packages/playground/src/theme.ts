/** Runs before the page is drawn: the theme that was chosen here before. */
const KEY = 'fettle.theme';

const chosen = (): string | null => {
  try {
    return localStorage.getItem(KEY);
  } catch {
    return null;
  }
};

const theme = chosen();
if (theme === 'light' || theme === 'dark') document.documentElement.dataset.theme = theme;

addEventListener('DOMContentLoaded', () => {
  document.getElementById('theme')?.addEventListener('click', () => {
    const root = document.documentElement;
    const isDark = root.dataset.theme
      ? root.dataset.theme === 'dark'
      : matchMedia('(prefers-color-scheme: dark)').matches;
    root.dataset.theme = isDark ? 'light' : 'dark';
    try {
      localStorage.setItem(KEY, root.dataset.theme);
    } catch {
      // Then it holds until the page is closed.
    }
  });
});
