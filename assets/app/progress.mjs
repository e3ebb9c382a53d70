/**
 * Where every sheet stands: job, answers and acceptances brought together.
 *
 * @typedef {import("./payload.mjs").Said} Said
 * @typedef {import("./answers.mjs").Snag} Snag
 *
 * @typedef {object} Block
 * @property {"step"|"verdict"|"conflict"|"snag"|"hold"|"need"} kind
 * @property {string} sheet
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
 *
 * @typedef {object} HoldState
 * @property {boolean} released
 * @property {boolean} in_force
 * @property {Block[]} blocks
 *
 * @typedef {object} SheetState
 * @property {string} sheet
 * @property {"not-started"|"in-hand"|"held"|"worked"|"closed"} state
 * @property {number} round        1, or more when a release started the sheet again
 * @property {string|null} next    first step not finished
 * @property {Object<string, StepState>} steps
 * @property {Object<string, HoldState>} holds
 * @property {Snag[]} snags
 * @property {Block[]} left        what closing still waits for; empty when worked
 * @property {Said[]} uncounted    kept, but no answer here
 * @property {object} environment  what environmentFor gave, for showing workings and limits
 */

import { answers } from "./answers.mjs";

/**
 * Sheets are worked out when asked for, and only once.
 * @param {object} job                  job.json
 * @param {Said[]} entries              sorted, as `readAll` gives them
 * @param {(sheet: object, readings: Object<string, {text: string, unit: string|null}>) => object} environmentFor
 *        sheet is an element of job.sheets, unit is UCUM; the answer has step(name), working(name) and the
 *        `readings` that it could believe
 * @returns {{sheet: (id: string) => SheetState, sheets: () => SheetState[]}}
 */
export function progress(job, entries, environmentFor) {
  const told = answers(job, entries);
  const sheets = new Map(job.sheets.map((sheet) => [sheet.id, sheet]));
  const basics = remembering(readBasics);
  const holds = remembering(readHold, { released: false, in_force: false, blocks: [] });
  const closings = remembering(readClosing, null);
  const whole = remembering(readSheet);

  /** Answers and acceptances of a sheet, before any hold is looked at. */
  function readBasics(id, besides) {
    const sheet = sheets.get(id);
    const { steps } = job.tasks[sheet.task];
    const said = told.sheet(id, besides);
    /** @type {Object<string, {text: string, unit: string|null}>} */
    const readings = {};
    for (const { name } of steps) {
      const { answer } = said.steps[name];
      if (answer?.kind === "reading") readings[name] = { text: answer.value, unit: answer.unit };
    }
    const environment = environmentFor(sheet, readings);
    const states = Object.fromEntries(steps.map((step) => [step.name, stateOf(step, said.steps[step.name], environment)]));
    return { sheet, steps, said, environment, states };
  }

  function readHold(id, besides, name) {
    const { sheet, steps, said, states } = basics(id, besides);
    const { state, heads } = said.steps[name];
    const released = state === "answered";
    const blocks = [];
    for (const step of steps.slice(0, steps.findIndex((other) => other.name === name))) {
      blocks.push(...blocksOf(id, besides, step));
      const changed = released && isAnswered(states[step.name]) && !covered(said.steps[step.name].heads, heads);
      if (changed) {
        const say = `Answered again since the release. Look again and release again: ${step.say}`;
        blocks.push({ kind: "step", sheet: id, step: step.name, say });
      }
      blocks.push(...snagBlocks(said, id, step.name));
    }
    blocks.push(...snagBlocks(said, id, null), ...snagBlocks(said, id, name));
    if (state === "conflict") {
      blocks.push({ kind: "conflict", sheet: id, step: name, say: `Releases differ: ${stepIn(steps, name).say}` });
    }
    const before = sheet.ends?.[name]?.length ? ids([...besides, ...told.releasesOf(id, name).map(idOf)]) : besides;
    for (const need of sheet.needs?.[name] ?? []) blocks.push(...needBlocks(need, id, before, released ? heads : null));
    return { released, in_force: released && blocks.length === 0, blocks };
  }

  /** What one step puts in the way of everything behind it. */
  function blocksOf(id, besides, step) {
    const block = (kind, say) => [{ kind, sheet: id, step: step.name, say: `${say}: ${step.say}` }];
    const { state, verdict, reason } = basics(id, besides).states[step.name];
    if (state === "not-applying") return [];
    if (state === "waiting") return block("step", `Can't tell whether this applies (${reason})`);
    if (state === "conflict") return block("conflict", "Answers differ");
    if (step.kind === "hold") return holds(id, besides, step.name).in_force ? [] : block("hold", "Not released");
    if (state === "open") return block("step", "Not answered");
    if (verdict === "outside") return block("verdict", `Outside (${reason})`);
    if (verdict === "cant-tell") return block("verdict", `Can't tell (${reason})`);
    return [];
  }

  /**
   * What this hold ended by its release it needed before, not after: its own endings are left out, here and in
   * whatever is needed in turn. A closed sheet stands as it was when it was closed.
   */
  function needBlocks(need, id, before, releasedBy) {
    const closing = closings(need.sheet);
    const besides = ids([...before, ...(closing ?? [])]);
    const { sheet, steps, said, states } = basics(need.sheet, besides);
    const { title } = job.tasks[sheet.task];
    const block = (say) => [{ kind: "need", sheet: need.sheet, step: need.hold, say: `${say} (${title}, ${sheet.item})` }];
    if (need.hold) {
      const { say } = stepIn(steps, need.hold);
      if (states[need.hold].state === "not-applying") return [];
      if (!holds(need.sheet, besides, need.hold).in_force) return block(`Not in force: ${say}`);
      const again = releasedBy && !covered(said.steps[need.hold].heads, releasedBy);
      return again ? block(`Released again since. Look again and release again: ${say}`) : [];
    }
    // A hold that needs its own sheet needs the steps before it, which it looks at anyway.
    if (need.sheet === id) return [];
    if (!closing) return block("Not closed");
    const again = releasedBy && !allCovered(need.sheet, besides, releasedBy);
    return again ? block("Worked again since. Look again and release again") : [];
  }

  function leftOf(id, besides) {
    const { steps, said } = basics(id, besides);
    return [...steps.flatMap((step) => blocksOf(id, besides, step)), ...snagBlocks(said, id)];
  }

  /** Had one of these releases seen one of these answers, or is it one of them? */
  function covered(heads, releases) {
    return releases.some((release) => heads.some((head) => head === release || told.past(head, release)));
  }

  function allCovered(id, besides, by) {
    const { steps, said, states } = basics(id, besides);
    return steps.every(({ name }) => states[name].state === "not-applying" || covered(said.steps[name].heads, by));
  }

  /**
   * A sheet is closed when its closing left nothing open and has seen all that was said. What started other
   * sheets again since does not open it. Gives the ids of those later releases; null: not closed.
   */
  function readClosing(id) {
    for (const close of basics(id, []).said.closes) {
      const later = ids(told.startingAgain().filter((release) => !told.past(release, close)).map(idOf));
      if (leftOf(id, later).length === 0 && allCovered(id, later, [close])) return later;
    }
    return null;
  }

  function readSheet(id) {
    const closing = closings(id);
    const besides = closing ?? [];
    const { steps, said, environment, states } = basics(id, besides);
    const left = leftOf(id, besides);
    const blocking = new Set(left.map(({ step }) => step));
    const next = steps.find(({ name }) => blocking.has(name)) ?? null;
    const shown = {};
    let shut = false;
    for (const { kind, name } of steps) {
      const { state } = states[name];
      shown[name] = shut && state !== "not-applying" ? { ...states[name], state: "shut" } : states[name];
      if (kind === "hold" && state !== "not-applying" && !holds(id, besides, name).in_force) {
        if (shown[name].state === "answered") shown[name] = { ...states[name], state: "open" };
        shut = true;
      }
    }
    return {
      sheet: id,
      state: sheetState(said, left, next, closing !== null),
      round: said.round,
      next: next?.name ?? null,
      steps: shown,
      holds: Object.fromEntries(steps.filter(({ kind }) => kind === "hold").map(({ name }) => [name, holds(id, besides, name)])),
      snags: said.snags,
      left,
      uncounted: said.uncounted,
      environment,
    };
  }

  return {
    sheet: (id) => whole(id),
    sheets: () => job.sheets.map(({ id }) => whole(id)),
  };
}

