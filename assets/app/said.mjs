/** Entries as people read them. */

import { element } from "./element.mjs";
import { units } from "./units.mjs";
import { local, moment, plain, say } from "./words.mjs";

/**
 * What an entry answers, in words.
 * @param {import("./payload.mjs").Said} entry @param {Object} step the step as job.json has it
 * @param {import("./job-in-hand.mjs").JobInHand} hand
 */
export function answerText(entry, step, hand) {
  if (entry.kind === "settle") return answerText(hand.entry(entry.value), step, hand);
  if (entry.kind === "withdraw") return say("step.taken_back", { reason: entry.value });
  if (entry.kind === "release") return say("hold.released_as", { role: say(`roles.${entry.value}`) });
  if (entry.kind === "reading") return step.unit ? `${local(entry.value)} ${shownUnit(entry.unit) ?? units[step.unit].shown}` : step.one_of.length > 0 ? plain(entry.value) : entry.value;
  if (entry.kind === "aside") return say("step.said_aside", { reason: entry.value });
  return say(step.kind === "look" ? "step.said_looked" : "step.said_done");
}

/** How the unit of an entry is shown. @param {string|null} ucum */
function shownUnit(ucum) {
  return Object.values(units).find((unit) => unit.ucum === ucum)?.shown;
}

/** Who said it and when, and on which phone where that isn't this one. */
export function byLine(entry, hand, fresh = false) {
  const phone = hand.phoneName(entry.dev);
  const words = [entry.who, moment(entry.at, hand.now())];
  if (phone !== null) words.push(say("step.on_phone", { phone }));
  if (hand.setBack.has(entry.id)) words.push(say("step.clock_back"));
  if (fresh) words.push(say("saved.saved"));
  return element("span", { class: "by" }, words.join(" · "));
}

/** An answer that stands. */
export function standingAnswer(entry, step, hand, fresh) {
  return element("p", { class: "given" },
    element(entry.kind === "reading" && !step.text ? "b" : "span", { class: "plain" }, answerText(entry, step, hand)), " ",
    byLine(entry, hand, fresh));
}

/**
 * Answers that no longer stand, struck through and never hidden.
 * @param {import("./progress.mjs").StepState} state
 */
export function earlierAnswers({ earlier, heads }, step, hand) {
  const taken = new Map([...earlier, ...heads].filter((one) => one.kind === "withdraw").map((one) => [one.about[0], one]));
  return earlier.filter((one) => ["done", "reading", "aside", "release"].includes(one.kind)).map((one) => {
    const back = taken.get(one.id);
    return element("p", { class: "earlier" },
      element("s", {}, answerText(one, step, hand)), " ", byLine(one, hand), " ",
      back ? `${say("step.taken_back", { reason: back.value })} ` : say("step.replaced"),
      back ? byLine(back, hand) : null);
  });
}
