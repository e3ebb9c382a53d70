/**
 * Where every sheet stands: job, answers and acceptances brought together.
 *
 * @typedef {import("./payload.mjs").Said} Said
 * @typedef {import("./answers.mjs").Snag} Snag
 *
 * @typedef {object} Block
 * @property {"step"|"verdict"|"conflict"|"photo"|"signature"|"snag"|"stop"|"hold"|"need"|"lock"} kind
 * @property {string} sheet        or the board of a point, `locks/POINT`
 * @property {string|null} step
 * @property {string} say          a sentence
 *
 * @typedef {object} StepState
 * @property {"open"|"answered"|"aside"|"conflict"|"not-applying"|"waiting"|"shut"} state
 * @property {"within"|"outside"|"cant-tell"|null} verdict
 * @property {string} reason
 * @property {Said|null} answer    the entry that stands
 * @property {Said[]} heads        one, or the answers that differ
 * @property {Said[]} earlier      what was said before
 * @property {boolean} lacks_photo   answered, but not finished without one
 *
 * @typedef {object} HoldState
 * @property {boolean} released
 * @property {boolean} in_force
 * @property {Block[]} blocks
 *
 * @typedef {object} SheetState
 * @property {string} sheet
 * @property {"not-started"|"in-hand"|"held"|"worked"|"closed"|"rests"} state   rests: started again, and wanted by nothing open
 * @property {number} round        1, or more when a release started the sheet again
 * @property {string|null} next    first step not finished
 * @property {Object<string, StepState>} steps
 * @property {Object<string, HoldState>} holds
 * @property {Snag[]} snags
 * @property {Said[]} photos       of steps and snags
 * @property {Said[]} signatures
 * @property {Block[]} left        what closing still waits for; empty when worked
 * @property {Said[]} uncounted    kept, but no answer here
 * @property {object} environment  what environmentFor gave, for showing workings and limits
 * @property {{station: number, tension_newton: number}[]} [measured] pulls at the head, where the sheet is of a pull under way
 * @property {Object<string, import("./pull-day.mjs").Measured>} pulled   what stands measured on a pull
 * @property {Said[]} stops        of a pull, called and not lifted
 */

import { answers } from "./answers.mjs";
import { boards } from "./boards.mjs";
import { lockBlocks } from "./lock-blocks.mjs";
import { say } from "./words.mjs";

/**
 * Sheets are worked out when asked for, and only once.
 * @param {object} job                  job.json
 * @param {Said[]} entries              sorted, as `readAll` gives them
 * @param {(sheet: object, readings: Object<string, {text: string, unit: string|null}>) => object} environmentFor
 *        sheet is an element of job.sheets, unit is UCUM; the answer has step(name), working(name) and the
 *        `readings` that it could believe
 * @returns {{sheet: (id: string) => SheetState, sheets: () => SheetState[], boards: import("./boards.mjs").Boards}}
 */
