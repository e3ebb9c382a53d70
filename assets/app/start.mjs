/** Opens a page: the one place that meets the browser's own clock, keys, stores and network. */

import { installation } from "./install.mjs";
import { JobInHand } from "./job-in-hand.mjs";
import { openJobPage } from "./job-page.mjs";
import { Keep } from "./keep.mjs";
import { openLocksPage } from "./locks-page.mjs";
import { missingHere, notice, showMissing } from "./needed.mjs";
import { openSheetPage, showSheetHead } from "./sheet-page.mjs";
import { openRecord } from "./store.mjs";
import { say, useWords } from "./words.mjs";

const { build, root } = document.documentElement.dataset;
const site = new URL(root || "./", location.href);
const fetched = (path) => fetch(new URL(path, site)).then((response) => response.json());

const [job, words, built] = await Promise.all(["job.json", "words.json", "build.json"].map(fetched));
useWords(words);

const page = document.body.dataset.page;
const keep = new Keep(() => localStorage, job.job.name);
const missing = missingHere(globalThis);

if (built.build !== build) {
  loadAgain();
} else if (missing.length > 0) {
  showMissing(missing);
  if (page === "sheet") showSheetHead(job, location);
} else if (!reopensLastSheet()) {
  await openPage();
}

async function openPage() {
  const clock = () => new Date();
  try {
    const surroundings = { indexedDB, subtle: crypto.subtle, locks: navigator.locks, clock };
    const record = await openRecord(surroundings, job, build);
    const hand = new JobInHand({ job, build, record, keep, clock, site });
    if (record.lost) notice(say("phone.lost"), record.lost.say);
    const phone = installation({ navigator, site, hand, reload: () => location.reload() });
    await hand.refresh();
    if (page === "job") openJobPage(hand, phone);
    else if (page === "locks") openLocksPage(hand);
    else openSheetPage(hand);
    // Another page of this phone may have added to the record while this one was out of sight.
    const again = () => document.visibilityState === "visible" && hand.refresh();
    document.addEventListener("visibilitychange", again);
    addEventListener("pageshow", (event) => event.persisted && again());
  } catch (problem) {
    notice(say("saved.not_opened"), problem.message);
    throw problem;
  }
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
  location.replace(new URL(`tasks/${sheet.task}.html#${encodeURIComponent(sheet.item)}`, site));
  return true;
}
