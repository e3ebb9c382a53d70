/** The lock board on the screen: point by point what hangs there, whose it is, and who is in the zone without one. */

import { announce } from "./announce.mjs";
import { all, element, part } from "./element.mjs";
import { keepingFocus } from "./focus.mjs";
import { askBack, askIn, askLooked, askOff, askOffWithout, askOn, askOut, locksOn } from "./lock-asks.mjs";
import { hasp } from "./lock-drawing.mjs";
import { notice } from "./needed.mjs";
import { byLine } from "./said.mjs";
import { nameKey } from "./standing.mjs";
import { moment, say } from "./words.mjs";

/** @param {import("./job-in-hand.mjs").JobInHand} hand */
export function openLocksPage(hand) {
  const page = new LocksPage(hand);
  hand.watch(() => page.show());
  addEventListener("hashchange", () => page.show());
  part(document, "zone-in").onclick = () => page.enter(askIn(hand));
  part(document, "zone-out").onclick = () => page.enter(askOut(hand));
  page.show();
}

class LocksPage {
  constructor(hand) {
    this.hand = hand;
    this.sections = all(document, "[data-point]");
    for (const section of this.sections) {
      part(section, "put-on").onclick = () => this.enter(askOn(hand, section.dataset.point));
    }
  }

  show() {
    keepingFocus(() => {
      for (const section of this.sections) this.#point(section);
      this.#notes();
      this.#zone();
      this.#crew();
      this.#next();
    });
  }

  /** Adds what was answered, and says that it is saved once it is. @param {Promise<import("./lock-asks.mjs").Told|null>} asked */
  async enter(asked) {
    const answer = await asked;
    if (answer === null) return;
    try {
      await this.hand.tell({ step: null, value: "", ...answer.told }, answer.person);
      announce(say("saved.spoken"));
    } catch (problem) {
      notice(say("saved.failed"), problem.message);
    }
  }

