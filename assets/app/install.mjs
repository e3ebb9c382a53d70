/** Whether this phone can open every page without signal, keep its record, and take new sheets. */

import { element } from "./element.mjs";
import { notice } from "./needed.mjs";
import { say } from "./words.mjs";

/**
 * @param {{navigator: Navigator, site: URL, hand: import("./job-in-hand.mjs").JobInHand, reload: () => void}} given
 * @returns {{offline: () => string, kept: () => Promise<"kept_yes"|"kept_no"|"kept_unknown">, onHomeScreen: () => boolean, watch: (watcher: () => void) => void}}
 */
export function installation({ navigator, site, hand, reload }) {
  const worker = navigator.serviceWorker;
  const watchers = [];
  let state = "offline_not";
  let kept = null;
  const settle = (next) => {
    state = next;
    for (const watcher of watchers) watcher();
  };

  worker.register(workerAddress(site), { scope: site.pathname }).then((registration) => {
    if (registration.active) settle("offline_ready");
    if (registration.waiting) offerNewSheets(registration.waiting, hand, worker, reload);
    follow(registration.installing);
    registration.addEventListener("updatefound", () => follow(registration.installing));

    function follow(installing) {
      installing?.addEventListener("statechange", () => {
        if (installing.state === "activated") settle("offline_ready");
        if (installing.state === "redundant" && !registration.active) settle("offline_failed");
        if (installing.state === "installed" && registration.active) offerNewSheets(installing, hand, worker, reload);
      });
    }
    if (worker.controller) tellIfGoneBack(site);
  }, () => worker.getRegistration(site).then((known) => settle(known?.active ? "offline_ready" : "offline_failed")));

  return {
    offline: () => say(`phone.${state}`),
    kept: () => {
      // Asked when there is something to keep: a question out of nowhere is refused, and then for good.
      if (hand.record.device === null) return keptByBrowser(navigator, "persisted");
      return kept ??= keptByBrowser(navigator, "persist");
    },
    onHomeScreen: () => matchMedia("(display-mode: standalone)").matches,
    watch: (watcher) => watchers.push(watcher),
  };
}

/** Whether the record is kept, as the browser really answers, in the name of the words that say so. */
async function keptByBrowser(navigator, question) {
  try {
    return await navigator.storage[question]() ? "kept_yes" : "kept_no";
  } catch {
    return "kept_unknown";
  }
}

/** The one address of a script that the app ever hands over, made where the page's policy allows it. */
function workerAddress(site) {
  const { href } = new URL("service-worker.js", site);
  const policy = globalThis.trustedTypes?.createPolicy("pitslate", { createScriptURL: () => href });
  return policy ? policy.createScriptURL("") : href;
}

/** A build that did not start twice has been put aside for the one before it: that is said until another is taken. */
async function tellIfGoneBack(site) {
  const answer = await fetch(new URL("builds/ledger.json", site));
  const { builds, serving } = await answer.json();
  const last = builds.at(-1);
  if (last !== serving) notice(say("new_sheets.gone_back"), say("new_sheets.gone_back_now", { failed: last, build: serving }));
}

/** New sheets wait until somebody takes them, and never come in over an answer that is not saved. */
function offerNewSheets(waiting, hand, worker, reload) {
  const inHand = hand.progress?.sheets()
    .filter((sheet) => !["not-started", "closed", "rests"].includes(sheet.state)).map((sheet) => hand.sheetTitle(sheet.sheet)) ?? [];
  const refused = element("p", { role: "status" });
  const take = element("button", {
    type: "button", class: "act",
    click: () => {
      if (hand.unsaved.size > 0) {
        refused.textContent = say("new_sheets.unsaved");
        return;
      }
      worker.addEventListener("controllerchange", reload, { once: true });
      waiting.postMessage("take");
    },
  }, say("new_sheets.take"));
  notice(say("new_sheets.ready"), inHand.length > 0 ? say("new_sheets.in_hand", { sheets: inHand.join(", ") }) : null, take, refused);
}
