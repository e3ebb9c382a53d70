/** Locks as they hang on a point: a shackle through the bar and a body under it, or an empty hole. */

import { drawn } from "./element.mjs";

/** @param {import("./boards.mjs").Lock[]} on  locks that may be there */
export function hasp(on) {
  return on.length === 0 ? [place(32, { "data-lock": "none" }, drawn("circle", { class: "hole", cx: 34, cy: 24, r: 9 }))] : on.map(hanging);
}

function hanging({ entry, sure }) {
  return place(80, { "data-lock": sure ? "on" : "doubt" },
    drawn("path", { class: "shackle", d: "M22 50V26a12 12 0 0 1 24 0v24" }),
    drawn("rect", { class: "body", x: 8, y: 48, width: 52, height: 36, rx: 3 }),
    drawn("text", { x: 34, y: 73, "text-anchor": "middle" }, sure ? entry.value.slice(0, 5) : "?"));
}

/** One length of the bar, with what hangs on it. */
function place(height, given, ...inside) {
  return drawn("svg", { viewBox: `0 8 68 ${height}`, width: 68, height, focusable: "false", ...given },
    drawn("path", { class: "bar-fill", d: "M0 16H68V32H0Z" }), drawn("path", { class: "bar-edge", d: "M0 16H68M0 32H68" }), ...inside);
}
