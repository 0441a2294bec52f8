// @ts-check
// Postures from elsewhere: copied from another mark, kept by a name for a whole
// series, or mirrored left for right.

import * as api from './api.js';
import { fill, h } from './dom.js';
import { on, state } from './state.js';

/**
 * @param {{write: (words: string) => void, mirror: () => void, canonical: () => string, field: HTMLTextAreaElement}} editor
 * @param {(what: () => Promise<any>, done: string) => Promise<any>} change
 */
export function makeKeepers(editor, change) {
  const from = h('select', { 'aria-label': 'Copy a posture', onchange: () => {
    if (from.value) editor.write(from.value);
    from.selectedIndex = 0;
  } });
  const mirror = h('button', { type: 'button', onclick: editor.mirror }, 'Mirror');
  const name = h('input', { type: 'text', maxLength: 120, 'aria-label': 'Name to keep this posture by', autocomplete: 'off' });
  const words = () => editor.field.value.trim() || editor.canonical();
  const keep = async () => {
    const called = name.value.trim();
    if (!called || !words()) return name.focus();
    const same = (state.report?.postures ?? []).find((/** @type {any} */ p) => p.name === called);
    const ok = await change(() => (same ? api.changePosture(same.id, { words: words() }) : api.addPosture({ name: called, words: words() })), `Kept as ${called}.`);
    if (ok) name.value = '';
  };
  name.addEventListener('keydown', (/** @type {KeyboardEvent} */ e) => {
    if (e.key !== 'Enter') return;
    e.preventDefault();
    keep();
  });
  const list = h('ul', { class: 'rows' });
  const kept = h('details', { class: 'kept' }, h('summary', {}, 'Kept postures'),
    h('div', { class: 'fields' }, name, h('button', { type: 'button', onclick: keep }, 'Keep this one')), list);

  const option = (/** @type {string} */ value, /** @type {string} */ text) => h('option', { value }, text);
  const draw = () => {
    const { phases = [], postures = [] } = state.report ?? {};
    const group = (/** @type {string} */ label, /** @type {any[]} */ options) => options.length > 0 && h('optgroup', { label }, ...options);
    fill(from, option('', 'Copy from …'),
      group('kept postures', postures.map((/** @type {any} */ p) => option(p.words, p.name))),
      group('marks', phases.filter((/** @type {any} */ p) => p.in_force).map((/** @type {any} */ p) => option(p.in_force, `${p.number}. ${p.title || 'mark'}`))));
    fill(list, ...postures.map((/** @type {any} */ p) => h('li', {}, h('b', {}, p.name), h('span', { class: 'quiet' }, p.words),
      h('button', { type: 'button', onclick: () => editor.write(p.words), 'aria-label': `Use ${p.name}` }, 'Use'),
      h('button', { type: 'button', class: 'plain', onclick: () => change(() => api.removePosture(p.id), 'Forgotten.'), 'aria-label': `Forget ${p.name}` }, '×'))));
  };
  on(['report'], draw);
  draw();
  return { from, mirror, kept };
}
