/** How a working came out, read as in a notebook: the sum, its limits, what each number is, and where it comes from. */

import { element } from "./element.mjs";
import { alike } from "./mathematics.mjs";
import { fromSi } from "./quantity.mjs";
import { tensionPlot } from "./tension-plot.mjs";
import { mustBe } from "./verdict.mjs";
import { plain, say, unbroken } from "./words.mjs";

/** How many results are listed before the rest is folded away. */
const IN_VIEW = 3;
/** What a plot tells already. */
const ON_PLOT = ["tension_from_start", "tension_from_end", "better_feed", "tension"];

/**
 * @param {import("./environment.mjs").Working} working @param {import("./progress.mjs").SheetState} sheet
 * @param {Object} page
 * @returns {HTMLElement[]}
 */
export function workedOut(working, sheet, page) {
  const { job } = page.hand;
  const signature = job.formulas[working.formula];
  const plot = plotOf(working, sheet);
  const [results, rest] = listed(working, signature, plot !== null);
  const source = sourceText(working.source, job);
  return [
    plot,
    sum(working, signature),
    results.length > 0 ? element("dl", { class: "terms results" }, ...results) : null,
    limits(working, sheet),
    ...working.unconfirmed.map((sentence) => element("p", { class: "unconfirmed" }, sentence)),
    standing(working),
    working.inputs.length > 0 ? element("dl", { class: "terms" }, ...working.inputs.map((input) => term(input.symbol, input.name, input.text, say(`working.from_${input.from}`)))) : null,
    source ? element("p", {}, element("strong", {}, say("working.source")), ` ${source}`) : null,
    element("details", { class: "rest" }, element("summary", {}, say("working.rest")),
      rest.length > 0 ? element("dl", { class: "terms results" }, ...rest) : null,
      element("p", {}, element("strong", {}, say("working.holds_when")), ` `, element("span", { lang: "en" }, signature.holds_when)),
      element("ul", { class: "origins" }, ...working.inputs.map((input) => element("li", {}, element("strong", {}, plain(input.name)), ` ${origin(input, job)}`)))),
  ].filter(Boolean);
}

function plotOf(working, sheet) {
  if (working.cannot_tell || !working.outputs.stations?.rows[0]?.from_start) return null;
  const { limit, reason } = pullAllowed(working, sheet.environment);
  const figure = tensionPlot(working, { limit, measured: sheet.measured, width: lettersAcross() });
  if (reason) figure.append(element("p", {}, say("plot.limit_unknown", { reason })));
  return figure;
}

/** The pull that is allowed on this sheet: what an acceptance holds the route against, else the working that gives it. */
function pullAllowed(working, environment) {
  const held = limitsOn(working, environment).find(({ limit }) => limit.op.startsWith("<") && limit.workings[0] === working.name);
  if (held) return { limit: held.limit.si };
  const name = Object.keys(environment.task.workings).find((one) => environment.task.workings[one].formula === "allowed_tension");
  if (!name) return { limit: null };
  const { outputs, cannot_tell: reason } = environment.working(name);
  return { limit: reason ? null : outputs.tension.si, reason };
}

/** Every limit of the sheet in which a working has a part, with what its step says. */
function limitsOn(working, environment) {
  return environment.task.steps.flatMap(({ name, accept }) => {
    const { limits, verdict } = accept ? environment.step(name) : { limits: [], verdict: null };
    return limits.filter(({ workings }) => workings.includes(working.name)).map((limit) => ({ limit, verdict }));
  });
}

/** How many letters of the plot lie side by side: as many as the page has room for at the reader's own text size. */
export function lettersAcross() {
  const letter = Number.parseFloat(getComputedStyle(document.documentElement).fontSize) * 0.8;
  return Math.min(42, Math.max(18, Math.floor((document.documentElement.clientWidth - 64) / letter)));
}

