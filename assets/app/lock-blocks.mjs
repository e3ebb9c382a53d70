/** What the lock boards put in the way of a hold that asks for locks on, or off. */

import { boardOf } from "./boards.mjs";
import { say } from "./words.mjs";

/**
 * @typedef {import("./progress.mjs").Block} Block
 * @typedef {import("./boards.mjs").Boards} Boards
 */

/**
 * What stands in the way.
 * @param {{want: "on"|"off", points: string[], stay?: string[]}} asked  as the sheet has it; stay: points that must stay locked
 * @param {Boards} boards
 * @param {{sheet: string, step: string}} hold
 * @param {import("./payload.mjs").Said[]|null} heads  the releases that stand; null where it is not released
 * @returns {Block[]}
 */
export function lockBlocks(asked, boards, hold, heads) {
  const blocks = asked.want === "on" ? keepsOn(asked, boards) : keepsOff(asked, boards);
  if (heads !== null && blocks.length === 0) blocks.push(...sinceReleased(asked, boards, hold, heads));
  return blocks;
}

/** Points, each followed by the box that holds its key. @param {string[]} points @param {Boards} boards */
export function withBoxes(points, boards) {
  return [...new Set(points.flatMap((point) => [point, boards.job.points[point].box]).filter(Boolean))];
}

function keepsOn({ points }, boards) {
  return withBoxes(points, boards).flatMap((point) => notLocked(point, boards, say("lock_block.none", { point })));
}

/** @param {{points: string[], stay?: string[]}} asked @param {Boards} boards @returns {Block[]} */
function keepsOff({ points, stay = [] }, boards) {
  const blocks = [];
  for (const name of withBoxes(points, boards)) {
    const { locks, unknown } = boards.point(name);
    for (const lock of locks.filter(({ state }) => state === "on")) blocks.push(block(name, say("lock_block.is_on", { point: name, ...called(lock) })));
    if (unknown) blocks.push(block(name, say("lock_block.unknown", { point: name })));
  }
  const missing = boards.missing();
  if (missing.length > 0) {
    const { byId } = boards.told;
    const names = new Map([...byId.values()].filter(({ seq }) => seq === 0).map(({ dev, value }) => [dev, value]));
    const phones = missing.map((dev) => names.get(dev) ?? dev.slice(0, 8)).join(", ");
    blocks.push(block(points[0], say("lock_block.missing", { phones })));
  }
  for (const name of stay) blocks.push(...notLocked(name, boards, say("lock_block.stay", { point: name })));
  return blocks;
}

/** A point counts as locked by one lock that surely stands. */
function notLocked(name, boards, none) {
  const on = boards.point(name).locks.filter(({ state }) => state === "on");
  if (on.some(({ sure }) => sure)) return [];
  if (on.length === 0) return [block(name, none)];
  return on.map((lock) => block(name, say("lock_block.doubtful", { point: name, ...called(lock) })));
}

/** What was looked at when it was released, and was not so all the time since. */
function sinceReleased({ want, points }, boards, hold, heads) {
  return withBoxes(points, boards).flatMap((name) => {
    if (want === "on" && !boards.stoodSince(name, heads)) {
      return [{ kind: "lock", ...hold, say: say("lock_block.not_since", { point: name }) }];
    }
    if (want === "off" && boards.point(name).locks.some(({ entry }) => !boards.told.covered([entry], heads))) {
      return [{ kind: "lock", ...hold, say: say("lock_block.since", { point: name }) }];
    }
    return [];
  });
}

function called({ entry }) {
  return { number: entry.value, who: entry.who };
}

/** @returns {Block} */
function block(point, told) {
  return { kind: "lock", sheet: boardOf(point), step: null, say: told };
}
