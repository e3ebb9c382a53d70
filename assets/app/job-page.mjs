/** The whole job: every sheet as a branch of the main conduit, the snags, the record and the phone. */

import { all, element, mark, part } from "./element.mjs";
import { placeOf } from "./blocks.mjs";
import { Finding } from "./finding.mjs";
import { keepingFocus } from "./focus.mjs";
import { locksOn } from "./lock-asks.mjs";
import { isOver } from "./over.mjs";
import { photoStrip } from "./photos.mjs";
import { byLine } from "./said.mjs";
import { downloadFile, openSending, saveBackup, showSent, unsent } from "./send.mjs";
import { finished, openSnags, sheetWords } from "./sheet-words.mjs";
import { siteTally } from "./site-page.mjs";
import { waitsFor } from "./snags.mjs";
import { switchLight } from "./switch-light.mjs";
import { say } from "./words.mjs";

/**
 * @param {import("./job-in-hand.mjs").JobInHand} hand
 * @param {Object} phone from `installation`
 */
export function openJobPage(hand, phone) {
  const show = () => keepingFocus(() => {
    const sheets = hand.progress.sheets();
    for (const sheet of sheets) showBranch(sheet, hand);
    for (const stage of all(document, ".stage")) showStage(stage);
    finding.show();
    showTally(sheets, hand);
    showLocks(hand);
    part(document, "site-tally").textContent = siteTally(hand);
    showSnags(sheets, hand);
    showSent(hand);
    showPhone(hand, phone);
    showNext(sheets, hand);
  });
  const finding = new Finding(hand, () => {
    show();
    foldAway();
  });
  openSending(hand, { navigator, download: downloadFile });
  part(document, "person").onclick = () => hand.askPerson();
  part(document, "light").onclick = switchLight;
  switchUnits(part(document, "units"), hand);
  phone.watch(() => showPhone(hand, phone));
  hand.watch(show);
  show();
  foldAway();
}

/** The button that puts feet and pounds beside the metric quantities, or takes them away. */
function switchUnits(button, hand) {
  button.textContent = say(hand.customary ? "phone.to_metric" : "phone.to_customary");
  button.onclick = () => {
    hand.keep.set("units", hand.customary ? "metric" : "customary");
    location.reload();
  };
}

/** Opens the pits where work is going on, or else the first with work left, and shuts the others. */
function foldAway() {
  const stages = all(document, ".stage").filter((stage) => stage.checkVisibility());
  const busy = stages.filter((stage) => stage.querySelector(".branch[data-state=in-hand], .branch[data-state=held], .branch[data-state=worked]"));
  const open = busy.length > 0 ? busy : stages.filter((stage) => !("laid" in stage.dataset)).slice(0, 1);
  for (const stage of stages) stage.open = open.includes(stage);
}

function showBranch(sheet, hand) {
  const [branch] = all(document, `[data-sheet="${CSS.escape(sheet.sheet)}"]`);
  branch.dataset.state = sheet.state;
  part(branch, "state").textContent = sheetWords(sheet);
  let beyond = false;
  const lengths = all(branch, ".length i");
  Object.entries(sheet.steps).forEach(([name, { state }], at) => {
    lengths[at].hidden = state === "not-applying";
    mark(lengths[at], "done", !beyond && finished(sheet, name));
    mark(lengths[at], "beyond", beyond);
    beyond ||= name in sheet.holds && state !== "not-applying" && !sheet.holds[name].in_force;
  });
}

function showStage(stage) {
  const branches = all(stage, ".branch");
  const closed = branches.filter((branch) => isOver(branch.dataset.state)).length;
  mark(stage, "laid", closed === branches.length);
  part(stage, "stage-state").textContent = say("job.tally", { closed, all: branches.length });
}

function showTally(sheets, hand) {
  const open = sheets.flatMap(openSnags).length;
  const held = sheets.filter((sheet) => sheet.state === "held").length;
  part(document, "tally").replaceChildren(
    element("span", {}, say("job.tally", { closed: sheets.filter((sheet) => isOver(sheet.state)).length, all: sheets.length })),
    ...(held > 0 ? [element("span", {}, say("job.tally_held", { count: held }))] : []),
    ...(open > 0 ? [element("span", {}, say("job.tally_snags", { count: open }))] : []),
    ...(unsent(hand) > 0 ? [element("span", {}, say("job.tally_unsent", { count: unsent(hand) }))] : []));
}

function showLocks(hand) {
  const on = locksOn(hand);
  const shown = part(document, "locks-tally");
  if (shown) shown.textContent = on.length === 0 ? say("locks.none_on") : say("locks.tally", { count: on.length });
}

function showSnags(sheets, hand) {
  const open = sheets.flatMap((sheet) => openSnags(sheet).map((snag) => [sheet, snag]));
  part(document, "snags").replaceChildren(...(open.length === 0 ? [element("p", {}, say("snag.none"))] : open.map(([sheet, { entry }]) =>
    element("div", { class: "snag" }, element("p", {}, entry.value), waitsFor(entry), element("p", {}, byLine(entry, hand)),
      ...photoStrip(sheet.photos.filter(({ about }) => about[0] === entry.id), hand),
      element("a", { class: "plain-act quiet", href: placeOf({ sheet: sheet.sheet, step: entry.step }, hand) }, hand.sheetTitle(sheet.sheet))))));
}

async function showPhone(hand, phone) {
  const fact = (term, ...said) => element("div", {}, element("dt", {}, say(term)), element("dd", {}, ...said));
  const person = hand.person;
  part(document, "crew").replaceChildren(...(person ? [say("who.shown", { name: person.name, role: say(`roles.${person.role}`) })] : []));
  const kept = await phone.kept();
  part(document, "phone").replaceChildren(
    ...(hand.record.device ? [fact("phone.name", hand.record.device.name)] : []),
    fact("phone.offline", phone.offline()),
    fact("phone.kept", say(`phone.${kept}`),
      kept === "kept_yes" || hand.entries.length === 0 ? null : element("button", { type: "button", click: () => saveBackup(hand) }, say("phone.backup"))),
    ...(phone.onHomeScreen() ? [] : [fact("phone.home_screen", say("phone.home"))]),
    fact("phone.entries", `${hand.entries.length} · ${hand.head()}`),
    fact("phone.build", say("phone.build_is", { build: hand.build })));
}

function showNext(sheets, hand) {
  const order = { "in-hand": 0, "not-started": 1, worked: 0, held: 2, closed: 3 };
  const last = hand.keep.get("last");
  const next = sheets.find((sheet) => sheet.sheet === last && order[sheet.state] === 0)
    ?? sheets.filter((sheet) => !isOver(sheet.state)).sort((a, b) => order[a.state] - order[b.state])[0];
  const button = part(document, "next");
  part(document, "bar").hidden = hand.person !== null && next === undefined;
  if (hand.person === null) {
    button.replaceChildren(element("span", { class: "verb" }, say("who.ask")));
    button.onclick = () => hand.askPerson();
  } else if (next) {
    button.replaceChildren(element("span", { class: "verb" }, say("job.open_next")), element("span", { class: "about" }, hand.sheetTitle(next.sheet)));
    button.onclick = () => location.assign(placeOf({ sheet: next.sheet, step: null }, hand));
  }
}