/** The formula's lines, each with its numbers and its result under it, equals signs in one column. */
function sum(working, signature) {
  if (working.lines.length === 0) return null;
  const row = (left, right, kind, under = null) => [element("span", { class: "left" }, `${left} `), element("span", { class: kind }, unbroken(right), " ", under && element("small", {}, under))];
  return element("div", { class: "formula" }, ...working.lines.flatMap((line) => {
    const at = line.indexOf(" = ");
    if (at < 0) return row("", line, "right");
    const left = line.slice(0, at);
    const numbers = working.numbers.find((one) => one.startsWith(`${left} = `));
    const part = signature.gives.find(({ symbol }) => symbol === left);
    const output = part && numbers && working.outputs[part.name];
    return [...row(left, line.slice(at + 1), "right"), ...(numbers ? row("", numbers.slice(at + 1), "right") : []),
      ...(output ? row("", `= ${output.text}`, "right comes-to", rounded(output, part, true)) : [])];
  }));
}

/** In which direction a result was rounded, where that moved it; what is counted was made whole by its formula. */
function rounded(output, { side, figures }, summed = false) {
  if (side === "nearest" || (!(summed && figures === 0) && alike(Number.parseFloat(output.text.replace("−", "-").replace(",", ".")), fromSi(output.si, output.unit)))) return "";
  return say(`working.rounded_${side}`);
}

/** Results that no line of the formula comes to: first those to see, then those that can stay folded away. */
function listed(working, signature, onPlot) {
  const lefts = working.numbers.map((line) => line.split(" = ")[0]);
  const open = [];
  const rest = [];
  for (const part of signature.gives) {
    const output = working.outputs[part.name];
    if (!output || output.rows || lefts.includes(part.symbol) || (onPlot && ON_PLOT.includes(part.name))) continue;
    // A word that calls for something is never folded away.
    const calls = onPlot ? output.word && !output.word.startsWith("not_") : open.length < IN_VIEW;
    (calls ? open : rest).push(term(part.symbol ?? "", part.name, output.text, part.side ? rounded(output, part) : ""));
  }
  return [open, rest];
}

function limits(working, sheet) {
  const found = limitsOn(working, sheet.environment);
  if (found.length === 0) return null;
  return element("dl", { class: "limits" }, ...found.map(({ limit, verdict }) => element("div", { "data-met": String(limit.met) },
    element("dt", {}, unbroken([limit.what, limit.found].filter(Boolean).join(" ")), ": ", unbroken(mustBe(limit))),
    element("dd", {}, room(limit, verdict)))));
}

/** The room to a limit; nothing is in hand where the step itself can't tell. */
function room(limit, verdict) {
  if (limit.met === null) return say("working.not_read");
  if (verdict === "cant-tell") return say("step.cant_tell");
  return limit.margin_share ?? limit.margin_text ?? say(limit.met ? "step.within" : "step.outside");
}

/** One line of a list, number and unit in columns of their own. */
function term(symbol, name, text, under) {
  const [, metric, other] = /^(.*?)(?: \((.*)\))?$/.exec(text);
  const numbers = [metric, other].map((one) => /^(−?[\d.,]+)(°| (?!listed).*)?$/.exec(one ?? "")).filter(Boolean);
  return element("div", { class: numbers.length > 1 && "twice" },
    element("dt", {}, element("i", {}, symbol && `${symbol} `), element("span", {}, `${plain(name)} `, under ? element("small", {}, under) : null)),
    ...numbers.flatMap(([, number, unit]) => [element("dd", { class: "number" }, `${number} `), element("dd", { class: "unit-of" }, (unit ?? "").trim())]),
    numbers.length > 0 ? null : element("dd", { class: "word" }, text));
}

/** On what a working stands, with what is to be known about that; that something was derived says its source. */
function standing({ stands, basis }) {
  if (!["memory", "practice", "agreed"].includes(basis)) return null;
  return element("p", {}, element("strong", {}, say("working.stands")), " ", say(`working.stands_${stands}`), " · ", onBasis(basis));
}

/** A basis in words, where it is to be known; a publication names itself. */
function onBasis(basis) {
  return ["memory", "practice", "derived", "agreed"].includes(basis) ? say(`working.basis_${basis}`) : null;
}

function origin(input, job) {
  const words = [say(`working.from_${input.from}`), input.from === "library" ? null : input.where,
    input.from === "overlay" ? null : onBasis(input.basis), sourceText(input.source, job)];
  return words.filter(Boolean).join(" · ");
}

/** A source by its title; what is no key of the list is the formula's own sentence. */
function sourceText(source, job) {
  if (!source) return null;
  const key = source.split(":")[0];
  return key in job.sources ? source.replace(key, job.sources[key].title) : source;
}