export function progress(job, entries, environmentFor) {
  const told = answers(job, entries);
  const sheets = new Map(job.sheets.map((sheet) => [sheet.id, sheet]));
  const saidBefore = remembering((id, besides) => told.sheet(id, besides.split(" ")));
  const basicsBefore = remembering(readBasics);
  const starting = remembering((id) => told.startingOf(id).map(idOf));
  const views = viewing();
  const holds = remembering(readHold, { released: false, in_force: false, blocks: [] });
  const closings = remembering(readClosing, null);
  const rests = remembering(readRest, true);
  const whole = remembering(readSheet);
  const dependents = dependentsOf(job.sheets);
  const boardsAt = remembering((at) => boards(job, told, at));

  const said = (id, view) => saidBefore(id, knownTo(id, view));
  const basics = (id, view) => basicsBefore(id, knownTo(id, view));

  /** Of the releases before which it is looked at, a sheet knows those that start it again. */
  function knownTo(id, { besides }) {
    return starting(id).filter((release) => besides.has(release)).join(" ");
  }

  /** Answers and acceptances of a sheet, before any hold is looked at. A step is judged when it is asked for. */
  function readBasics(id, besides) {
    const sheet = sheets.get(id);
    const { steps } = job.tasks[sheet.task];
    const given = saidBefore(id, besides);
    /** @type {Object<string, {text: string, unit: string|null}>} */
    const readings = {};
    for (const { name } of steps) {
      const { answer } = given.steps[name];
      if (answer?.kind === "reading") readings[name] = { text: answer.value, unit: answer.unit };
    }
    Object.assign(readings, given.measured);
    const environment = environmentFor(sheet, readings);
    const states = {};
    for (const step of steps) {
      let state = null;
      const get = () => (state ??= inTurn(step, stateOf(step, given.steps[step.name], environment), states));
      Object.defineProperty(states, step.name, { get, enumerable: true });
    }
    return { sheet, steps, said: given, environment, states };
  }

  function readHold(id, view, name) {
    const { sheet, steps, said, states } = basics(id, view);
    const { state, heads } = said.steps[name];
    const released = state === "answered";
    const blocks = [];
    for (const step of steps.slice(0, steps.findIndex((other) => other.name === name))) {
      blocks.push(...blocksOf(id, view, step));
      if (released && isAnswered(states[step.name]) && !isSeen(basics(id, view), step, heads)) {
        blocks.push({ kind: "step", sheet: id, step: step.name, say: say("block.again", { step: step.say }) });
      }
      blocks.push(...snagBlocks(basics(id, view), [step.name]));
    }
    blocks.push(...gapBlocks(basics(id, view)), ...snagBlocks(basics(id, view), [null, name]), ...stopBlocks(basics(id, view), name));
    if (state === "conflict") {
      blocks.push({ kind: "conflict", sheet: id, step: name, say: say("block.releases_differ", { step: stepIn(steps, name).say }) });
    }
    if (released && stepIn(steps, name).signed && !isSigned(said.steps[name].answer, said.signatures)) {
      blocks.push({ kind: "signature", sheet: id, step: name, say: say("block.not_signed", { step: stepIn(steps, name).say }) });
    }
    const asked = sheet.locks?.[name];
    if (asked) blocks.push(...lockBlocks(asked, boardsAt(view.at), { sheet: id, step: name }, released ? heads : null));
    // What this hold ended by its release, it needed before and not after.
    const ended = sheet.ends?.[name]?.length ? told.releasesOf(id, name).map(idOf) : [];
    const before = views(view, ended);
    for (const need of sheet.needs?.[name] ?? []) {
      blocks.push(...needBlocks(need, id, before, released && !view.closed ? heads : null));
    }
    return { released, in_force: released && blocks.length === 0, blocks };
  }

  /** A hold that is not released is not in force, whatever else is in its way. */
  function inForce(id, view, name) {
    return said(id, view).steps[name].state === "answered" && holds(id, view, name).in_force;
  }

  /** What one step puts in the way of everything behind it. */
  function blocksOf(id, view, step) {
    const { states } = basics(id, view);
    const { state, verdict, reason } = states[step.name];
    const block = (kind, place) => [{ kind, sheet: id, step: step.name, say: say(`block.${place}`, { step: step.say, reason }) }];
    if (state === "not-applying") return [];
    if (state === "waiting") return block("step", "may_apply");
    if (state === "conflict") return block("conflict", "differ");
    if (step.kind === "hold") return inForce(id, view, step.name) ? [] : block("hold", "not_released");
    if (state === "open" || state === "shut") return block("step", "not_answered");
    if (verdict === "outside") return block("verdict", "outside");
    if (verdict === "cant-tell") return block("verdict", "cant_tell");
    if (states[step.name].lacks_photo) return block("photo", "no_photo");
    return [];
  }

  /** What keeps a need from being met. A closed sheet stands as it was when it was closed. */
  function needBlocks(need, id, before, releasedBy) {
    const closing = closings(need.sheet, before.at);
    const view = closing ? views(closing, before.besides) : before;
    const { sheet, steps, said, states } = basics(need.sheet, view);
    const { title } = job.tasks[sheet.task];
    const block = (place) => {
      const what = say(`block.${place}`, { step: stepIn(steps, need.hold)?.say });
      return [{ kind: "need", sheet: need.sheet, step: need.hold, say: say("block.elsewhere", { what, task: title, item: sheet.item }) }];
    };
    if (need.hold) {
      if (states[need.hold].state === "not-applying") return [];
      if (!inForce(need.sheet, view, need.hold)) return block("not_in_force");
      const again = releasedBy && !told.covered(said.steps[need.hold].heads, releasedBy);
      return again ? block("released_again") : [];
    }
    // A hold that needs its own sheet needs the steps before it, which it looks at anyway.
    if (need.sheet === id) return [];
    if (!closing) return block("not_closed");
    const again = releasedBy && !allCovered(need.sheet, view, releasedBy);
    return again ? block("worked_again") : [];
  }

  function leftOf(id, view) {
    const now = basics(id, view);
    return [...now.steps.flatMap((step) => blocksOf(id, view, step)), ...gapBlocks(now), ...snagBlocks(now), ...stopBlocks(now)];
  }

  /** A pull that stands stopped: nothing behind its gate goes on before somebody says so. */
  function stopBlocks({ sheet, steps, said }, hold = null) {
    const { pull_day: day } = job.tasks[sheet.task];
    const place = (wanted) => steps.findIndex(({ name }) => name === wanted);
    if (!day || (hold && place(hold) <= place(day.after))) return [];
    return said.stops.map(({ who }) => ({ kind: "stop", sheet: sheet.id, step: null, say: say("block.stopped", { who }) }));
  }

  function allCovered(id, view, by) {
    const { steps, states } = basics(id, view);
    return steps.every((step) => states[step.name].state === "not-applying" || isSeen(basics(id, view), step, by));
  }

  /** Had one of these seen what stands at a step, and the photo where one is needed? */
  function isSeen({ said, states }, step, by) {
    const { heads, photos } = said.steps[step.name];
    return told.covered(heads, by) && (!needsPhoto(step, states[step.name]) || told.covered(photos, by));
  }

  /**
   * How a closed sheet is looked at: before the releases that started others again since. null: not closed.
   * A sheet is closed when its closing left nothing open and has seen all that was said. What it says of locks
   * was so when it was closed; a sheet of the point itself says how the point stands now.
   */
  function readClosing(id, at) {
    for (const close of said(id, NOW).closes) {
      const later = told.startingAgain().filter((release) => !told.past(release, close)).map(idOf);
      const view = views({ besides: new Set(), closed: true, at: sheets.get(id).kind === "isolation" ? at : close.id }, later);
      if (leftOf(id, view).length === 0 && allCovered(id, view, [close])) return view;
    }
    return null;
  }

  function readSheet(id) {
    const closing = closings(id, null);
    const view = closing ?? NOW;
    const { steps, said, environment, states } = basics(id, view);
    const left = leftOf(id, view);
    const blocking = new Set(left.map(({ step }) => step));
    const next = steps.find(({ name }) => blocking.has(name)) ?? null;
    const shown = {};
    let shut = false;
    for (const { kind, name } of steps) {
      const { state } = states[name];
      shown[name] = shut && state !== "not-applying" ? { ...states[name], state: "shut" } : states[name];
      if (kind === "hold" && state !== "not-applying" && !inForce(id, view, name)) {
        if (shown[name].state === "answered") shown[name] = { ...states[name], state: "open" };
        shut = true;
      }
    }
    return {
      sheet: id,
      state: sheetState(said, left, next, closing !== null, () => rests(id)),
      round: said.round,
      next: next?.name ?? null,
      steps: shown,
      holds: Object.fromEntries(steps.filter(({ kind }) => kind === "hold").map(({ name }) => [name, holds(id, view, name)])),
      snags: said.snags,
      photos: said.photos,
      signatures: said.signatures,
      left,
      uncounted: said.uncounted,
      environment,
      pulled: said.measured,
      stops: said.stops,
    };
  }

  /** A sheet that was started again rests while all that needs it is closed, or rests itself. */
  function readRest(id) {
    const { begun, round } = basics(id, NOW).said;
    return !begun && round > 1 && dependents.get(id).every((other) => closings(other, null) !== null || rests(other));
  }

  return {
    sheet: (id) => whole(id),
    sheets: () => job.sheets.map(({ id }) => whole(id)),
    boards: boardsAt(null),
  };
}

