/** Opens a page: the one place that meets the browser's own clock, keys, stores and network. */

import { begunWith, buildsInHand } from "./begun.mjs";
import { standsBehind } from "./clock-marks.mjs";
import { readInCustomary } from "./customary.mjs";
import { part } from "./element.mjs";
import { installation } from "./install.mjs";
import { JobInHand } from "./job-in-hand.mjs";
import { openJobPage } from "./job-page.mjs";
import { Keep } from "./keep.mjs";
import { openLocksPage } from "./locks-page.mjs";
import { missingHere, notice, showMissing } from "./needed.mjs";
import { openPullPage } from "./pull-page.mjs";
import { openSheetPage, sheetAt, showSheetHead } from "./sheet-page.mjs";
import { showCustomary } from "./showing.mjs";
import { NotSaved, openRecord } from "./store.mjs";
import { openSitePage } from "./site-page.mjs";
import { say, useWords } from "./words.mjs";

const { build, root } = document.documentElement.dataset;
const own = new URL(root || "./", location.href);
// A page of an earlier build lies in builds/STAMP/ of the site; everything that isn't this sheet is outside.
const site = new URL(own.href.replace(/builds\/[0-9a-f]{12}\/$/, ""));

// Asked for by early.js.
const [job, words, built] = await /** @type {any} */ (globalThis).pitslateData;
useWords(words, job.names);

const page = document.body.dataset.page;
const keep = new Keep(() => localStorage, job.job.name);
const missing = missingHere(globalThis);

if (built.build !== build) {
  loadAgain();
} else if (missing.length > 0) {
  showMissing(missing);
  if (page === "sheet" || page === "pull") showSheetHead(job, location);
} else if (!reopensLastSheet()) {
  await openPage();
}
started();

async function openPage() {
  const clock = () => new Date();
  try {
    // Pages of one phone tell each other what they wrote.
    const pages = new BroadcastChannel(`pitslate-record-${job.job.name}`);
    const surroundings = {
      indexedDB, subtle: crypto.subtle, locks: navigator.locks, clock, known: keep.get("known"),
      written: () => pages.postMessage(build),
    };
    const record = await openRecord(surroundings, job, build);
    const hand = new JobInHand({ job, build, record, keep, clock, site, earlier: own.href !== site.href });
    if (record.lost) notice(say("phone.lost"), record.lost.say);
    const phone = installation({ navigator, site, hand, reload: () => location.reload() });
    showCustomary(hand.customary);
    await Promise.all([hand.drafts.open(), hand.refresh()]);
    if (hand.customary) readInCustomary(document.body);
    pages.onmessage = () => record.look().then(() => hand.refresh());
    const last = hand.entries.findLast((entry) => entry.dev === record.device?.dev);
    if (standsBehind(last, clock())) notice(say("phone.clock_back"), say("phone.clock_back_now", { time: last.at.slice(0, 16).replace("T", " ") }));
    if (await goesOnAsBegun(hand)) return;
    if (page === "job") {
      openJobPage(hand, phone);
      navigator.serviceWorker.controller?.postMessage({ inHand: buildsInHand(hand.entries, record.device?.dev) });
    } else if (page === "locks") openLocksPage(hand);
    else if (page === "pull") openPullPage(hand, navigator.wakeLock);
    else if (page === "site") openSitePage(hand);
    else openSheetPage(hand);
    // Once the page has come to rest; the next start is the quicker for it.
    setTimeout(() => record.digest(hand.entries).catch(() => {}), 5000);
    // Another page of this phone may have added to the record while this one was out of sight.
    const again = () => document.visibilityState === "visible" && hand.refresh();
    document.addEventListener("visibilitychange", again);
    addEventListener("pageshow", (event) => event.persisted && again());
  } catch (problem) {
    notice(say("saved.not_opened"), problem.message);
    // A storage that does not answer is no fault of this build; anything else is.
    if (!(problem instanceof NotSaved)) throw problem;
  }
}

/** A sheet in hand is finished under the build that it was begun with, while that is on this phone. */
async function goesOnAsBegun(hand) {
  const sheet = (page === "sheet" || page === "pull") && !hand.earlier ? sheetAt(job, location) : null;
  const begun = sheet && begunWith(hand.entries.filter((entry) => entry.sheet === sheet.id), hand.record.device?.dev);
  if (!begun || begun === build) return false;
  if (!await hand.record.writable(begun) || !await caches.has(`pitslate-${begun}`)) return false;
  const folder = page === "pull" ? "pull-day" : "tasks";
  location.replace(new URL(`builds/${begun}/${folder}/${sheet.task}.html${location.hash}`, site));
  return true;
}

/** The worker keeps this build from now on; see early.js for one that never gets here. */
function started() {
  document.documentElement.dataset.started = "";
  part(document, "not-started").hidden = true;
  navigator.serviceWorker?.controller?.postMessage({ started: build });
}

/** New sheets were taken between this page and its data: both are loaded again, and then they agree. */
function loadAgain() {
  if (sessionStorage.getItem("pitslate-again") === built.build) {
    notice(say("new_sheets.mixed"), say("new_sheets.mixed_now"));
    return;
  }
  sessionStorage.setItem("pitslate-again", built.build);
  location.reload();
}

/** A cold start goes back to the sheet last worked; after that, the whole job is where its link leads. */
function reopensLastSheet() {
  const warm = sessionStorage.getItem("pitslate-warm") !== null;
  sessionStorage.setItem("pitslate-warm", "");
  const last = keep.get("last");
  const sheet = job.sheets.find((one) => one.id === last);
  if (warm || page !== "job" || !sheet) return false;
  // A pull that was being watched is watched again.
  const folder = keep.get("watched") === last && job.tasks[sheet.task].pull_day ? "pull-day" : "tasks";
  location.replace(new URL(`${folder}/${sheet.task}.html#${encodeURIComponent(sheet.item)}`, site));
  return true;
}
