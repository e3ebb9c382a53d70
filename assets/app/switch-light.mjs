/** Day or night at a tap, over what the phone itself prefers. early.js shows it, on this page and the next. */

export function switchLight() {
  const chosen = document.documentElement.dataset.light === "night" ? "day" : "night";
  try {
    localStorage.setItem("pitslate-light", chosen);
  } catch {
    // Without a store the choice can't outlive this page.
  }
  document.documentElement.dataset.light = chosen;
}