  #point(section) {
    const name = section.dataset.point;
    const { locks, strays, unknown } = this.hand.progress.boards.point(name);
    const on = locks.filter(({ state }) => state === "on");
    const sure = on.filter((lock) => lock.sure);
    section.dataset.state = sure.length > 0 ? "locked" : on.length > 0 || unknown ? "doubt" : "clear";
    part(section, "point-state").textContent = [
      on.length === 0 ? say("locks.none_on") : sure.length === on.length ? say("locks.count_on", { count: on.length })
        : say("locks.some_doubt", { count: on.length, sure: sure.length }),
      ...(unknown ? [say("locks.unknown")] : []),
    ].join(" ");
    part(section, "hasp").replaceChildren(...hasp(on));
    part(section, "locks").replaceChildren(...on.map((lock) => this.#lock(name, lock)), ...strays.map((one) => this.#attempt(one, "li")));
    part(section, "gone").replaceChildren(...this.#gone(locks));
  }

  #lock(point, lock) {
    const { entry, against, looked } = lock;
    const tried = looked.findLast(({ why }) => why === null);
    const button = (words, asked, kind) => this.#button(words, asked, kind);
    return element("li", { class: "lock", "data-sure": String(lock.sure) },
      element("p", { class: "lock-who" }, element("b", { class: "tag" }, entry.value), " ", element("strong", {}, entry.who)),
      element("p", {}, say(lock.sure ? "locks.on_since" : "locks.in_doubt", { when: this.#when(entry) })),
      ...against.flatMap((one) => [this.#attempt(one, "p"), this.#back(one.entry, "locks.back_attempt", [one.entry.who, entry.who])]),
      ...looked.flatMap(({ entry: one, why }) => [
        element("p", why ? { class: "attempt" } : {}, why ? element("strong", {}, say("locks.does_not_count")) : null, why && ` ${why} `,
          say("locks.looked_line", { how: one.value }), " ", byLine(one, this.hand)), this.#back(one, "locks.back_looked", null),
      ]),
      element("div", { class: "choices" },
        button(say("locks.take_off"), () => askOff(this.hand, point, lock), ""),
        tried
          ? button(say("locks.take_off_without"), () => askOffWithout(this.hand, point, lock, tried.entry), "quiet")
          : button(say("locks.owner_gone"), () => askLooked(this.hand, point, lock), "quiet"),
        this.#back(entry, "locks.back_on", [entry.who])));
  }

  #button(words, asked, kind) {
    return element("button", { type: "button", class: kind, click: () => this.enter(asked()) }, words);
  }

  /** A button that takes back something said: by those of whom it counts, or by anybody. */
  #back(entry, words, may) {
    return this.#button(say(words), () => askBack(this.hand, entry, say(`${words}_ask`, { who: entry.who }), may), "quiet");
  }

  /** What was said to take a lock off and doesn't count. */
  #attempt({ entry, why }, name) {
    return element(name, { class: "attempt" }, element("strong", {}, say("locks.does_not_count")), " ", why, " ", byLine(entry, this.hand));
  }

  /** Locks that came off. One that came off without its owner stays in plain sight: they are to be told. */
  #gone(locks) {
    const gone = locks.filter(({ state }) => state !== "on");
    const without = gone.filter((lock) => lock.state === "off" && !lock.against.some((one) => one.why === null && ownWord(lock, one)));
    return [
      ...without.map(({ entry, against }) => element("p", { class: "attempt" },
        element("strong", {}, say("locks.gone_without", { number: entry.value, owner: entry.who })), " ",
        byLine(against.find(({ why }) => why === null).entry, this.hand))),
      gone.length === 0 ? "" : element("details", { class: "more" }, element("summary", {}, say("locks.gone", { count: gone.length })),
        element("ul", { class: "locks-gone" }, ...gone.map((lock) => this.#goneLine(lock)))),
    ];
  }

  /** Coming off is taken back by the owner, or by who said it; then the lock is on the board again. */
  #goneLine({ entry, state, against }) {
    const off = against.find(({ why }) => why === null).entry;
    const words = state === "never" ? say("locks.never_on", { reason: off.value }) : say("locks.came_off");
    return element("li", {}, element("p", {}, element("b", { class: "tag" }, entry.value), " ", byLine(entry, this.hand)),
      element("p", {}, words, " ", byLine(off, this.hand)),
      this.#back(off, "locks.back_off", [off.who, entry.who]));
  }

  #notes() {
    const { boards } = this.hand.progress;
    const missing = boards.missing();
    const twice = boards.doubles().map((locks) => say("locks.twice", {
      number: locks[0].entry.value, where: locks.map(({ entry }) => `${entry.sheet.slice(6)} (${entry.who})`).join(", "),
    }));
    const phones = missing.map((dev) => this.hand.phoneName(dev) ?? this.hand.record.device.name).join(", ");
    part(document, "lock-notes").replaceChildren(
      ...[...twice, ...(missing.length > 0 ? [say("locks.missing", { phones })] : [])].map((words) => element("p", { class: "notice" }, words)),
      element("p", { class: "note" }, say("hold.heard")));
  }

  /** Who has signed on, with their locks; who has none stands first. */
  #zone() {
    const on = locksOn(this.hand);
    const people = this.hand.progress.boards.zone().map((entry) => ({
      entry, locks: on.filter(({ lock }) => nameKey(lock.entry.who) === nameKey(entry.who)),
    })).sort((one, other) => one.locks.length - other.locks.length);
    const bare = people.filter(({ locks }) => locks.length === 0).length;
    const known = new Set(people.map(({ entry }) => nameKey(entry.who)));
    const others = [...new Set(on.filter(({ lock }) => !known.has(nameKey(lock.entry.who))).map(({ lock }) => lock.entry.who))];
    part(document, "zone").replaceChildren(
      element("p", { class: "point-state" }, people.length === 0 ? say("locks.nobody_in")
        : say("locks.zone_tally", { people: people.length, locks: on.length, bare })),
      element("ul", { class: "zone" }, ...people.map(({ entry, locks }) => element("li", { "data-bare": String(locks.length === 0) },
        element("strong", {}, entry.who), " ",
        element("span", {}, locks.length === 0 ? say("locks.has_none") : locks.map(({ point, lock }) => `${lock.entry.value} · ${point}`).join(", ")), " ",
        element("span", { class: "by" }, this.#when(entry))))),
      others.length === 0 ? "" : element("p", {}, say("locks.not_signed_on", { names: others.join(", ") })));
  }

  /** When something was entered, and on which phone where that isn't this one. */
  #when({ at, dev }) {
    const phone = this.hand.phoneName(dev);
    return [moment(at, this.hand.now()), ...(phone === null ? [] : [say("step.on_phone", { phone })])].join(" ");
  }

  #crew() {
    const { person } = this.hand;
    part(document, "crew").replaceChildren(element("button", {
      type: "button", class: "quiet", click: () => this.hand.askPerson(),
    }, person ? say("who.shown", { name: person.name, role: say(`roles.${person.role}`) }) : say("who.ask")));
  }

  #next() {
    const point = decodeURIComponent(location.hash.slice(1));
    const button = part(document, "next");
    const shown = (verb, act) => {
      button.replaceChildren(element("span", { class: "verb" }, verb));
      button.onclick = act;
    };
    if (this.hand.person === null) shown(say("who.ask"), () => this.hand.askPerson());
    else if (this.sections.some(({ dataset }) => dataset.point === point)) {
      shown(say("locks.put_on_at", { point }), () => this.enter(askOn(this.hand, point)));
    } else shown(say("sheet.next_none"), () => location.assign(new URL("index.html", this.hand.site)));
  }
}

function ownWord({ entry }, one) {
  return nameKey(one.entry.who) === nameKey(entry.who);
}
