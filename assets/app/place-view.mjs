/** The sheets by where they are worked: trench, run with its joints, supply, isolation point. */

import { element } from "./element.mjs";
import { plain, say } from "./words.mjs";

const KINDS = ["site", "trench", "run", "placement", "supply", "isolation"];

/**
 * The empty places, to be filled with the branches of the page; a joint's lie within its run's.
 * @param {Object} job job.json @returns {HTMLElement[]}
 */
export function placeView(job) {
  const worked = new Set(job.sheets.map(({ kind, item }) => `${kind} ${item}`));
  const items = Object.entries(job.items).flatMap(([kind, named]) => Object.keys(named).map((item) => ({ kind, item })))
    .filter(({ kind, item }) => worked.has(`${kind} ${item}`));
  const runOf = ({ kind, item }) => job.items[kind][item].values.run?.ref?.[1];
  const within = (place) => items.filter((one) => place.kind === "run" && one.kind !== "run" && runOf(one) === place.item);
  const inner = new Set(items.filter(({ kind }) => kind === "run").flatMap(within));
  const kinds = [...KINDS, ...Object.keys(job.items).filter((kind) => !KINDS.includes(kind))];
  return kinds.flatMap((kind) => {
    const places = items.filter((one) => one.kind === kind && !inner.has(one));
    return places.length === 0 ? [] : [element("h2", { class: "kind" }, say(`place.${kind}`)),
      ...places.map((place) => placeNode(place, within(place), job))];
  });
}

function placeNode({ kind, item }, inner, job) {
  return element("details", { class: "stage" },
    element("summary", { class: "pit" }, element("span", { class: "lid", "aria-hidden": "true" }),
      element("h3", {}, tagged(kind, item, job)), element("span", { class: "stage-state", "data-part": "stage-state" })),
    element("div", { class: "spur" }, element("p", { class: "note" }, where(kind, item, job)), list(kind, item)),
    ...inner.map((one) => element("section", { class: "spur" },
      element("h4", {}, tagged(one.kind, one.item, job)), element("p", { class: "note" }, where(one.kind, one.item, job)), list(one.kind, one.item))));
}

function tagged(kind, item, job) {
  return element("span", {}, element("span", { class: "tag" }, item), ` ${job.items[kind][item].title}`);
}

function list(kind, item) {
  return element("ol", { "data-place": `${kind}/${item}` });
}

function where(kind, item, job) {
  const { trench, end, where: place } = job.items[kind][item].values;
  if (trench?.ref) return say("place.in_trench", { trench: trench.ref[1] });
  if (end) return say("place.at_end", { end: plain(end) });
  return typeof place === "string" ? place : "";
}