/** Sheet → the sheets that need it, its own apart. */
function dependentsOf(sheets) {
  const dependents = new Map(sheets.map(({ id }) => [id, []]));
  for (const { id, needs } of sheets) {
    for (const { sheet } of Object.values(needs ?? {}).flat()) if (sheet !== id) dependents.get(sheet)?.push(id);
  }
  return dependents;
}

/** A step that comes after others is shut until each of them that applies is answered, and not outside. */
function inTurn({ after = [] }, now, states) {
  const passed = ({ state, verdict }) => ["answered", "aside", "not-applying"].includes(state) && [null, "within"].includes(verdict);
  const shut = now.state !== "not-applying" && !after.every((name) => passed(states[name]));
  return shut ? { ...now, state: "shut", verdict: null, reason: "" } : now;
}

function stateOf(step, given, environment) {
  const { state, answer, heads, earlier, photos } = given;
  // A limit that nothing is held against yet costs as much to work out as one that is.
  const judged = state === "answered" && step.kind === "read";
  const { applies, applies_reason, verdict, reason } = environment.step(step.name, judged);
  const said = { answer, heads, earlier, lacks_photo: needsPhoto(step, given) && photos.length === 0 };
  if (applies === false) return { state: "not-applying", verdict: null, reason: applies_reason, ...said };
  if (applies === null) return { state: "waiting", verdict: null, reason: applies_reason, ...said };
  if (judged && !(step.name in environment.readings)) {
    return { state, verdict: "cant-tell", reason: say("reading.not_believed", { reading: answer.value }), ...said };
  }
  return { state, verdict: judged ? verdict : null, reason: judged ? reason : "", ...said };
}

