/** The keyboard's place on a page that is drawn again under it. */

import { all } from "./element.mjs";

const REACHED = "a[href], button, summary, input, select, textarea";

/**
 * Draws again; where that takes away what had the focus, what stands in its place has it afterwards.
 * @param {() => void} draw
 */
export function keepingFocus(draw) {
  const before = document.activeElement;
  if (before === null || before === document.body) {
    draw();
    return;
  }
  /** @type {[any, number][]} */
  const homes = [];
  for (let at = before.closest("[data-part], [data-step]"); at; at = at.parentElement.closest("[data-part], [data-step]")) {
    homes.push([at, all(at, REACHED).indexOf(before)]);
  }
  draw();
  if (before.isConnected && before.checkVisibility()) return;
  for (const [home, index] of homes) {
    const there = all(home, REACHED).filter((one) => one.checkVisibility());
    const next = there[Math.min(index, there.length - 1)] ?? (home.matches("[data-step]") ? home : null);
    if (next && home.checkVisibility()) {
      next.focus({ preventScroll: true });
      return;
    }
  }
}
