// @ts-check
// Brings the figure what it shows: the scene of the phase under the playhead,
// how far along it is, and what each muscle does there.

import * as api from './api.js';
import { unpack } from './scene.js';
import { here, on, set, state } from './state.js';

const swift = 90; // ms between two phases from which the playhead is sweeping

/**
 * @param {{model: (m: any) => void, show: (s: any, part: number) => void, ghost: (s: any) => void, paint: (r: string, g: string, e: number[], p: string) => void, say: (t: string) => void}} figure
 */
export function makeBody(figure) {
  const scenes = api.cached((key) => api.scene(key).then(unpack), 40);
  const details = api.cached((key) => {
    const [number, voice] = key.split(' ');
    return api.phase(Number(number), voice);
  }, 200);
  const detailOf = (/** @type {any} */ p) => details(toldKey(p));
  /** @type {any} */
  let scene = null;
  let shown = ''; // key of the scene
  let told = ''; // key of the findings

  const part = () => {
    const p = place();
    const t = trialHere();
    if (t) {
      const m = t.answer.findings.muscles;
      figure.show(t.scene, 0);
      figure.paint(m.roles, m.grades, m.efforts, m.pulls);
      return;
    }
    if (!scene || !p || shown !== p.scene) return;
    const at = here() ? (state.at - p.from_ms) / Math.max(1, p.to_ms - p.from_ms) : 0;
    figure.show(scene, at);
    // Half-way to the next posture the figure takes on what is true there.
    const m = state.findings?.number === p.number ? state.findings.muscles : null;
    if (m && at < 0.5) figure.paint(m.roles, m.grades, m.efforts, m.pulls);
    else if (m) figure.paint(m.next_roles, m.next_grades, m.next_efforts, m.next_pulls);
  };

  // One load at a time: while the playhead is swept over many phases, those it
  // has left again are not asked for.
  let busy = false;
  let entered = 0; // when the playhead last came to another phase
  let swept = false; // and whether it had only just come to the one before
  const arrive = async () => {
    const now = performance.now();
    swept = now - entered < swift;
    entered = now;
    part();
    if (busy) return;
    busy = true;
    try {
      for (let p = place(); p && !there(p); p = place()) await bring(p);
    } catch {
      // The banner says it; the next report asks again.
    }
    busy = false;
    const p = place();
    if (!p) set({ findings: null });
    const next = p && state.report.phases[p.number];
    if (next && !swept) {
      // What comes next is there when the playhead is.
      scenes(next.scene).catch(() => {});
      detailOf(next).catch(() => {});
    }
  };

  /** The posture that is being written at this mark, if any. */
  const trialHere = () => (state.trial && state.trial.mark === here()?.mark ? state.trial : null);
  /** Shows what is being tried, or goes back to what is saved. */
  const trying = () => {
    const t = trialHere();
    if (t) {
      set({ findings: { ...t.answer.findings, number: here()?.number, tried: t.answer.key, glance: t.answer.glance } });
      figure.say(`The body as you are writing it: ${t.answer.canonical || 'standing'}.`);
    } else if (state.findings?.tried) {
      told = '';
      arrive();
    }
    part();
    haunt();
  };
  let haunted = 0;
  /** Brings the second body. */
  const haunt = async () => {
    const mine = ++haunted;
    const other = state.ghost === 'before' ? state.phase - 1 : state.ghost === 'after' ? state.phase + 1 : trialHere() ? state.phase : -1;
    const p = state.report?.phases[other];
    const s = p ? await scenes(p.scene).catch(() => null) : null;
    if (mine === haunted) figure.ghost(s?.samples[0] ?? null);
  };

  const place = () => here() ?? state.report?.phases[0] ?? null;
  const toldKey = (/** @type {any} */ p) => `${p.number} ${state.voice} ${p.detail}`;
  const there = (/** @type {any} */ p) => shown === p.scene && (told === toldKey(p) || !!trialHere());

  const bring = async (/** @type {any} */ p) => {
    if (shown !== p.scene) {
      scene = await scenes(p.scene);
      shown = p.scene;
      part();
    }
    const key = toldKey(p);
    // What is told waits until a sweeping playhead rests.
    while (swept && place() === p && performance.now() - entered < swift) await new Promise((done) => setTimeout(done, swift / 2));
    if (told === key || place() !== p || trialHere()) return;
    const f = await detailOf(p);
    if (place() !== p || trialHere()) return;
    told = key;
    set({ findings: { ...f, number: p.number } });
    part();
    figure.say(describe(p, f));
  };

  const describe = (/** @type {any} */ p, /** @type {any} */ f) => {
    const first = f.statements.slice(0, 3).map((/** @type {{text: string}} */ s) => s.text).join(' ');
    return `The body at “${p.title || `mark ${p.number}`}”: ${f.canonical || 'standing'}. ${first}`;
  };

  on(['model'], () => figure.model(state.model));
  on(['phase', 'report', 'voice'], arrive);
  on(['phase', 'report', 'ghost'], haunt);
  on(['trial', 'phase'], trying);
  on(['at'], part);
}
