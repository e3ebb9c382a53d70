/** A working on the screen: what came out and on what that stands; on asking, and on paper, how it came out. */

import { all, element } from "./element.mjs";
import { workedOut } from "./worked-out.mjs";
import { plain, say, unbroken } from "./words.mjs";

/** What makes the inside of each panel: most stay shut, and a sheet has many. */
const fills = new WeakMap();

/**
 * The panels of a step. Those that stood open in `before` stay open.
 * @param {Object} step @param {import("./progress.mjs").SheetState} sheet @param {Object} page
 * @param {HTMLElement} before where the panels stand now
 * @returns {HTMLElement[]}
 */
export function workingPanels(step, sheet, page, before) {
  return step.workings.map((name) => {
    const working = sheet.environment.working(name);
    const open = all(before, `[data-working="${name}"]`).some((panel) => panel.open);
    const inside = element("div", { class: "how" });
    const fill = () => inside.childElementCount > 0 || inside.append(...workedOut(working, sheet, page));
    if (open) fill();
    const panel = element("details", { class: "working", "data-working": name, open, toggle: ({ target }) => target.open && fill() },
      element("summary", {}, element("span", { class: "working-title" }, `${working.title} `), ...results(working)), inside);
    fills.set(panel, fill);
    return panel;
  });
}

/**
 * Paper can't be asked: opens every working there is.
 * @returns {() => void} shuts again those that were shut
 */
export function openForPaper() {
  const panels = all(document, ".working");
  for (const panel of panels) fills.get(panel)();
  const shut = panels.flatMap((panel) => [panel, ...all(panel, "details.rest")]).filter((panel) => !panel.open);
  for (const panel of shut) panel.open = true;
  return () => shut.forEach((panel) => { panel.open = false; });
}

function results(working) {
  if (working.cannot_tell) {
    return [element("b", {}, say("step.cant_tell")), element("span", { class: "waits" }, ` ${working.cannot_tell}`)];
  }
  return [element("b", {}, unbroken(inShort(working.outputs))), " ", element("span", { class: "stands", "data-stands": working.stands }, say(`working.stands_${working.stands}`))];
}

/** The one result that a heading has room for: of a route the better way, else the first number, with the word before it. */
function inShort(outputs) {
  if (outputs.better_feed) return say(`plot.short_${outputs.better_feed.word}`, { pull: outputs.tension.text });
  const [[, first], [name, second] = []] = Object.entries(outputs);
  return first.word && second && !second.rows ? `${first.text}, ${plain(name)} ${second.text}` : first.text;
}
