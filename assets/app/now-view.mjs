/** What this person can do now, sheet by sheet, and what the others wait for. */

import { placeOf } from "./blocks.mjs";
import { element } from "./element.mjs";
import { todo } from "./todo.mjs";
import { say, unmarked } from "./words.mjs";

/** @param {import("./job-in-hand.mjs").JobInHand} hand @returns {HTMLElement[]} */
export function nowView(hand) {
  if (hand.person === null) return [element("p", {}, say("now.nobody"))];
  const all = hand.job.sheets.map(({ id, task }) => {
    const state = hand.progress.sheet(id);
    return { id, begun: state.state !== "not-started", ...todo(state, hand.job.tasks[task], hand.person.role) };
  });
  const group = (can, order) => {
    const rows = all.filter((one) => one.can === can).sort(order);
    return element("section", { class: "todo" }, element("h2", {}, say(`now.${can}`)),
      element("p", { class: "note" }, say(`now.${can}_count`, { count: rows.length })),
      element("ul", {}, ...rows.map((row) => rowNode(row, hand))));
  };
  const begunFirst = (a, b) => Number(b.begun) - Number(a.begun);
  return [group("now", begunFirst), group("begin", begunFirst), group("wait", (a, b) => a.blocks.length - b.blocks.length)];
}

function rowNode({ id, can, step, blocks, role }, hand) {
  const waiting = role === null ? [] : [element("p", { class: "note" }, say("now.waits_release", { role: say(`roles.${role}`), names: namesOf(role, hand) }))];
  return element("li", {},
    element("a", { href: placeOf({ sheet: id, step: step?.name ?? null }, hand) },
      element("b", {}, hand.sheetTitle(id)), element("span", {}, nextWords(can, step))),
    ...waiting, ...waits(blocks, hand, can === "wait" ? "now.waits" : "now.gate_waits"));
}

function nextWords(can, step) {
  if (step === null) return say(can === "now" ? "sheet.close" : "now.left");
  return step.kind === "hold" ? say("now.gate", { hold: unmarked(step.say) }) : unmarked(step.say);
}

function namesOf(role, hand) {
  return hand.people.filter((one) => one.role === role).map(({ name }) => name).join(", ") || say("now.named_nobody");
}

/** The links are made when somebody looks: a job has many hundreds of them. */
function waits(blocks, hand, words) {
  if (blocks.length === 0) return [];
  const list = element("ul", { class: "blocks" });
  const link = (block) => element("li", {}, element("a", { href: placeOf(block, hand) }, unmarked(block.say)));
  return [element("details", {
    toggle: () => list.childElementCount || list.append(...blocks.map(link)),
  }, element("summary", {}, say(words, { count: blocks.length })), list)];
}
