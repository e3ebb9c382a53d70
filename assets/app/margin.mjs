/** The room between a value and its limit, as a share of the limit in whole per cent. The same as builder/compile/margin.py. */

import { numberText } from "./showing.mjs";
import { say } from "./words.mjs";

// Beyond this a share says no more than "plenty".
const MOST = 999;

/**
 * Room over limit as `12 %`, negative where the limit is passed; null where there is no share, or no room either way.
 * What is in hand is rounded down, what is over or short up.
 * @param {number|null} ratio
 * @returns {string|null}
 */
export function shareText(ratio) {
  if (ratio === null || Math.abs(ratio) < 1e-9) return null;
  const share = Math.abs(ratio) * 100;
  if (share > MOST) return say("margin.beyond", { share: MOST });
  const whole = numberText(share, 0, ratio > 0 ? "down" : "up");
  return whole === "0" ? say("margin.beneath") : say("margin.share", { share: whole });
}

/** `12 % in hand`, `over by 8 %`, `short by 8 %`; null where there is no share. */
export function marginShare(op, ratio) {
  if (ratio === null) return null;
  const share = shareText(ratio);
  if (share === null) return say("margin.none");
  if (ratio > 0) return say("margin.in_hand", { share });
  return say(op === ">=" || op === ">" ? "margin.short" : "margin.over", { share });
}
