/** The record leaves this phone, or another phone's comes in. Nothing here takes anything away. */

import { placeOf } from "./blocks.mjs";
import { element, part } from "./element.mjs";
import { MOST_CHARACTERS, parseRecord, Refused } from "./record-file.mjs";
import { byLine } from "./said.mjs";
import { moment, say, translated, unmarked } from "./words.mjs";

/**
 * The ways to hand over files, the best first: the share sheet, as `.txt`, which every phone lets through where many
 * refuse `.json`; the phone's downloads and last the clipboard, which take one file at a tap.
 * @param {{text: string, name: string}[]} files
 * @param {{navigator: Navigator, download: (file: File) => void}} phone
 * @returns {Promise<"shared"|"cancelled"|"ready"|"downloaded"|"copied">} ready: made, but it needs another tap to leave
 */
export async function handOver(files, { navigator, download }) {
  const shared = { files: files.map(({ text, name }) => new File([text], name.replace(/\.json$/, ".txt"), { type: "text/plain" })) };
  if (navigator.canShare?.(shared)) {
    // Making many photos ready may outlast what the browser takes for a tap.
    if (navigator.userActivation?.isActive === false) return "ready";
    try {
      await navigator.share(shared);
      return "shared";
    } catch (problem) {
      if (problem.name === "AbortError") return "cancelled";
      // Refused for its type or its size: the next way is tried.
    }
  }
  try {
    download(asFile(files[0]));
    return "downloaded";
  } catch {
    await navigator.clipboard.writeText(files[0].text);
    return "copied";
  }
}

function asFile({ text, name }) {
  return new File([text], name, { type: "application/json" });
}

/** Saves a file to the phone's downloads. */
export function downloadFile(file) {
  const address = URL.createObjectURL(file);
  const link = element("a", { href: address, download: file.name, hidden: true });
  document.body.append(link);
  link.click();
  link.remove();
  // The browser reads the address after the click; a minute is long enough for the slowest phone.
  setTimeout(() => URL.revokeObjectURL(address), 60000);
}

/** A copy of the record beside the browser's own store, for the day when that is cleared. It counts as nothing sent. */
export async function saveBackup(hand) {
  const { text, name } = await hand.record.export();
  downloadFile(new File([text], name, { type: "application/json" }));
}

/** @param {import("./job-in-hand.mjs").JobInHand} hand @param {Object} phone as for handOver */
export function openSending(hand, phone) {
  const result = part(document, "send-result");
  const show = (...lines) => result.replaceChildren(...lines.map((line) => (typeof line === "string" ? element("p", {}, line) : line)));

  const leave = async (files) => {
    try {
      const way = await handOver(files, phone);
      show(say(`send.${way}`, { name: files[0].name }));
      if (way === "ready") return result.append(element("button", { type: "button", class: "act", click: () => leave(files) }, say("send.now")));
      if (way !== "cancelled") hand.keep.set("sent", { at: hand.now(), entries: hand.entries.length });
      if (way === "downloaded") result.append(...moreFiles(files.slice(1), phone), copyButton(files[0], phone, show));
      if (way === "copied") result.append(...moreFiles(files.slice(1), phone));
    } catch (problem) {
      show(say("send.failed", { reason: problem.message }));
    }
    await hand.refresh();
  };

  part(document, "send").onclick = async () => {
    if (hand.entries.length === 0) return show(say("send.nothing"));
    try {
      const files = [];
      for await (const file of hand.record.exported()) files.push(file);
      await leave(files);
    } catch (problem) {
      show(say("send.failed", { reason: problem.message }));
    }
  };

  part(document, "load").onchange = async ({ target }) => {
    const told = [];
    let missing = [];
    for (const file of target.files) {
      const came = await load(file, hand);
      told.push(...came.told);
      missing = came.missing ?? missing;
    }
    target.value = "";
    await hand.refresh();
    show(...told, ...missingPhotos(missing, hand), ...stillDiffering(hand));
  };
}

/** @returns {Promise<{told: string[], missing?: import("./payload.mjs").Said[]}>} what came of one file, in sentences */
async function load(file, hand) {
  try {
    if (file.size > 4 * MOST_CHARACTERS) throw new Refused(say("send.too_large"));
    const { verdicts, remarks, photos } = await hand.record.bring(parseRecord(await file.text(), hand.job.job.name));
    const counts = new Map();
    for (const { verdict } of verdicts) counts.set(verdict, (counts.get(verdict) ?? 0) + 1);
    const words = [...counts].map(([verdict, count]) => say(`verdicts.${verdict}`, { count }));
    if (photos.came > 0) words.push(say("send.photos", { count: photos.came }));
    const reasons = new Set(verdicts.map(({ reason }) => translated(reason)).filter(Boolean));
    const spoiled = [...new Set(photos.reasons)].map((reason) => say("send.photo_refused", { reason: translated(reason) }));
    return {
      told: [say("send.loaded", { name: file.name, verdicts: words.join(", ") || say("send.nothing_new") }), ...remarks, ...reasons, ...spoiled],
      missing: photos.missing,
    };
  } catch (problem) {
    return { told: [say("send.refused", { name: file.name, reason: translated(problem.message) })] };
  }
}

/** Photos that entries name and that are not here: where, by whom and when. */
function missingPhotos(missing, hand) {
  if (missing.length === 0) return [];
  return [say("send.photos_missing", { count: missing.length }), element("ul", { class: "blocks" },
    ...missing.map((entry) => element("li", {}, hand.sheets.has(entry.sheet)
      ? element("a", { href: placeOf(entry, hand) }, `${hand.sheetTitle(entry.sheet)} `, byLine(entry, hand)) : byLine(entry, hand))))];
}

/** Steps at which two phones said different things, each a link to where a named person settles it. */
function stillDiffering(hand) {
  const blocks = hand.progress.sheets().flatMap(({ sheet, steps }) => Object.entries(steps)
    .filter(([, { state, heads }]) => state === "conflict" || (state === "shut" && heads.length > 1)).map(([step]) => ({ sheet, step })));
  if (blocks.length === 0) return [];
  return [say("send.differ", { count: blocks.length }), element("ul", { class: "blocks" }, ...blocks.map((block) => element("li", {},
    element("a", { href: placeOf(block, hand) }, `${hand.sheetTitle(block.sheet)}: ${unmarked(hand.step(hand.sheets.get(block.sheet).task, block.step).say)}`))))];
}

/** A phone's downloads take one file at a tap: a button for each that is left. */
function moreFiles(files, { download }) {
  return files.length === 0 ? [] : [element("p", {}, say("send.more", { count: files.length })), ...files.map((file) => element("button", {
    type: "button", click: ({ target }) => {
      download(asFile(file));
      target.textContent = say("send.more_saved", { name: file.name });
    },
  }, say("send.more_save", { name: file.name })))];
}

function copyButton({ text }, { navigator }, show) {
  return element("button", {
    type: "button",
    click: () => navigator.clipboard.writeText(text).then(
      () => show(say("send.copied")), (problem) => show(say("send.failed", { reason: problem.message }))),
  }, say("send.copy"));
}

/** When this phone last sent, and how much has come since. */
export function showSent(hand) {
  const sent = hand.keep.get("sent");
  part(document, "sent").textContent = sent
    ? say("send.last", { time: moment(sent.at, hand.now()), count: unsent(hand) })
    : say("send.never");
}

/** @returns {number} entries that have come since this phone last sent */
export function unsent(hand) {
  return hand.entries.length - (hand.keep.get("sent")?.entries ?? 0);
}
