// @ts-check
// The field in which a posture is written, and under it how it is understood:
// in canonical words, what was not, and what may be meant by what is typed.

import { fill, h } from './dom.js';
import { statementAt, suggest } from './suggest.js';

/**
 * @param {() => any} vocabulary once it is here, else null
 * @param {() => void} typed
 */
export function makeWords(vocabulary, typed) {
  const field = h('textarea', { id: 'mark-words', rows: 4, maxLength: 9000, spellcheck: false, 'aria-describedby': 'reading' });
  const reading = h('div', { class: 'reading', id: 'reading', 'aria-live': 'polite' });
  const near = h('div', { class: 'chips near', role: 'group', 'aria-label': 'May be meant' });

  /** Puts words in place of some. */
  const use = (/** @type {number} */ from, /** @type {number} */ to, /** @type {string} */ put, /** @type {string} */ seen = field.value) => {
    if (field.value !== seen) return; // typed on meanwhile
    field.value = seen.slice(0, from) + put + seen.slice(to);
    fill(near);
    typed();
    field.focus();
    field.setSelectionRange(from + put.length, from + put.length);
  };
  field.addEventListener('input', () => {
    const at = statementAt(field.value, field.selectionStart);
    const words = vocabulary();
    const list = words && document.activeElement === field ? suggest(words.says, at.typed) : [];
    fill(near, ...list.map((p) => h('button', { type: 'button', onclick: () => use(at.from, at.from + at.typed.length, p) }, p)));
    typed();
  });

  return {
    field, reading, near, use,
    /** @param {{canonical: string, unknown: any[]}} r */
    told(r) {
      const text = field.value;
      fill(reading,
        h('p', { class: 'canonical' }, h('span', { class: 'quiet' }, r.canonical === text.trim() ? 'Understood as it stands.' : 'Understood: '), r.canonical === text.trim() ? '' : r.canonical || 'nothing yet'),
        ...r.unknown.map((u) => h('p', {}, h('mark', {}, u.text), ` ${u.why}. `,
          u.near.length > 0 && h('span', { class: 'chips' }, ...u.near.slice(0, 4).map((/** @type {string} */ n) =>
            h('button', { type: 'button', onclick: () => use(u.from, u.to, n, text) }, n))))));
    },
    /** @param {string} text */
    note: (text) => fill(reading, text && h('p', { class: 'quiet' }, text)),
  };
}
