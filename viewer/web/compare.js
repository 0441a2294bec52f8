// @ts-check
// Two postures side by side: the one at hand, and a variation of it in words, a
// posture of another mark, or the same with more or less intent. Two bodies seen
// from the same side, and what changes in words and in figures.

import { $, fill, h } from './dom.js';
import { makeFigure } from './figure.js';
import { on, set, state } from './state.js';
import { makeTrial } from './trial.js';
import { unpack } from './scene.js';

const offers = ['heels down', 'palms turned', 'with 2 kg', 'without load', 'knees pulled straight firmly', 'without cues'];
const strength = (/** @type {number} */ x) => (x === 0 ? 'not asked for' : x < 20 ? `lightly, ${x}%` : x < 45 ? `firmly, ${x}%` : `strongly, ${x}%`);

/** Figures of both sides that are the same, as one. @param {{name: string, role: string, from: number, to: number}[]} list @param {number} most */
export function rows(list, most) {
  /** @type {Map<string, {name: string, role: string, from: number, to: number}>} */
  const found = new Map();
  for (const f of list) {
    const [from, to] = [Math.round(f.from), Math.round(f.to)];
    const name = f.name.replace(/, (right|left)$/, '');
    const key = `${name} ${f.role} ${from} ${to}`;
    found.set(key, { ...f, from, to, name: found.has(key) ? name : f.name });
  }
  return [...found.values()].filter((f) => f.from !== f.to).slice(0, most);
}

/**
 * @param {{now: () => string}} editor
 * @param {{follow: (yaw: number, pitch: number) => void}} first
 */
export function makeCompare(editor, first) {
  const box = $('second');
  const figure = makeFigure($('figure-2'), $('tip-2'), {
    tapped: (muscle) => set({ muscle, muscleOf: shown?.key ?? '' }), viewed: () => {}, turned: first.follow,
  });
  /** @type {any} */
  let shown = null;
  let open = false;
  /** @type {number|null} */
  let intent = null;
  const trial = makeTrial((asked, a) => {
    shown = a;
    figure.show(unpack({ samples: [a.sample] }), 0);
    const m = a.findings.muscles;
    figure.paint(m.roles, m.grades, m.efforts, m.pulls);
    figure.say(`The variation: ${a.canonical || 'standing'}.`);
    told(a);
  }, () => fill(says, h('p', { class: 'quiet' }, 'Not told just now.')));

  const ask = () => {
    if (!open || !editor.now()) return;
    const base = editor.now();
    const request = { ...(other.value ? { words: other.value } : { base, words: words.value }), against: base, ...(intent === null ? {} : { intent: intent / 100 }) };
    trial.ask({ mark: 0, request, show: false, whole: true });
  };
  const words = h('input', { type: 'text', id: 'vary', maxLength: 2000, autocomplete: 'off', oninput: () => {
    other.selectedIndex = 0;
    ask();
  } });
  const other = h('select', { 'aria-label': 'Compare with another posture', onchange: () => {
    words.value = '';
    ask();
  } });
  const chips = h('div', { class: 'chips' }, ...offers.map((o) => h('button', { type: 'button', onclick: () => {
    words.value = o;
    other.selectedIndex = 0;
    ask();
  } }, o)));
  const slider = h('input', { type: 'range', id: 'intent', min: 0, max: 100, step: 5, value: '30', oninput: () => {
    intent = Number(slider.value);
    ask();
  } });
  const much = h('output', {}, 'as it says');
  const asSaid = h('button', { type: 'button', class: 'plain', onclick: () => {
    intent = null;
    ask();
  } }, 'as it says');
  const heard = h('p', { class: 'canonical' });
  const says = h('div', { class: 'does' });
  const el = h('div', { class: 'compare' },
    h('div', {}, h('label', { class: 'field', for: 'vary' }, h('span', {}, 'What is different, in words'), words), chips, other,
      h('label', { class: 'field', for: 'intent' }, h('span', {}, 'Intent of what it is asked for')), h('span', { class: 'intent' }, slider, much, asSaid), heard),
    says);

  const told = (/** @type {any} */ a) => {
    const cued = a.state.cues.length > 0 || intent !== null;
    slider.disabled = !cued;
    if (intent === null && a.state.cues[0]) slider.value = String(Math.round(a.state.cues[0].intensity * 100));
    much.textContent = !cued ? 'no cue in it' : intent === null ? 'as it says' : strength(intent);
    slider.setAttribute('aria-valuetext', much.textContent);
    asSaid.hidden = intent === null;
    fill(heard, a.canonical || 'standing', ...a.unknown.map((/** @type {any} */ u) => h('span', {}, '; not understood: ', h('mark', {}, u.text))));
    const v = a.varied;
    const bars = rows(v.figures, 8);
    const work = (/** @type {string} */ role) => role === 'working';
    fill(says, ...v.differs.map((/** @type {string} */ d) => h('p', { class: 'quiet' }, d)), h('p', {}, v.effort),
      h('ul', {}, ...v.statements.slice(0, 6).map((/** @type {any} */ s) => h('li', { class: s.kind }, s.text))),
      bars.length > 0 && h('table', {}, h('thead', {}, h('tr', {}, ...['', 'here', 'varied'].map((t) => h('th', { scope: 'col' }, t)))),
        h('tbody', {}, ...bars.map((f) => h('tr', { class: work(f.role) ? 'work' : 'long' },
          h('th', { scope: 'row' }, f.name, h('span', { class: 'quiet' }, work(f.role) ? ' of strength' : ' of span')), h('td', {}, `${f.from}%`), h('td', {}, h('b', {}, `${f.to}%`)))))));
  };
  const list = () => {
    const { phases = [], postures = [] } = state.report ?? {};
    const was = other.value;
    fill(other, h('option', { value: '' }, 'or another posture …'),
      ...postures.map((/** @type {any} */ p) => h('option', { value: p.words }, p.name)),
      ...phases.filter((/** @type {any} */ p) => p.in_force).map((/** @type {any} */ p) => h('option', { value: p.in_force }, `${p.number}. ${p.title || 'mark'}`)));
    other.value = was;
    if (other.selectedIndex < 0) other.selectedIndex = 0;
  };
  on(['report'], list);
  on(['report', 'phase', 'trial'], ask);
  on(['model'], () => figure.model(state.model));
  on(['looked'], () => figure.follow(state.looked[0], state.looked[1]));
  $('close-up').addEventListener('change', () => figure.close($('close-up').value));
  if (state.model) figure.model(state.model);
  list();
  return {
    el,
    /** @param {boolean} show */
    open(show) {
      open = show;
      box.hidden = !show;
      document.documentElement.classList.toggle('comparing', show);
      if (!show) {
        trial.end();
        set({ muscleOf: '' });
        return;
      }
      if (state.looked) figure.follow(state.looked[0], state.looked[1]);
      figure.close($('close-up').value);
      ask();
    },
  };
}
