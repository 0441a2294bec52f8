// @ts-check
// The score in words: a table of phases and regions, for those who do not see
// the ribbons. It is made when it is opened, around the phase that is shown.

import { $, fill, h } from './dom.js';
import { clock } from './times.js';
import { state } from './state.js';

const most = 24; // phases at once

/** @param {{go: (t: number) => void, rows: () => import('./scoredata.js').Row[], words: (row: import('./scoredata.js').Row, phase: number) => string}} act */
export function makeScoreWords(act) {
  const box = $('score-words');
  const draw = () => {
    if (!box.open) return;
    const phases = state.report?.phases ?? [];
    const first = Math.max(0, Math.min(phases.length - most, state.phase - most / 2));
    const rows = act.rows();
    const shown = phases.slice(first, first + most);
    fill($('score-table'),
      shown.length < phases.length && h('p', { class: 'quiet' }, `Phases ${first + 1} to ${first + shown.length} of ${phases.length}; move the playhead to see others.`),
      h('div', { class: 'wide-table', tabindex: 0, role: 'region', 'aria-label': 'What each body region does, by phase' }, h('table', {},
        h('thead', {}, h('tr', {}, h('th', { scope: 'col' }, 'Phase'), ...rows.map((r) => h('th', { scope: 'col' }, r.name)))),
        h('tbody', {}, ...shown.map((/** @type {import('./state.js').Phase} */ p, /** @type {number} */ i) =>
          h('tr', { 'aria-current': first + i === state.phase ? 'true' : undefined },
            h('th', { scope: 'row' }, h('button', { type: 'button', onclick: () => act.go(p.from_ms) }, clock(p.from_ms, 1)), ` ${p.title || `Mark ${p.number}`}`),
            ...rows.map((r) => h('td', {}, act.words(r, first + i)))))))));
  };
  box.addEventListener('toggle', draw);
  return draw;
}
