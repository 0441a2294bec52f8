// @ts-check
// Remarks: notes by those who look the study over, pinned to the moment at which
// they began to write or to the whole phase, answered and settled. Who writes is
// asked once. What is typed is kept until it is pinned.

import { $, fill, h, say } from './dom.js';
import { clock } from './times.js';
import { here, keep, on, set, state } from './state.js';
import * as api from './api.js';

/**
 * @typedef {{id: number, mark: number, at_ms: number, by: string, text: string, answer: string, answer_by: string, settled: boolean}} Remark
 * @param {{change: (what: () => Promise<any>, done: string) => Promise<any>, at: () => number, go: (t: number) => void}} act
 */
export function makeRemarks(act) {
  const text = h('textarea', { id: 'remark-text', rows: 2, maxLength: 9000 });
  const by = h('input', { type: 'text', id: 'remark-by', maxLength: 200, autocomplete: 'name' });
  const moment = h('input', { type: 'radio', name: 'remark-about', id: 'remark-moment', checked: true });
  const phase = h('input', { type: 'radio', name: 'remark-about', id: 'remark-phase' });
  const momentText = h('span');
  const phaseText = h('span');
  const pin = h('button', { class: 'main', type: 'submit' }, 'Pin it');
  const form = h('form', { class: 'remark-form', onsubmit: (/** @type {Event} */ e) => (e.preventDefault(), add()) },
    h('label', { class: 'field' }, h('span', {}, 'Your remark'), text),
    h('div', { class: 'line' },
      h('fieldset', {}, h('legend', { class: 'sr' }, 'About'), h('label', { class: 'check' }, moment, momentText), h('label', { class: 'check' }, phase, phaseText)),
      h('label', { class: 'field who' }, h('span', {}, 'Your name'), by), pin));
  const onlyOpen = h('input', { type: 'checkbox', id: 'remarks-open' });
  const list = h('ol', { class: 'remark-list' });
  fill($('remarks'), form, h('label', { class: 'check', id: 'remarks-filter' }, onlyOpen, 'only those that are not settled'), list);

  const draftKey = () => `remark.${state.report?.study.id}`;
  let at = -1; // the moment at which writing began
  /** Answers that are being written, by remark. @type {Map<number, string>} */
  const answers = new Map(Object.entries(keep('answers') ?? {}).map(([k, v]) => [Number(k), String(v)]));

  by.value = keep('name') ?? '';
  by.addEventListener('change', () => keep('name', by.value.trim()));
  text.addEventListener('input', () => {
    if (!text.value.trim()) at = -1;
    else if (at < 0) at = act.at();
    keep(draftKey(), text.value ? { text: text.value, at } : null);
    about();
  });
  text.addEventListener('keydown', (/** @type {KeyboardEvent} */ e) => {
    if (e.key === 'Enter' && (e.ctrlKey || e.metaKey)) add();
  });

  const about = () => {
    const p = here();
    momentText.textContent = `this moment, ${clock(at >= 0 ? at : state.at, 1)}`;
    phaseText.textContent = p ? `the phase “${p.title || `mark ${p.number}`}”` : 'the phase';
    phase.disabled = !p;
    if (!p && phase.checked) moment.checked = true;
    pin.disabled = !text.value.trim();
  };

  const add = async () => {
    const said = text.value.trim();
    if (!said) return;
    const p = here();
    const where = phase.checked && p ? { mark: p.mark } : { at_ms: at >= 0 ? at : act.at() };
    keep('name', by.value.trim());
    if (!(await act.change(() => api.addRemark({ text: said, by: by.value.trim(), ...where }), 'Remark pinned.'))) return;
    if (text.value.trim() === said) {
      text.value = '';
      at = -1;
      keep(draftKey(), null);
    }
    about();
  };

  const answer = (/** @type {Remark} */ r) => {
    const field = h('textarea', { rows: 2, maxLength: 9000, id: `answer-${r.id}`, value: answers.get(r.id) ?? r.answer });
    const kept = () => {
      keep('answers', answers.size ? Object.fromEntries(answers) : null);
    };
    field.addEventListener('input', () => {
      answers.set(r.id, field.value);
      kept();
    });
    const done = (/** @type {boolean} */ settle) => async () => {
      const sent = field.value.trim();
      const change = { answer: sent, answer_by: sent ? by.value.trim() : '', ...(settle ? { settled: true } : {}) };
      const had = answers.get(r.id);
      answers.delete(r.id); // so that the list that comes back shows the answer
      if (await act.change(() => api.changeRemark(r.id, change), settle ? 'Answered and settled.' : 'Answered.')) kept();
      else if (had !== undefined) answers.set(r.id, had);
    };
    return h('div', { class: 'answering' },
      h('label', { class: 'field' }, h('span', {}, 'Answer'), field),
      h('div', { class: 'line' },
        h('button', { type: 'button', class: 'main', onclick: done(false) }, 'Answer'),
        h('button', { type: 'button', onclick: done(true) }, 'Answer and settle'),
        h('button', { type: 'button', class: 'plain', onclick: () => (answers.delete(r.id), kept(), draw()) }, 'leave it')));
  };

  const item = (/** @type {Remark} */ r) => {
    const p = r.mark ? state.report.phases.find((/** @type {{mark: number}} */ x) => x.mark === r.mark) : null;
    const settle = () => act.change(() => api.changeRemark(r.id, { settled: !r.settled }), r.settled ? 'Opened again.' : 'Settled.');
    return h('li', { id: `remark-${r.id}`, class: `${r.settled ? 'settled' : ''}${state.remark === r.id ? ' chosen' : ''}` },
      h('p', { class: 'head-line' },
        h('button', { type: 'button', onclick: () => (set({ remark: r.id }), act.go(r.at_ms)) }, clock(r.at_ms, 1)),
        h('span', { class: 'quiet' }, [p && `on “${p.title || `mark ${p.number}`}”`, r.by && `by ${r.by}`, r.settled && 'settled'].filter(Boolean).join(', '))),
      h('p', { class: 'said' }, r.text),
      r.answer && !answers.has(r.id) && h('p', { class: 'answer' }, h('span', { class: 'quiet' }, r.answer_by ? `${r.answer_by}: ` : 'Answer: '), r.answer),
      answers.has(r.id) ? answer(r) : h('div', { class: 'line' },
        h('button', { type: 'button', onclick: () => (answers.set(r.id, r.answer), draw(), $(`answer-${r.id}`)?.focus()) }, r.answer ? 'Answer anew' : 'Answer'),
        h('button', { type: 'button', onclick: settle }, r.settled ? 'Open again' : 'Settle'),
        h('button', { type: 'button', class: 'plain', onclick: () => act.change(() => api.removeRemark(r.id), 'Removed. Undo brings it back.') }, 'remove')));
  };

  const draw = () => {
    /** @type {Remark[]} */
    const remarks = state.report?.remarks ?? [];
    const focus = document.activeElement?.id;
    const cursor = /** @type {HTMLTextAreaElement} */ (document.activeElement)?.selectionStart;
    const shown = remarks.filter((r) => !onlyOpen.checked || !r.settled);
    fill(list, ...shown.map(item));
    const open = remarks.filter((r) => !r.settled).length;
    $('remarks-title').textContent = remarks.length ? `Remarks: ${open} open, ${remarks.length - open} settled` : 'Remarks';
    $('remarks-filter').hidden = remarks.length < 2;
    if (focus?.startsWith('answer-')) {
      const field = $(focus);
      field?.focus();
      field?.setSelectionRange(cursor, cursor);
    }
    about();
  };
  onlyOpen.addEventListener('change', draw);

  let study = '';
  on(['report'], () => {
    if (state.report?.study.id !== study) {
      study = state.report.study.id;
      const draft = keep(draftKey());
      if (draft && !text.value) {
        text.value = draft.text;
        at = draft.at;
      }
    }
    draw();
  });
  on(['remark'], draw);
  on(['phase'], about);
  on(['at'], () => at < 0 && !state.playing && about());

  return {
    /** Begins a remark about what is on the screen. */
    write() {
      moment.checked = true;
      text.focus();
    },
    /** Shows one, and says it. @param {Remark} r */
    show(r) {
      set({ remark: r.id });
      $(`remark-${r.id}`)?.scrollIntoView({ block: 'nearest' });
      say(`Remark${r.by && ` by ${r.by}`}: ${r.text}`);
    },
  };
}
