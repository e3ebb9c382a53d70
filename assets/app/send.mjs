/** The record leaves this phone, or another phone's comes in. Nothing here takes anything away. */

import { element, part } from "./element.mjs";
import { MOST_CHARACTERS, parseRecord, Refused } from "./record-file.mjs";
import { moment, say } from "./words.mjs";

/**
 * The ways to hand over a file, the best first: the share sheet with the record as `.json`, the same as `.txt`
 * where the phone refuses `.json`, the phone's downloads, and last the clipboard.
 * @param {{text: string, name: string}} record
 * @param {{navigator: Navigator, download: (file: File) => void}} phone
 * @returns {Promise<"shared"|"cancelled"|"downloaded"|"copied">}
 */
export async function handOver({ text, name }, { navigator, download }) {
  const files = [
    new File([text], name, { type: "application/json" }),
    new File([text], name.replace(/\.json$/, ".txt"), { type: "text/plain" }),
  ];
  for (const file of files) {
    if (!navigator.canShare?.({ files: [file] })) continue;
    try {
      await navigator.share({ files: [file] });
      return "shared";
    } catch (problem) {
      if (problem.name === "AbortError") return "cancelled";
      // Refused for its type, or the phone took too long over the tap: the next way is tried.
    }
  }
  try {
    download(files[0]);
    return "downloaded";
  } catch {
    await navigator.clipboard.writeText(text);
    return "copied";
  }
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
  const show = (...sentences) => result.replaceChildren(...sentences.map((sentence) => element("p", {}, sentence)));

  part(document, "send").onclick = async () => {
    if (hand.entries.length === 0) return show(say("send.nothing"));
    try {
      const record = await hand.record.export();
      const way = await handOver(record, phone);
      if (way !== "cancelled") hand.keep.set("sent", { at: hand.now(), entries: hand.entries.length });
      show(say(`send.${way}`, { name: record.name }));
      if (way === "downloaded") result.append(copyButton(record, phone, show));
    } catch (problem) {
      show(say("send.failed", { reason: problem.message }));
    }
    await hand.refresh();
  };

  part(document, "load").onchange = async ({ target }) => {
    const told = [];
    for (const file of target.files) told.push(...await load(file, hand));
    target.value = "";
    show(...told);
    await hand.refresh();
  };
}

/** @returns {Promise<string[]>} what came of one file, in sentences */
async function load(file, hand) {
  try {
    if (file.size > 4 * MOST_CHARACTERS) throw new Refused(say("send.too_large"));
    const { verdicts, remarks } = await hand.record.bring(parseRecord(await file.text(), hand.job.job.name));
    const counts = new Map();
    for (const { verdict } of verdicts) counts.set(verdict, (counts.get(verdict) ?? 0) + 1);
    const words = [...counts].map(([verdict, count]) => say(`verdicts.${verdict}`, { count }));
    const reasons = new Set(verdicts.map(({ reason }) => reason).filter(Boolean));
    return [say("send.loaded", { name: file.name, verdicts: words.join(", ") }), ...remarks, ...reasons];
  } catch (problem) {
    return [say("send.refused", { name: file.name, reason: problem.message })];
  }
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
