/** Pull along a route, fed from either end, under the pull that is allowed: a drawing, its key, and the same as a table. */

import { drawn, element } from "./element.mjs";
import { functions } from "./formulas.mjs";
import { fromSi, parseQuantity } from "./quantity.mjs";
import { amount, numberText, plainText, shownIn } from "./showing.mjs";
import { units } from "./units.mjs";
import { local, say } from "./words.mjs";

/** Figures of a pull beside the plot. */
const FIGURES = 3;

/** The limit of a plot, in the words that stand on its line. A greatest pull is shown no greater than it is. */
export const limitText = (si) => say("plot.limit", { pull: amount(si, "kN", FIGURES, "down") });

/**
 * @param {import("./environment.mjs").Working} working a route's: its stations in the order listed have `from_start`
 *   at the far side of each and `from_end` at its near side
 * @param {Object} beside
 * @param {number|null} beside.limit newton allowed
 * @param {{station: number, tension_newton: number}[]} [beside.measured] at the head, that many stations behind it
 * @param {{station: number, tension_newton: number}[]} [beside.forecast] still to come, from where the head is now; then
 *   the other way is not drawn
 * @param {"start"|"end"} [beside.feed] the end it is fed from, where that is settled
 * @param {number} beside.width of the drawing in letters
 * @returns {HTMLElement}
 */
export function tensionPlot(working, { limit, measured = [], forecast = [], feed, width }) {
  const { outputs } = working;
  const stations = stationsOf(working);
  const better = outputs.better_feed.word;
  const strong = feed ?? better;
  const pulls = { start: outputs.tension_from_start.text, end: outputs.tension_from_end.text };
  // Each line sets out from what the drum holds back.
  const held = parseQuantity(working.inputs.find(({ name }) => name === "feed_tension").text.split(" (")[0]).si;
  const LETTER = 10;
  const inPlot = (si) => fromSi(si, shownIn("kN"));
  const rows = (pulled) => pulled.map(({ station, tension_newton: tension }) => ({ station, tension: inPlot(tension) }));
  const route = stations.map(({ shape, length, from_start, from_end }) => (
    { shape, length: fromSi(length, shownIn("m")), from_start: inPlot(from_start), from_end: inPlot(from_end) }));
  const drawing = functions.pull_drawing(route, inPlot(held), limit === null ? null : inPlot(limit), rows(measured), rows(forecast), strong,
    width * LETTER, LETTER, {
      limit: limit === null ? "" : limitText(limit), start: say("plot.start"), end: say("plot.end"), pull: sign("kN"), length: sign("m"),
    });

  return element("figure", { class: "pull" },
    forecast.length > 0 ? null : element("figcaption", {}, say(`plot.better_${better}`, { pull: outputs.tension.text })),
    picture(drawing, say("plot.about", pulls)),
    element("ul", { class: "legend" },
      ...["start", "end"].filter((end) => end === strong || forecast.length === 0).map((end) => key(end === strong ? "chosen" : "other", say(`plot.fed_${end}`, { pull: pulls[end] }))),
      stations.some(({ shape }) => shape !== "straight") ? key("bend", say("plot.bends")) : null,
      measured.length > 0 ? key("measured", say("plot.measured")) : null,
      forecast.length > 1 ? key("forecast", say("plot.forecast")) : null),
    element("details", { class: "as-table" }, element("summary", {}, say("plot.as_table")), table(stations)));
}

/** A unit as it stands on a scale or over a column. */
const sign = (symbol) => units[shownIn(symbol)].shown;

/** What the drawing needs of each station; a bend is as long as its arc. */
function stationsOf({ outputs, inputs }) {
  const { rows } = inputs.find(({ name }) => name === "segments");
  return outputs.stations.rows.map((row, at) => ({
    shape: rows[at].shape, length: rows[at].shape === "straight" ? rows[at].length : rows[at].turn * rows[at].radius,
    from_start: row.from_start.si, from_end: row.from_end.si,
  }));
}

function picture({ width, height, layers }, about) {
  return drawn("svg", { class: "plot", viewBox: `0 0 ${width} ${Math.ceil(height)}`, role: "img", "aria-label": about },
    ...layers.flatMap(({ lines, texts }) => [
      ...lines.map(({ kind, d }) => drawn("path", { class: kind, d })),
      ...texts.map(({ kind, x, y, side, words }) => drawn("text", { class: kind, x, y, "text-anchor": side }, local(words)))]));
}

function key(style, words) {
  const paths = { bend: "M12 0h10v8h-10z", measured: "M13 4a4 4 0 1 0 8 0a4 4 0 1 0 -8 0z" };
  return element("li", {},
    drawn("svg", { class: "plot plot-key", viewBox: "0 0 34 8", "aria-hidden": "true" }, drawn("path", { class: style, d: paths[style] ?? "M0 4h34" })),
    words);
}

function table(stations) {
  let along = 0;
  const row = ({ shape, length, from_start, from_end }) => {
    along += length;
    return element("tr", {}, element("th", { scope: "row" }, say(shape === "straight" ? "plot.straight" : "plot.bend")),
      ...[plainText(fromSi(along, shownIn("m")), FIGURES, "nearest"), ...[from_start, from_end].map((pull) => numberText(fromSi(pull, shownIn("N")), FIGURES, "up"))]
        .map((text) => element("td", {}, text)));
  };
  return element("table", {},
    element("thead", {}, element("tr", {}, ...["piece", "along", "leaving_start", "leaving_end"].map((name) => (
      element("th", { scope: "col" }, say(`plot.${name}`, { unit: sign(name === "along" ? "m" : "N") })))))),
    element("tbody", {}, ...stations.map(row)));
}