function stateOf(step, { state, answer, heads, earlier }, environment) {
  const { applies, applies_reason, verdict, reason } = environment.step(step.name);
  const said = { answer, heads, earlier };
  if (applies === false) return { state: "not-applying", verdict: null, reason: applies_reason, ...said };
  if (applies === null) return { state: "waiting", verdict: null, reason: applies_reason, ...said };
  const judged = state === "answered" && step.kind === "read";
  if (judged && !(step.name in environment.readings)) {
    return { state, verdict: "cant-tell", reason: `The reading \`${answer.value}\` can't be believed.`, ...said };
  }
  return { state, verdict: judged ? verdict : null, reason: judged ? reason : "", ...said };
}

function sheetState({ begun }, left, next, closed) {
  if (left.length === 0) return closed ? "closed" : "worked";
  if (!begun) return "not-started";
  return next?.kind === "hold" ? "held" : "in-hand";
}

/** Open snags of one step, of the sheet as a whole (null), or of both (undefined). */
function snagBlocks({ snags }, sheet, step) {
  return snags.filter(({ entry, closed }) => !closed && (step === undefined || entry.step === step))
    .map(({ entry }) => ({ kind: "snag", sheet, step: entry.step, say: `Open snag from ${entry.who}: ${entry.value}` }));
}

function ids(list) {
  return [...new Set(list)].sort();
}

function idOf({ id }) {
  return id;
}

function isAnswered({ state }) {
  return state === "answered" || state === "aside";
}

function stepIn(steps, wanted) {
  return steps.find(({ name }) => name === wanted);
}

/** Each answer is worked out once. Asked for while it is being worked out, it needs itself: `circular`. */
function remembering(work, circular) {
  const answered = new Map();
  return (...asked) => {
    const name = JSON.stringify(asked);
    if (!answered.has(name)) {
      if (circular) answered.set(name, circular);
      answered.set(name, work(...asked));
    }
    return answered.get(name);
  };
}
