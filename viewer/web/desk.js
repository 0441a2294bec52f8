// @ts-check
// Where a mark is written: its title and its posture in words, read while they
// are typed. What is typed and not yet saved is kept, whatever happens to the
// server, the page or the playhead.

import { $, fill, h, say } from './dom.js';
import { clock } from './times.js';
import { here, keep, on, state } from './state.js';
import * as api from './api.js';
import { makeEditor } from './editor.js';
import { makeKeepers } from './keepers.js';

/**
 * @param {{change: (what: () => Promise<any>, done: string) => Promise<any>, at: () => number, go: (t: number) => void, pause: () => void, figure: any}} act
 */
export function makeDesk(act) {
  const title = h('input', { type: 'text', id: 'mark-title', maxLength: 300, autocomplete: 'off' });
  const editor = makeEditor(() => buttons(), act);
  const words = editor.field;
  const keepers = makeKeepers(editor, act.change);
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
    h('div', { class: 'wordbox' }, h('label', { class: 'field' }, h('span', {}, 'Posture, in words'), words), editor.near),
    h('div', { class: 'heard' }, editor.reading, editor.does),
    h('div', { class: 'with' }, h('div', { class: 'tools' }, ...editor.tabs, keepers.from, keepers.mirror), editor.panel, keepers.kept));
  const empty = h('p', { class: 'quiet' }, 'A mark is a moment with a title and a posture in words: “standing on toes; shoulders flexed 170”.');
  fill($('desk'), empty, form);
  /** @type {import('./state.js').Phase|null} */
  let mark = null; // the phase whose mark is on the desk

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
    $('phase-does').hidden = !p;
    if (!p) return;
    const draft = keep(draftKey());
    title.value = draft?.title ?? p.title;
    title.placeholder = `Mark ${p.number}`;
    words.placeholder = p.number > 1 ? `the posture so far: ${p.in_force || 'nothing said yet'}` : 'standing; shoulders flexed 90';
    editor.lay(p, draft?.words ?? p.words);
    buttons();
  };

  const follow = () => {
    const phases = state.report?.phases ?? [];
    if (mark) {
      const same = phases.find((/** @type {{mark: number}} */ p) => p.mark === mark?.mark) ?? null;
      if (same && dirty()) {
        // Written on here: take in what else changed about it, keep what is typed.
        mark = same;
        editor.know(same);
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

  const store = async () => {
    if (!mark || !dirty()) return;
    const sent = { title: title.value, words: words.value };
    const id = mark.mark;
    const ok = await act.change(() => api.changeMark(id, sent), 'Saved.');
    if (ok && mark?.mark === id && title.value === sent.title && words.value === sent.words) {
      mark = { ...mark, ...sent };
      editor.know(mark);
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
    editor.end();
    act.change(() => api.removeMark(m.mark), 'Removed. Undo brings it back.');
  };

  // Made when it is opened: a long study has a thousand marks.
  /** @type {HTMLElement[]} */
  let items = [];
  let lit = -1;
  const light = () => {
    items[lit]?.removeAttribute('aria-current');
    lit = state.phase;
    items[lit]?.setAttribute('aria-current', 'true');
  };
  const list = () => {
    const phases = state.report?.phases ?? [];
    $('marks').hidden = !phases.length;
    items = !$('marks').open ? [] : phases.map((/** @type {import('./state.js').Phase} */ p) =>
      h('button', { type: 'button', onclick: () => act.go(p.from_ms) }, h('span', {}, clock(p.from_ms)), p.title || `Mark ${p.number}`));
    fill($('mark-list'), ...items.map((b) => h('li', {}, b)));
    light();
  };
  $('marks').addEventListener('toggle', list);

  for (const field of [title, words]) {
    if (field === title) field.addEventListener('input', buttons);
    field.addEventListener('keydown', (/** @type {KeyboardEvent} */ e) => {
      if (e.key === 'Enter' && (e.ctrlKey || e.metaKey)) store();
    });
  }
  on(['report', 'phase'], follow);
  on(['report'], list);
  on(['phase'], light);

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
      editor.use(from, to, put);
    },
  };
}
