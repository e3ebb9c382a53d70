/**
 * What one person can do on one sheet now, and if nothing, what it waits for.
 *
 * @typedef {Object} Todo
 * @property {"now"|"begin"|"wait"|"closed"} can   begin: the next step is open, and the gate ahead of it still waits
 * @property {Object|null} step                    the next step as job.json has it; null: the sheet can be closed
 * @property {import("./progress.mjs").Block[]} blocks   what it, or the gate ahead, waits for
 * @property {string|null} role                    whose release it waits for
 */

import { isOver } from "./over.mjs";
import { mayRelease } from "./standing.mjs";

/** Blocks that go as the sheet is worked, step by step. */
const HERE = ["step", "verdict", "conflict", "hold"];

/**
 * @param {import("./progress.mjs").SheetState} state @param {Object} task as job.json has it
 * @param {string|undefined} role of the person @returns {Todo}
 */
export function todo(state, task, role) {
  if (isOver(state.state)) return told("closed", null);
  const step = task.steps.find(({ name }) => name === state.next) ?? null;
  if (step === null) return told(state.left.length === 0 ? "now" : "wait", null, state.left);
  if (step.kind === "hold") {
    const { blocks } = state.holds[step.name];
    if (blocks.length > 0) return told("wait", step, blocks);
    return mayRelease(role, step.released_by) ? told("now", step) : told("wait", step, [], step.released_by);
  }
  if (state.steps[step.name].state === "waiting") return told("wait", step, state.left.filter((block) => block.step === step.name));
  const gate = task.steps.find(({ name }) => state.holds[name] && !state.holds[name].in_force && state.steps[name].state !== "not-applying");
  const blocks = gate ? state.holds[gate.name].blocks.filter(({ kind }) => !HERE.includes(kind)) : [];
  return told(blocks.some(({ sheet }) => sheet !== state.sheet) ? "begin" : "now", step, blocks);
}

function told(can, step, blocks = [], role = null) {
  return { can, step, blocks, role };
}