/** Set aside, a step asks for no photo. */
function needsPhoto(step, { state }) {
  return step.photo === "needed" && state === "answered";
}

/** Signed by the person who released. */
function isSigned(release, signatures) {
  return signatures.some(({ about, who }) => about[0] === release.id && who === release.who);
}

function sheetState({ begun }, left, next, closed, rests) {
  if (left.length === 0) return closed ? "closed" : "worked";
  if (!begun) return rests() ? "rests" : "not-started";
  return next?.kind === "hold" ? "held" : "in-hand";
}

/** Open snags of these steps, or of all. null is the sheet as a whole, and any step that it has no more. */
function snagBlocks({ sheet, steps, said }, wanted = undefined) {
  const names = steps.map(({ name }) => name);
  const stands = ({ step }) => (names.includes(step) ? step : null);
  return said.snags.filter(({ entry, closed }) => !closed && (!wanted || wanted.includes(stands(entry))))
    .map(({ entry }) => ({ kind: "snag", sheet: sheet.id, step: entry.step, say: say("block.snag", { who: entry.who, words: entry.value }) }));
}

/** Something was said here that can't be judged: the entries before it have not come. */
function gapBlocks({ sheet, said: { gaps } }) {
  if (gaps.length === 0) return [];
  const who = [...new Set(gaps.map((entry) => entry.who))].join(", ");
  return [{ kind: "step", sheet: sheet.id, step: null, say: say("block.gap", { who }) }];
}

function isAnswered({ state }) {
  return state === "answered" || state === "aside";
}

function idOf({ id }) {
  return id;
}

function stepIn(steps, wanted) {
  return steps.find(({ name }) => name === wanted);
}

/**
 * How a sheet is looked at: before the releases `besides`, `closed` as something that a closed sheet rests on,
 * from which releasing it again since takes nothing away, and the lock boards as of the closing `at`; null is now.
 */
const NOW = { besides: new Set(), closed: false, at: null };

/** Gives how a sheet is looked at before some releases more: for the same always the same, so that it is known again. */
function viewing() {
  const known = new Map([[nameOf(NOW), NOW]]);
  return (view, more) => {
    const wider = { ...view, besides: new Set([...view.besides, ...more]) };
    const name = nameOf(wider);
    if (!known.has(name)) known.set(name, wider);
    return known.get(name);
  };
}

function nameOf({ besides, closed, at }) {
  return [closed, at, ...[...besides].sort()].join(" ");
}

const OUTCOME = Symbol("outcome");

/** Each answer is worked out once. Asked for while it is being worked out, it needs itself: `circular`. */
function remembering(work, circular) {
  const answered = new Map();
  return (...asked) => {
    let found = answered;
    for (const one of asked) {
      if (!found.has(one)) found.set(one, new Map());
      found = found.get(one);
    }
    if (!found.has(OUTCOME)) {
      if (circular !== undefined) found.set(OUTCOME, circular);
      found.set(OUTCOME, work(...asked));
    }
    return found.get(OUTCOME);
  };
}
