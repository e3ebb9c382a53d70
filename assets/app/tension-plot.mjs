/** Pull along a route, fed from either end, under the pull that is allowed. */

import { drawn, element } from "./element.mjs";
import { parseQuantity } from "./quantity.mjs";
import { say } from "./words.mjs";

const [WIDTH, HEIGHT, LEFT, RIGHT, TOP, BOTTOM] = [320, 190, 8, 312, 26, 160];

/**
 * @param {import("./environment.mjs").Working} working a route's: its stations in the order listed have `from_start`
 *   at the far side of each and `from_end` at its near side
 * @param {{si: number, text: string}|null} limit
 * @returns {HTMLElement}
 */
export function tensionPlot({ outputs, inputs }, limit) {
  const { rows } = outputs.stations;
  // Each line sets out from what the drum holds back.
  const held = parseQuantity(inputs.find(({ name }) => name === "feed_tension")?.text ?? "");
  const start = [...(held ? [[0, held.si]] : []), ...rows.map((row, at) => [at + 1, row.from_start.si])];
  const end = [...rows.map((row, at) => [at, row.from_end.si]), ...(held ? [[rows.length, held.si]] : [])];
  const most = Math.max(limit?.si ?? 0, ...start.map(([, pull]) => pull), ...end.map(([, pull]) => pull)) || 1;
  const x = (station) => LEFT + (RIGHT - LEFT) * station / rows.length;
  const y = (pull) => BOTTOM - (BOTTOM - TOP) * pull / most;
  const point = ([station, pull]) => `${x(station).toFixed(1)} ${y(pull).toFixed(1)}`;
  const line = (points) => `M${points.map(point).join("L")}`;
  const chosen = outputs.better_feed?.word === "end" ? "end" : "start";
  const style = (feed) => (feed === chosen ? "chosen" : "other");

  return element("figure", { class: "pull" },
    drawn("svg", { class: "plot", viewBox: `0 0 ${WIDTH} ${HEIGHT}`, role: "img", "aria-label": say("working.plot_about", {
      start: outputs.tension_from_start.text, end: outputs.tension_from_end.text }) },
    drawn("path", { class: "axis", d: `M${LEFT} ${BOTTOM}H${RIGHT}` }),
    ...rows.map((row, at) => drawn("path", { class: "axis", d: `M${x(at + 1).toFixed(1)} ${BOTTOM}v5` })),
    drawn("path", { class: style("end"), d: line(end) }),
    drawn("path", { class: style("start"), d: line(start) }),
    ...(limit ? [
      drawn("path", { class: "limit", d: `M${LEFT} ${y(limit.si).toFixed(1)}H${RIGHT}` }),
      drawn("text", { x: LEFT, y: (y(limit.si) - 8).toFixed(1) }, `${say("working.plot_limit")} ${limit.text}`)] : []),
    drawn("text", { x: LEFT, y: HEIGHT - 6 }, say("working.plot_near")),
    drawn("text", { x: RIGHT, y: HEIGHT - 6, "text-anchor": "end" }, say("working.plot_far"))),
    element("ul", { class: "legend" },
      key(style("start"), `${say("working.plot_start")}: ${outputs.tension_from_start.text}`),
      key(style("end"), `${say("working.plot_end")}: ${outputs.tension_from_end.text}`)));
}

function key(style, words) {
  return element("li", {},
    drawn("svg", { class: "plot-key", viewBox: "0 0 34 8", "aria-hidden": "true" }, drawn("path", { class: style, d: "M0 4h34" })),
    words);
}
