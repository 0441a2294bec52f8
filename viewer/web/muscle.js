// @ts-check
// One muscle asked about: its names in three voices, where it stands in its
// span, and why.

import { $, fill, h, say } from './dom.js';
import { here, on, set, state } from './state.js';
import { reasonList, sourceList } from './reasons.js';
import { shareBars } from './shares.js';
import * as api from './api.js';

export function makeMuscle() {
  const box = $('muscle');
  let asked = 0;

  const close = () => {
    set({ muscle: -1 });
    $('findings').focus();
  };

  const show = async () => {
    const p = here();
    if (state.muscle < 0 || !p) {
      box.hidden = true;
      return;
    }
    const mine = ++asked;
    let m;
    try {
      const tried = state.muscleOf || state.findings?.tried;
      m = tried ? await api.triedMuscle(tried, state.muscle, state.voice) : await api.muscle(p.number, state.muscle, state.voice);
    } catch {
      return; // the banner says it
    }
    if (mine !== asked || state.muscle < 0) return;
    const mark = h('i');
    mark.style.left = `${Math.min(100, Math.max(0, m.place * 100))}%`;
    const was = box.hidden;
    box.hidden = false;
    fill(box,
      h('button', { class: 'icon close', type: 'button', onclick: close }, h('span', { 'aria-hidden': 'true' }, '×'), h('span', { class: 'sr' }, 'Close')),
      h('h3', { id: 'muscle-title' }, m.plain || m.name),
      h('p', {}, m.name, m.latin && h('span', { class: 'latin' }, ` · ${m.latin}`)),
      h('p', {}, m.state),
      m.part && h('p', {}, m.part),
      m.pull && h('p', { class: 'quiet' }, m.pull),
      h('div', { class: 'span', role: 'img', 'aria-label': `at ${Math.round(m.place * 100)} percent of its own span` }, mark),
      h('div', { class: 'spanends', 'aria-hidden': 'true' }, h('span', {}, 'its shortest'), h('span', {}, 'its longest')),
      h('p', { class: 'quiet' }, m.length),
      m.effort && h('p', { class: 'quiet' }, m.effort),
      shareBars(m.span, state.findings?.held.near_best ?? 'near-best ways'),
      m.reasons.length > 0 && reasonList(m.reasons, m.sources),
      h('dl', {},
        h('dt', {}, 'from'), h('dd', {}, m.from), h('dt', {}, 'to'), h('dd', {}, m.to),
        ...(m.actions ? [h('dt', {}, 'known for'), h('dd', {}, m.actions)] : [])),
      m.note && h('p', { class: 'note' }, m.note),
      sourceList('Sources', m.sources));
    if (was) box.scrollIntoView({ block: 'nearest' });
    say(`${m.plain || m.name}. ${m.state}`);
  };
  on(['muscle', 'muscleOf', 'phase', 'findings', 'voice'], show);
}
