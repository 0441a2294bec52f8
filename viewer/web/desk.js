// @ts-check
// Where a mark is written: its title and its posture in words, read while they
// are typed. What is typed and not yet saved is kept, whatever happens to the
// server, the page or the playhead.

import { $, fill, h, say } from './dom.js';
import { clock } from './times.js';
import { here, keep, on, state } from './state.js';
import * as api from './api.js';

const pause = 140; // ms after the last key before the words are read

/**
 * @param {{change: (what: () => Promise<any>, done: string) => Promise<any>, at: () => number, go: (t: number) => void}} act
 */
export function makeDesk(act) {
  const title = h('input', { type: 'text', id: 'mark-title', maxLength: 300, autocomplete: 'off' });
  const words = h('textarea', { id: 'mark-words', rows: 4, maxLength: 9000, spellcheck: false, 'aria-describedby': 'reading' });
  const reading = h('div', { class: 'reading', id: 'reading', 'aria-live': 'polite' });
  const save = h('button', { class: 'main', type: 'submit' }, 'Save');
  const back = h('button', { class: 'plain', type: 'button', onclick: () => putBack() }, 'put back');
  const move = h('button', { type: 'button', onclick: () => moveHere() }, 'Move to the playhead');
  const remove = h('button', { type: 'button', onclick: () => removeMark() }, 'Remove');
  const held = h('p', { class: 'quiet line', hidden: true });
  const form = h('form', { onsubmit: (/** @type {Event} */ e) => (e.preventDefault(), store()) },
    h('div', { class: 'line' },
      h('label', { class: 'field' }, h('span', {}, 'Title'), title),
      save, back, move, remove),
    held,
    h('label', { class: 'field' }, h('span', {}, 'Posture, in words'), words),
    reading);
  const empty = h('p', { class: 'quiet' }, 'A mark is a moment with a title and a posture in words: “standing on toes; shoulders flexed 170”.');
  fill($('desk'), empty, form);
  /** @type {import('./state.js').Phase|null} */
  let mark = null; // the phase whose mark is on the desk
  let timer = 0;
  let asked = 0;

  const draftKey = () => `draft.${state.report?.study.id}.${mark?.mark}`;
  const dirty = () => !!mark && (title.value !== mark.title || words.value !== mark.words);

  const buttons = () => {
    const d = dirty();
    save.disabled = !d;
    back.hidden = !d;
    keep(draftKey(), d ? { title: title.value, words: words.value } : null);
    const p = here();
    held.hidden = !(d && mark && p && p.mark !== mark.mark);
    if (!held.hidden && mark) held.textContent = `Still writing “${mark.title || `mark ${mark.number}`}” at ${clock(mark.from_ms, 1)}: save it or put it back to go on.`;
    $('desk-title').textContent = mark ? `Mark ${mark.number} at ${clock(mark.from_ms)}` : 'Mark';
  };

  /** Puts a mark on the desk, with what was typed for it before. */
  const lay = (/** @type {import('./state.js').Phase|null} */ p) => {
    mark = p;
    form.hidden = !p;
    empty.hidden = !!p;
    if (!p) return;
    const draft = keep(draftKey());
    title.value = draft?.title ?? p.title;
    words.value = draft?.words ?? p.words;
    title.placeholder = `Mark ${p.number}`;
    words.placeholder = p.number > 1 ? `the posture so far: ${p.in_force || 'nothing said yet'}` : 'standing; shoulders flexed 90';
    buttons();
    read();
  };

  const follow = () => {
    const phases = state.report?.phases ?? [];
    if (mark) {
      const same = phases.find((/** @type {{mark: number}} */ p) => p.mark === mark?.mark) ?? null;
      if (same && dirty()) {
        // Written on here: take in what else changed about it, keep what is typed.
        mark = same;
        buttons();
        return;
      }
      if (!same && dirty()) say('The mark you were writing was removed elsewhere. Undo brings it back.');
    }
    const p = here();
    if (!p || !mark || p.mark !== mark.mark || p.title !== title.value || p.words !== words.value || p.in_force !== mark.in_force) lay(p);
    else {
      mark = p;
      buttons();
    }
  };

  const read = () => {
    clearTimeout(timer);
    timer = setTimeout(async () => {
      const text = words.value;
      const mine = ++asked;
      if (!text.trim()) {
        fill(reading, mark && mark.number > 1 && h('p', { class: 'quiet' }, 'Empty means: the posture so far.'));
        return;
      }
      try {
        const r = await api.read(text);
        if (mine === asked) told(text, r);
      } catch {
        if (mine === asked) fill(reading, h('p', { class: 'quiet' }, 'Not read just now; what you type is kept.'));
      }
    }, pause);
  };

  const told = (/** @type {string} */ text, /** @type {any} */ r) => {
    fill(reading,
      h('p', { class: 'canonical' }, h('span', { class: 'quiet' }, 'Understood: '), r.canonical || 'nothing yet'),
      ...r.unknown.map((/** @type {any} */ u) => h('p', {}, h('mark', {}, u.text), ` ${u.why}. `,
        u.near.length > 0 && h('span', { class: 'chips' }, ...u.near.slice(0, 4).map((/** @type {string} */ n) =>
          h('button', { type: 'button', onclick: () => use(u.from, u.to, n, text) }, n))))));
  };

  /** Puts words in place of some that were not understood. */
  const use = (/** @type {number} */ from, /** @type {number} */ to, /** @type {string} */ put, /** @type {string} */ seen = words.value) => {
    if (words.value !== seen) return; // typed on meanwhile
    words.value = seen.slice(0, from) + put + seen.slice(to);
    buttons();
    read();
    words.focus();
  };

  const store = async () => {
    if (!mark || !dirty()) return;
    const sent = { title: title.value, words: words.value };
    const id = mark.mark;
    const ok = await act.change(() => api.changeMark(id, sent), 'Saved.');
    if (ok && mark?.mark === id && title.value === sent.title && words.value === sent.words) {
      mark = { ...mark, ...sent };
      buttons();
    }
  };
  const putBack = () => {
    if (!mark) return;
    keep(draftKey(), null);
    lay(here());
    title.focus();
  };
  const moveHere = () => {
    const m = mark;
    if (m) act.change(() => api.changeMark(m.mark, { at_ms: act.at() }), 'Moved.');
  };
  const removeMark = () => {
    const m = mark;
    if (!m) return;
    keep(draftKey(), null);
    title.value = m.title;
    words.value = m.words;
    act.change(() => api.removeMark(m.mark), 'Removed. Undo brings it back.');
  };

  const list = () => {
    const phases = state.report?.phases ?? [];
    $('marks').hidden = !phases.length;
    fill($('mark-list'), ...phases.map((/** @type {import('./state.js').Phase} */ p, /** @type {number} */ i) =>
      h('li', {}, h('button', { type: 'button', 'aria-current': i === state.phase ? 'true' : undefined, onclick: () => act.go(p.from_ms) },
        h('span', {}, clock(p.from_ms)), p.title || `Mark ${p.number}`))));
  };

  for (const field of [title, words]) {
    field.addEventListener('input', () => {
      buttons();
      if (field === words) read();
    });
    field.addEventListener('keydown', (/** @type {KeyboardEvent} */ e) => {
      if (e.key === 'Enter' && (e.ctrlKey || e.metaKey)) store();
    });
  }
  on(['report', 'phase'], () => {
    follow();
    list();
  });

  return {
    write: () => title.focus(),
    /** From the findings: the words of the phase here. @param {number} from @param {number} to @param {string} put */
    use(from, to, put) {
      const p = here();
      if (!p) return;
      // Words not understood here may have been typed at an earlier mark.
      const typed = p.words ? p : [...state.report.phases].slice(0, state.phase).reverse().find((/** @type {{words: string}} */ x) => x.words) ?? p;
      if (typed.mark !== mark?.mark) {
        if (dirty()) return say('Save what you are writing first.');
        lay(typed);
      }
      use(from, to, put);
    },
  };
}
