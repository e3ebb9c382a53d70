/** Says aloud, to those who hear the page, what the others see change. */

import { part } from "./element.mjs";

/** @param {string} text */
export function announce(text) {
  const spoken = part(document, "spoken");
  // The same words twice in a row would stay unsaid unless the place is emptied between.
  spoken.textContent = "";
  requestAnimationFrame(() => { spoken.textContent = text; });
}
