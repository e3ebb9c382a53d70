/** Who may release what: from least to most standing. */

// The client's switching operator stands with the supervisor.
const STANDING = { crew: 1, "leading-hand": 2, "licensed-worker": 3, supervisor: 4, operator: 4 };

/** @param {string|undefined} role @param {string} needed the least that a hold asks for */
export function mayRelease(role, needed) {
  return (STANDING[role] ?? 0) >= STANDING[needed];
}
