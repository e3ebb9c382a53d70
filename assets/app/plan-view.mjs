/** The plan on the screen: conduits and gates drawn beside a list that says the same in words. */

import { placeOf } from "./blocks.mjs";
import { drawn, element } from "./element.mjs";
import { isOver } from "./over.mjs";
import { planOf } from "./plan.mjs";
import { sheetWords } from "./sheet-words.mjs";
import { say } from "./words.mjs";

const [LANE, GATE, BRANCH] = [26, 34, 11];
const STATES = ["closed", "rests", "worked", "held", "in-hand", "not-started"];

/** @param {import("./job-in-hand.mjs").JobInHand} hand @returns {HTMLElement[]} */
export function planView(hand) {
  const rows = planOf(hand.job);
  const states = new Map(rows.map(({ task, sheets }) => [task, sheets.map((id) => hand.progress.sheet(id))]));
  const laid = (task) => states.get(task).every(({ state }) => isOver(state));
  const lanes = Math.max(...rows.map(({ lane }) => lane)) + 1;
  return [
    element("p", { class: "plan-end" }, say("plan.first")),
    element("ol", { class: "plan" }, ...rows.map((row, at) => element("li", { class: "reach" },
      drawing(row, rows[at - 1]?.passing ?? [], lanes, laid, progressOf(states.get(row.task))),
      reach(row, states.get(row.task), hand)))),
    element("p", { class: "plan-end" }, say("plan.last")),
  ];
}

/** A gate is shut before anything is begun, half open during it, open when all its sheets are closed. */
function progressOf(states) {
  if (states.every(({ state }) => isOver(state))) return "open";
  return states.some(({ state }) => state !== "not-started") ? "part" : "shut";
}

function reach({ task, needs }, states, hand) {
  const count = (wanted) => states.filter(({ state }) => state === wanted).length;
  const told = STATES.filter((state) => count(state) > 0).map((state) => say("plan.tell", { count: count(state), state: word(state) }));
  const busy = states.some(({ state }) => !isOver(state) && state !== "not-started");
  const title = (one) => hand.job.tasks[one].title;
  return element("details", { class: "reach-body", open: busy },
    element("summary", {}, element("h2", {}, title(task)), element("span", { class: "stage-state" }, told.join(" · "))),
    needs.length > 0 ? element("p", { class: "note" }, say("plan.after", { tasks: needs.map(title).join(" · ") })) : null,
    element("ul", { class: "gates" }, ...states.map((state) => element("li", {},
      element("a", { class: "gate-link", "data-state": state.state, href: placeOf({ sheet: state.sheet, step: state.next }, hand), "aria-label": `${hand.sheetTitle(state.sheet)}: ${sheetWords(state)}` },
        element("b", { class: "tag" }, hand.sheets.get(state.sheet).item), element("span", {}, word(state.state)))))));
}

function word(state) {
  return say(`plan.${state}`);
}

function drawing({ task, lane, branches, passing }, above, lanes, laid, gate) {
  const x = (at) => at * LANE + 16;
  const pipes = [
    ...above.map((pipe) => [pipe.of, `M${x(pipe.lane)} 0V${ends(pipe, branches, passing, lane) ? BRANCH : GATE}`]),
    ...branches.filter((pipe) => pipe.lane !== lane).map((pipe) => [pipe.of, `M${x(pipe.lane)} ${BRANCH}H${x(lane)}V${GATE}`]),
    // Down to wherever the row ends; what is too long is cut off by the drawing's edge.
    ...passing.map((pipe) => [pipe.of, `M${x(pipe.lane)} ${GATE}V2000`]),
  ];
  const paint = (part) => pipes.map(([of, d]) => drawn("path", { class: part, d, "data-laid": laid(of) }));
  const width = x(lanes - 1) + 22;
  const room = element("div", { class: "reach-drawing", "aria-hidden": "true" },
    drawn("svg", { width, focusable: "false" }, ...paint("wall"), ...paint("bore"), ...gateAt(x(lane), gate)));
  room.style.width = `${width}px`;
  return room;
}

/** Whether a conduit from above goes no further than the branch. */
function ends(pipe, branches, passing, lane) {
  return pipe.lane !== lane && branches.some(({ of }) => of === pipe.of) && !passing.some(({ of }) => of === pipe.of);
}

function gateAt(x, state) {
  const leaf = (from, to, name = "leaf-line") => drawn("path", { class: name, d: `M${from} ${GATE}H${to}` });
  if (state === "open") return [leaf(x - 15, x - 9), leaf(x + 9, x + 15)];
  return [leaf(x - 15, x + 15, "leaf-gap"), leaf(x - 15, state === "part" ? x - 1 : x + 15)];
}
