/** Says aloud, to those who hear the page, what the others see change. */

import { part } from "./element.mjs";

/** What is said within this time, in milliseconds, is said together: the later words must not cut off the earlier. */
const TOGETHER = 150;
let waiting = [];

/** @param {string} text */
export function announce(text) {
  const spoken = part(document, "spoken");
  // The same words twice in a row would stay unsaid unless the place is emptied between.
  spoken.textContent = "";
  waiting.push(text);
  if (waiting.length > 1) return;
  setTimeout(() => {
    spoken.textContent = waiting.join(" ");
    waiting = [];
  }, TOGETHER);
}
