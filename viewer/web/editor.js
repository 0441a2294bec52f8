// @ts-check
// A posture while it is edited: its words, its dials and what it bears are one
// state. Words that are typed set the dials; a dial that is turned writes the
// words. Each change is asked about while it is made.

import * as api from './api.js';
import { $, fill, h } from './dom.js';
import { set, state } from './state.js';
import { makeBearing } from './bearing.js';
import { makeCompare } from './compare.js';
import { makeDials } from './dials.js';
import { makeMeasure } from './measure.js';
import { makeTrial } from './trial.js';
import { makeWords } from './words.js';

const pause = 90; // ms after the last key before the words are asked about

/**
 * @param {() => void} written the words have changed
 * @param {any} act what the desk may do, and the figure
 */
export function makeEditor(written, act) {
  /** @type {any} */
  let vocabulary = null;
  /** @type {any} */
  let dials = null;
  /** @type {any} */
  let bearing = null;
  /** @type {any} */
  let answer = null; // the last that is of the present words
  /** @type {import('./state.js').Phase|null} */
  let mark = null;
  let before = ''; // the posture so far, which no words mean
  let fresh = true; // another posture was laid out
  let timer = 0;

  const words = makeWords(() => vocabulary, () => {
    written();
    clearTimeout(timer);
    timer = setTimeout(byWords, pause);
  });
  const text = () => words.field.value.trim();
  const saved = () => mark?.words.trim() || before;

  const trial = makeTrial((asked, a) => {
    answer = a;
    if (asked.state) {
      // What was not understood stays behind what the dials say.
      const left = asked.left ?? [];
      words.field.value = [a.canonical, ...left.map((/** @type {any} */ u) => u.text)].filter(Boolean).join('; ');
      let at = a.canonical.length;
      answer.unknown = left.map((/** @type {any} */ u) => {
        const from = words.field.value.indexOf(u.text, at);
        at = from + u.text.length;
        return { ...u, from, to: at };
      });
      written();
    }
    if (text() || answer.canonical !== '') words.told(answer);
    if (!text() && !asked.state) words.note(mark && mark.number > 1 ? 'Empty means: the posture so far.' : '');
    dials?.show(a, fresh);
    bearing?.show(a.state);
    fresh = false;
    changes(asked.show ? a.varied : null);
  }, () => words.note('Not read just now; what you type is kept.'));

  const ask = (/** @type {object} */ what, /** @type {boolean} */ show, /** @type {object} */ more = {}) => {
    if (!mark) return;
    if (!show) set({ trial: null });
    trial.ask({ mark: mark.mark, request: show ? { ...what, against: saved() } : what, show, whole: show, ...more });
  };
  const byWords = () => {
    clearTimeout(timer);
    const now = text() || before;
    ask({ words: now }, now !== saved());
  };
  const byState = (/** @type {any} */ next) => {
    clearTimeout(timer);
    if (answer) answer.state = next;
    ask({ state: next }, true, { state: true, left: answer?.unknown ?? [] });
  };
  const turned = (/** @type {{key: string, value: number|null}[]} */ changed) => {
    if (!answer) return;
    const positions = answer.state.positions.filter((/** @type {any} */ p) => !changed.some((c) => c.key === p.movement));
    for (const c of changed) if (c.value !== null) positions.push({ movement: c.key, value_deg: c.value });
    byState({ ...answer.state, positions });
  };

  // What the change so far does, beside what is saved.
  const does = h('div', { class: 'does', 'aria-live': 'off' });
  const changes = (/** @type {any} */ v) => {
    fill(does, v && v.statements.length > 0 && h('h3', {}, 'What this changes'),
      v && h('ul', {}, ...v.statements.slice(0, 4).map((/** @type {any} */ s) => h('li', { class: s.kind }, s.text))),
      v && v.statements.length === 0 && h('p', { class: 'quiet' }, 'Nothing that stands out changes.'));
  };

  const panel = h('div', { class: 'panel', hidden: true });
  /** @type {any[]} */
  const made = [];
  /** @type {[string, () => any][]} */
  const panels = [
    ['Dials', () => (dials ??= makeDials(vocabulary.movements, turned))],
    ['Supports, loads, cues', () => (bearing ??= makeBearing(vocabulary, byState))],
    ['Angle from the picture', () => makeMeasure(vocabulary, { dial: (key, value) => turned([{ key, value }]) }, act)],
    ['Compare', () => makeCompare({ now: () => text() || before }, act.figure)],
  ];
  const tabs = panels.map(([name], i) => h('button', { type: 'button', 'aria-expanded': 'false', 'aria-controls': 'posture-panel', onclick: () => open(panel.hidden || shown !== i ? i : -1) }, name));
  panel.id = 'posture-panel';
  let shown = -1;
  const open = async (/** @type {number} */ i) => {
    shown = i;
    tabs.forEach((t, k) => t.setAttribute('aria-expanded', String(k === i)));
    panel.hidden = i < 0;
    const before = document.documentElement.classList.contains('editing');
    document.documentElement.classList.toggle('editing', i >= 0);
    made.forEach((p, k) => k !== i && p?.open?.(false));
    if (i < 0) return;
    if (!before && innerWidth > 720) scrollTo({ top: 0 });
    if (innerWidth <= 720) panel.scrollIntoView({ block: 'center' });
    if (!vocabulary) fill(panel, h('p', { class: 'quiet' }, 'One moment …'));
    try {
      vocabulary ??= await api.vocabulary();
    } catch {
      fill(panel, h('p', { class: 'quiet' }, 'Not here just now.'));
      return;
    }
    if (shown !== i) return;
    made[i] ??= panels[i][1]();
    fill(panel, made[i].el);
    made[i].open?.(true);
    if (answer) {
      dials?.show(answer, true);
      bearing?.show(answer.state);
    }
  };

  // The same from where the findings are read.
  fill($('phase-does'), ...[['Try a change', 0], ['Compare', 3], ['Measure', 2]].map(([name, i]) =>
    h('button', { type: 'button', onclick: async () => {
      await open(Number(i));
      /** @type {HTMLElement|null} */ (panel.querySelector('input, button'))?.focus({ preventScroll: true });
    } }, String(name))));

  return {
    field: words.field, reading: words.reading, near: words.near, does, tabs, panel, use: words.use,
    /** Lays out a mark's words, or what was typed for it. @param {import('./state.js').Phase} p @param {string} typed */
    lay(p, typed) {
      if (p.mark !== mark?.mark) fresh = true;
      mark = p;
      const phases = state.report?.phases ?? [];
      before = phases[p.number - 2]?.in_force ?? '';
      words.field.value = typed;
      fill(words.near);
      byWords();
      if (!vocabulary) api.vocabulary().then((v) => (vocabulary ??= v)).catch(() => {});
    },
    /** Takes in what changed about the mark elsewhere. @param {import('./state.js').Phase} p */
    know(p) {
      mark = p;
      byWords();
    },
    /** Puts other words in. @param {string} put */
    write(put) {
      words.field.value = put;
      fresh = true;
      written();
      byWords();
    },
    /** Asks for the mirror image of what is written. */
    mirror() {
      if (!answer) return;
      fresh = true;
      ask({ state: answer.state, mirror: true }, true, { state: true, left: answer.unknown });
    },
    canonical: () => answer?.canonical ?? '',
    end() {
      trial.end();
      set({ trial: null });
    },
  };
}
