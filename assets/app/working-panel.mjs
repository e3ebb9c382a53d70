/** A working on the screen: what came out, and on asking how it came out and what it stands on. */

import { all, element } from "./element.mjs";
import { tensionPlot } from "./tension-plot.mjs";
import { plain, say } from "./words.mjs";

/** How many results stand beside the title; where there are more, all of them are listed inside. */
const IN_SUMMARY = 2;

/**
 * The panels of a step. Those that stood open in `before` stay open.
 * @param {Object} step @param {import("./progress.mjs").SheetState} sheet @param {Object} page
 * @param {HTMLElement} before where the panels stand now
 * @returns {HTMLElement[]}
 */
export function workingPanels(step, sheet, page, before) {
  const limits = sheet.environment.step(step.name).limits ?? [];
  return step.workings.map((name) => {
    const working = sheet.environment.working(name);
    const open = all(before, `[data-working="${name}"]`).some((panel) => panel.open);
    const inside = element("div", { class: "how" });
    // Most panels stay shut, and a sheet has many: the inside is made when somebody asks for it.
    const fill = () => inside.childElementCount > 0 || inside.append(...how(working, page, limits));
    const unfold = ({ target }) => target.open && fill();
    if (open) fill();
    return element("details", { class: "working", "data-working": name, open, toggle: unfold },
      element("summary", {}, element("span", { class: "result" }, `${working.title} `, ...results(working))), inside);
  });
}

function results(working) {
  if (working.cannot_tell) {
    return [element("b", {}, say("step.cant_tell")), element("span", { class: "waits" }, working.cannot_tell)];
  }
  const outputs = Object.entries(working.outputs).filter(([, output]) => !output.rows);
  if (outputs.length === 1) return [element("b", {}, outputs[0][1].text)];
  return outputs.slice(0, IN_SUMMARY).map(([name, output]) => element("span", {}, `${plain(name)} `, element("b", {}, output.text)));
}

function how(working, page, limits) {
  const { job } = page.hand;
  const formula = job.formulas[working.formula];
  const source = sourceText(working.source, job);
  return [
    stations(working, limits),
    allOutputs(working),
    working.lines.length > 0 ? element("p", { class: "formula" },
      ...[...working.lines, ...working.numbers].map((line) => element("span", {}, line))) : null,
    element("dl", { class: "terms" }, ...working.inputs.map((input) => element("div", {},
      element("dt", {}, plain(input.name), input.symbol ? ` ${input.symbol}` : ""),
      element("dd", {}, input.text),
      element("dd", { class: "from" }, origin(input, job))))),
    ...(working.unconfirmed ?? []).map((sentence) => element("p", { class: "unconfirmed" }, sentence)),
    formula?.holds_when ? element("p", {}, element("strong", {}, say("working.holds_when")), ` ${formula.holds_when}`) : null,
    source ? element("p", {}, element("strong", {}, say("working.source")), ` ${source}`) : null,
  ].filter(Boolean);
}

function allOutputs(working) {
  const outputs = Object.entries(working.outputs ?? {}).filter(([, output]) => !output.rows);
  if (working.cannot_tell || outputs.length <= IN_SUMMARY) return null;
  return element("dl", { class: "terms" }, ...outputs.map(([name, output]) => element("div", {},
    element("dt", {}, plain(name)), element("dd", {}, output.text))));
}

function stations(working, limits) {
  const rows = working.outputs?.stations?.rows;
  if (working.cannot_tell || !rows?.[0]?.from_start) return null;
  const unit = rows[0].from_start.unit;
  return tensionPlot(working, limits.find((limit) => limit.unit === unit) ?? null);
}

function origin(input, job) {
  const words = [say(`working.from_${input.from}`), input.from === "library" ? null : input.where, input.from === "table" ? say(`working.basis_${input.basis}`) : null, sourceText(input.source, job)];
  return words.filter(Boolean).join(" · ");
}

/** A source by its title; what is no key of the list is the formula's own sentence. */
function sourceText(source, job) {
  if (!source) return null;
  const key = source.split(":")[0];
  return key in job.sources ? source.replace(key, job.sources[key].title) : source;
}
