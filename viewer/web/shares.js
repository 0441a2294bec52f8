// @ts-check
// How much of its full effort a muscle may give, as a soft bar: the span over
// near-best ways, and a mark where the least effort puts it.

import { h } from './dom.js';

/** @typedef {{muscle: number, name: string, text: string, best: number, lo: number, hi: number}} Span */

const whole = (/** @type {number} */ x) => Math.round(x * 100);

/** @param {Span[]} spans @param {string} ways which ways of holding the posture they are over */
export function shareBars(spans, ways) {
  return spans.length > 0 && h('div', { class: 'shares' },
    ...spans.map((s) => {
      const bar = h('i');
      bar.style.left = `${whole(s.lo)}%`;
      bar.style.width = `${Math.max(1, whole(s.hi) - whole(s.lo))}%`;
      const mark = h('b');
      mark.style.left = `${whole(s.best)}%`;
      return h('div', { class: 'share' }, h('span', {}, s.name),
        h('span', { class: 'softbar', 'aria-hidden': 'true' }, bar, mark), h('span', { class: 'of' }, s.text));
    }),
    h('p', { class: 'quiet' }, `Of full effort, in ${ways}.`));
}
