// @ts-check
// What every panel of the page shares, and who wants to hear of it. One value,
// changed only by set; a panel listens to the names it cares for.

/**
 * @typedef {{number: number, from_ms: number, to_ms: number, hold: boolean, mark: number, title: string,
 *   words: string, in_force: string, note: string, doubts: number, detail: string, scene: string,
 *   lengths: number, works: number}} Phase
 */

/** @type {Record<string, any>} */
export const state = {
  report: null, // api.go: apiReport
  model: null, // apiModel
  phase: -1, // index of the phase under the playhead, -1 before the first
  at: 0, // ms
  playing: false,
  span: { from: 0, to: 1 }, // ms that the score shows
  score: null, // what every muscle does in every phase, once it is here
  findings: null, // apiFindings of the phase, once they are here
  remark: 0, // ID of the remark that was last shown
  muscle: -1, // the muscle that was asked about
  muscleOf: '', // key of the tried posture that it was asked about in, or empty
  looked: null, // yaw and pitch that the figure was turned to
  voice: 'plain',
  trial: null, // {mark, answer: apiTried, scene}: a posture that is being written
  ghost: 'none', // which posture the second body is in
  online: true,
  keys: true, // single-key shortcuts
  follow: false,
};

/** @type {Map<string, Set<() => void>>} */
const listeners = new Map();

/** Calls f whenever one of the names has changed. @param {string[]} names @param {() => void} f */
export function on(names, f) {
  for (const n of names) {
    if (!listeners.has(n)) listeners.set(n, new Set());
    listeners.get(n)?.add(f);
  }
}

/** Changes values and tells each listener once. @param {Record<string, any>} changes */
export function set(changes) {
  /** @type {Set<() => void>} */
  const due = new Set();
  for (const [name, value] of Object.entries(changes)) {
    if (Object.is(state[name], value)) continue;
    state[name] = value;
    listeners.get(name)?.forEach((f) => due.add(f));
  }
  for (const f of due) f();
}

/** @returns {Phase|null} the phase under the playhead */
export function here() {
  return state.report?.phases[state.phase] ?? null;
}

/** Index of the phase that holds t, -1 before the first. @param {{from_ms: number}[]} phases sorted @param {number} t */
export function phaseAt(phases, t) {
  let lo = -1;
  let hi = phases.length;
  while (hi - lo > 1) {
    const mid = (lo + hi) >> 1;
    if (phases[mid].from_ms <= t) lo = mid;
    else hi = mid;
  }
  return lo;
}

/** A choice kept on this machine; storage may be refused. @param {string} name @param {any} [value] */
export function keep(name, value) {
  try {
    if (value === undefined) return JSON.parse(localStorage.getItem('tautline.' + name) ?? 'null');
    if (value === null) localStorage.removeItem('tautline.' + name);
    else localStorage.setItem('tautline.' + name, JSON.stringify(value));
  } catch {
    // A page without storage works, it only forgets.
  }
  return null;
}
