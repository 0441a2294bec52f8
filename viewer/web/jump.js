// @ts-check
// Jumping along the study: by mark, by finding or by remark. The same two
// buttons do all three; a choice beside them says which.

import { $, say } from './dom.js';
import { keep, on, phaseAt, state } from './state.js';
import { nextFinding, inWords, doing } from './scoredata.js';

const names = { mark: 'mark', finding: 'finding', remark: 'remark' };

/** The value next to t among sorted ones, on or back; at least `still` ms away. @param {number[]} sorted @param {number} t @param {number} by 1 or -1 @param {number} [still] @returns {number} index, -1 for none */
export function beside(sorted, t, by, still = 1) {
  if (by > 0) return sorted.findIndex((v) => v >= t + still);
  return sorted.findLastIndex((v) => v <= t - still);
}

/**
 * @param {{at: () => number, go: (t: number) => void, tell: () => void, show: (remark: any) => void}} act
 */
export function makeJump(act) {
  const pick = $('jump-by');
  pick.value = keep('jump') ?? 'mark';

  const mark = (/** @type {number} */ by) => {
    const phases = state.report?.phases ?? [];
    const now = phaseAt(phases, act.at() + 0.5);
    // Going back from well inside a phase leads to its own beginning first.
    const own = by < 0 && now >= 0 && act.at() - phases[now].from_ms > 700 ? 0 : by;
    const p = phases[Math.max(0, now + own)] ?? phases[phases.length - 1];
    if (p) act.go(p.from_ms);
    act.tell();
  };

  // With a muscle asked about, to where that one begins to stand out.
  const finding = (/** @type {number} */ by) => {
    if (!state.score) return;
    const muscles = state.muscle >= 0 ? [state.muscle] : undefined;
    const i = nextFinding(state.score, state.phase, by, muscles);
    const p = state.report.phases[i];
    if (!p) {
      say(`No ${by > 0 ? 'later' : 'earlier'} finding${muscles ? ' of this muscle' : ''}.`);
      return;
    }
    act.go(p.from_ms);
    act.tell();
    const m = state.model?.muscles[state.muscle];
    if (m) say(`${m.plain || m.name}: ${inWords(doing(state.score, state.score.phases[i], [state.muscle]), false)}, ${p.title || `phase ${p.number}`}`);
  };

  const remark = (/** @type {number} */ by) => {
    const remarks = state.report?.remarks ?? [];
    const chosen = remarks.findIndex((/** @type {{id: number}} */ r) => r.id === state.remark);
    // Remarks at one moment are gone through one by one.
    const here = chosen >= 0 && Math.abs(remarks[chosen].at_ms - act.at()) < 60;
    const i = here ? chosen + by : beside(remarks.map((/** @type {{at_ms: number}} */ r) => r.at_ms), act.at(), by);
    const r = remarks[i];
    if (!r) {
      say(`No ${by > 0 ? 'later' : 'earlier'} remark.`);
      return;
    }
    act.go(r.at_ms);
    act.show(r);
  };

  /** @type {Record<string, (by: number) => void>} */
  const ways = { mark, finding, remark };
  const label = () => {
    const name = names[/** @type {'mark'} */ (pick.value)];
    for (const [id, does] of [['prev-mark', 'Previous'], ['next-mark', 'Next']]) {
      $(id).querySelector('.sr').textContent = `${does} ${name}`;
      $(id).title = `${does} ${name}`;
    }
  };
  pick.addEventListener('change', () => {
    keep('jump', pick.value);
    label();
  });
  on(['report'], label);
  const by = (/** @type {number} */ n) => (ways[pick.value] ?? mark)(n);
  return { by, mark, finding, remark };
}
