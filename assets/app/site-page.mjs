/** Who is on site today: arrive, sign on to the briefing, leave. */

import { announce } from "./announce.mjs";
import { ask } from "./ask.mjs";
import { SITE } from "./boards.mjs";
import { element, part } from "./element.mjs";
import { keepingFocus } from "./focus.mjs";
import { askOut } from "./lock-asks.mjs";
import { notice } from "./needed.mjs";
import { byLine } from "./said.mjs";
import { siteDay } from "./site-day.mjs";
import { samePerson } from "./standing.mjs";
import { moment, say } from "./words.mjs";

/** @param {import("./job-in-hand.mjs").JobInHand} hand @returns {import("./site-day.mjs").SiteDay} */
export function today(hand) {
  return siteDay(hand.entries, hand.progress.boards, hand.now().slice(0, 10));
}

/** How the day stands, in one line. @param {import("./job-in-hand.mjs").JobInHand} hand */
export function siteTally(hand) {
  const { here, briefings, unsigned } = today(hand);
  if (here.length === 0) return say("site.nobody");
  const signed = briefings.length === 0 ? say("site.no_briefing")
    : unsigned.length === 0 ? say("site.all_signed") : say("site.unsigned", { count: unsigned.length });
  return `${say("site.here", { count: here.length })} ${signed}`;
}

/** @param {import("./job-in-hand.mjs").JobInHand} hand */
export function openSitePage(hand) {
  const show = () => keepingFocus(() => draw(hand));
  part(document, "arrive").onclick = () => enter(hand, askArrival(hand));
  part(document, "leave").onclick = () => enter(hand, askOut(hand));
  part(document, "brief").onclick = () => enter(hand, askBriefing(hand));
  hand.watch(show);
  show();
}

async function enter(hand, asked) {
  const answer = await asked;
  if (answer === null) return;
  try {
    await hand.tell({ sheet: SITE, step: null, value: "", ...answer.told }, answer.person);
    answer.draft?.keep("");
    announce(say("saved.spoken"));
  } catch (problem) {
    notice(say("saved.failed"), problem.message);
  }
}

async function askArrival(hand) {
  const licence = element("input", { class: "field", type: "text", autocomplete: "off", maxlength: 80 });
  const answer = await ask({
    question: say("site.arrive_ask"), yes: say("site.arrive"), person: hand.person,
    inside: element("label", {}, element("span", { class: "label" }, say("sign.licence")), licence),
    refuse: ({ person: { name } }) => (today(hand).here.some(({ who }) => samePerson(who, name)) ? say("site.is_here", { name }) : null),
  }, hand.people);
  return answer && { told: { kind: "arrived", value: licence.value.trim() }, person: answer.person };
}

async function askBriefing(hand) {
  const draft = hand.drafts.at("briefing");
  const answer = await ask({
    question: say("site.brief_ask"), detail: say("site.brief_detail"), yes: say("site.brief_yes"), draft,
    words: { label: say("site.hazards"), missing: say("site.hazards_missing") }, person: hand.person,
  }, hand.people);
  return answer && { told: { kind: "briefed", value: answer.words }, person: answer.person, draft };
}

async function askSignOn(hand, { words, signed }) {
  const answer = await ask({
    question: say("site.sign_on_ask"), detail: words, yes: say("site.sign_on"), person: hand.person,
    refuse: ({ person: { name } }) => (signed.some(({ who }) => samePerson(who, name)) ? say("site.is_signed", { name }) : null),
  }, hand.people);
  return answer && { told: { kind: "briefed", value: words }, person: answer.person };
}

function draw(hand) {
  const day = today(hand);
  part(document, "tally").textContent = siteTally(hand);
  part(document, "here").replaceChildren(...day.here.map((entry) => element("li", {},
    element("strong", {}, entry.who), " ", element("span", { class: "by" }, since(entry, hand)),
    day.briefings.length > 0 && day.unsigned.includes(entry) ? element("p", {}, say("site.not_signed")) : null)));
  part(document, "briefings").replaceChildren(...(day.briefings.length === 0 ? [element("p", {}, say("site.nobody_briefed"))]
    : day.briefings.map((briefing) => drawBriefing(briefing, hand)).reverse()));
  part(document, "day").replaceChildren(...(day.list.length === 0 ? [element("li", {}, say("site.nothing"))]
    : day.list.map((entry) => element("li", {}, say(`site.did_${entry.kind}`), " ", byLine(entry, hand)))));
  drawPerson(hand, day);
}

function since({ at, value }, hand) {
  const words = [say("site.since", { time: moment(at, hand.now()) })];
  if (value) words.push(say("site.licence", { licence: value }));
  return words.join(" · ");
}

function drawBriefing(briefing, hand) {
  return element("div", { class: "briefing" },
    element("p", { class: "hazards" }, briefing.words),
    element("p", {}, say("site.signed_on", { count: briefing.signed.length })),
    element("ul", {}, ...briefing.signed.map((entry) => element("li", {}, byLine(entry, hand)))),
    element("button", { type: "button", class: "act", click: () => enter(hand, askSignOn(hand, briefing)) }, say("site.sign_on")));
}

/** Who holds the phone, and the one thing that is left for them to do here. */
function drawPerson(hand, { here, briefings, unsigned }) {
  const { person } = hand;
  part(document, "crew").replaceChildren(element("button", { type: "button", class: "quiet", click: () => hand.askPerson() },
    person ? say("who.shown", { name: person.name, role: say(`roles.${person.role}`) }) : say("who.ask")));
  const mine = ({ who }) => samePerson(who, person.name);
  const [verb, act] = person === null ? [say("who.ask"), () => hand.askPerson()]
    : !here.some(mine) ? [say("site.arrive"), () => enter(hand, askArrival(hand))]
      : briefings.length > 0 && unsigned.some(mine) ? [say("site.sign_on"), () => enter(hand, askSignOn(hand, briefings.at(-1)))]
        : [say("sheet.next_none"), () => location.assign(new URL("index.html", hand.site))];
  const button = part(document, "next");
  button.replaceChildren(element("span", { class: "verb" }, verb));
  button.onclick = act;
}
