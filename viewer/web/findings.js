// @ts-check
// What is told about the phase under the playhead: sentences, ranked, each
// opening into why, and where the figures come from.

import { $, fill, h } from './dom.js';
import { clock } from './times.js';
import { here, on, state } from './state.js';
import { reasonList, sourceList } from './reasons.js';
import { shareBars } from './shares.js';

const groups = [
  { kind: 'work', title: 'What works' },
  { kind: 'long', title: 'What is drawn long' },
  { kind: 'short', title: 'What is near its shortest' },
  { kind: 'untold', title: 'What cannot be told' },
];
const gradeWords = { must: 'has to', likely: 'likely', may: 'may', 'not told': 'not told', geometry: '' };
/** Which sentences are wanted. @type {Record<string, (s: any) => boolean>} */
const wanted = {
  all: () => true,
  work: (s) => s.kind === 'work',
  long: (s) => s.kind === 'long' || s.kind === 'lengthens',
  doubt: (s) => s.kind === 'untold' || s.grade === 'may' || s.grade === 'not told',
};
const lead = 4; // sentences of a group that are shown before "more"

/** @param {{ring: (muscles: number[]) => void, ask: (muscle: number) => void, use: (from: number, to: number, text: string) => void}} act */
export function makeFindings(act) {
  /** Which sentences stand open, by text, so that an answer that comes anew leaves them open. @type {Set<string>} */
  const open = new Set();

  const pick = (/** @type {string} */ label, /** @type {[string, string][]} */ options) =>
    h('select', { 'aria-label': label, onchange: () => draw() }, ...options.map(([value, words]) => h('option', { value }, words)));
  const kinds = pick('Which findings', [['all', 'every finding'], ['work', 'what works'], ['long', 'what is drawn long'], ['doubt', 'what is doubtful']]);
  const regions = pick('Part of the body', [['', 'whole body']]);
  fill($('filters'), kinds, regions);
  const passes = (/** @type {any} */ s) => wanted[kinds.value](s)
    && (!regions.value || s.muscles.some((/** @type {number} */ m) => state.model?.muscles[m]?.region === regions.value));
  on(['model'], () => {
    const list = [...new Set((state.model?.muscles ?? []).map((/** @type {any} */ m) => m.region))];
    fill(regions, ...['', ...list].map((r) => h('option', { value: r }, r || 'whole body')));
  });

  const head = () => {
    const p = here();
    const next = state.report?.phases[state.phase + 1];
    $('phase-title').textContent = p ? p.title || `Mark ${p.number}` : state.report?.phases.length ? 'Before the first mark' : 'No marks yet';
    $('phase-when').textContent = p ? `Phase ${p.number} of ${state.report.phases.length} · ${clock(p.from_ms, 1)} to ${clock(p.to_ms, 1)}` : '';
    $('phase-kind').textContent = !p
      ? state.report?.phases.length ? '' : 'Play to a moment you want to talk about and press “Mark here”.'
      : p.hold ? 'a hold' : next ? `moving on to “${next.title || `mark ${next.number}`}”` : 'a hold, to the end';
  };

  const chips = (/** @type {number[]} */ muscles) => h('div', { class: 'chips' }, ...muscles.slice(0, 24).map((id) =>
    h('button', { type: 'button', onclick: () => act.ask(id) }, state.model?.muscles[id]?.plain || state.model?.muscles[id]?.name || '')));

  const statement = (/** @type {any} */ s) => {
    const grade = gradeWords[/** @type {'must'} */ (s.grade)] ?? s.grade;
    const box = h('details', { class: `statement ${s.kind}`, open: open.has(s.text) },
      h('summary', {},
        h('span', { class: 'text' }, s.text),
        h('span', { class: 'side' },
          grade && h('span', { class: `grade ${s.grade.replace(' ', '')}` }, grade),
          h('span', { class: 'why' }, 'why?'))),
      h('div', { class: 'inside' },
        s.figures && !s.spans.length && h('p', { class: 'quiet' }, s.figures),
        shareBars(s.spans, state.findings.held.near_best),
        s.reasons.length > 0 && reasonList(s.reasons, state.findings.sources),
        s.muscles.length > 0 && chips(s.muscles)));
    box.addEventListener('toggle', () => {
      if (box.open) open.add(s.text);
      else open.delete(s.text);
      box.classList.toggle('lit', box.open);
      act.ring(box.open ? s.muscles : []);
    });
    box.addEventListener('pointerenter', () => act.ring(s.muscles));
    box.addEventListener('pointerleave', () => act.ring([]));
    return box;
  };

  const group = (/** @type {string} */ kind, /** @type {string} */ title, /** @type {any[]} */ list) => {
    if (!list.length) return null;
    const rest = list.slice(lead).map(statement);
    return h('section', { class: `group ${kind}` }, h('h3', {}, title), ...list.slice(0, lead).map(statement),
      rest.length > 0 && h('details', { class: 'more' }, h('summary', {}, `${rest.length} more`), ...rest));
  };

  const unknown = (/** @type {any} */ f) => f.unknown.length > 0 && h('div', { class: 'note warn' },
    h('h3', {}, 'Not understood'),
    ...f.unknown.map((/** @type {any} */ u) => h('p', {}, `“${u.text}”: ${u.why}. `,
      u.near.length > 0 && h('span', { class: 'chips' }, ...u.near.slice(0, 3).map((/** @type {string} */ n) =>
        h('button', { type: 'button', onclick: () => act.use(u.from, u.to, n) }, `use “${n}”`))))));

  /** What calls for care, with what to mind behind it. */
  const caution = (/** @type {string} */ text) => {
    const stop = text.indexOf('. ') + 1;
    if (!stop) return h('p', {}, text);
    const box = h('details', { open: open.has(text) }, h('summary', {}, text.slice(0, stop)), h('p', {}, text.slice(stop + 1)));
    box.addEventListener('toggle', () => (box.open ? open.add(text) : open.delete(text)));
    return box;
  };

  /** That the posture cannot be held stands above all that is said of work. */
  const unheld = (/** @type {any} */ held) => held.text && h('div', { class: 'note warn' },
    h('h3', {}, 'Not held'), h('p', {}, held.text, held.mend && h('span', { class: 'quiet' }, ` ${held.mend}`)));

  const draw = () => {
    const f = state.findings;
    if (!f || !here()) {
      fill($('say'));
      return;
    }
    const some = f.statements.filter(passes);
    const way = f.movement.filter(passes);
    const of = (/** @type {string} */ kind) => some.filter((/** @type {{kind: string}} */ s) => s.kind === kind);
    const next = state.report.phases[state.phase + 1];
    const nothing = !f.statements.length && !f.movement.length;
    fill($('say'),
      f.tried && h('p', { class: 'trying' }, 'As you are writing it, not saved yet. ', f.glance ? 'A quick look: how firm it stands follows.' : 'Looked at whole: this is how firm it stands.'),
      unknown(f) || null,
      unheld(f.held) || null,
      f.cautions.length > 0 && h('div', { class: 'note warn' }, h('h3', {}, 'Take care'), ...f.cautions.map(caution)),
      !nothing && !some.length && !way.length && h('p', { class: 'understood' }, 'Nothing of this kind is found here.'),
      nothing && h('p', { class: 'understood' }, 'Nothing stands out here: no muscle is near an end of its span, and nothing asks for notable work.'),
      ...groups.map((g) => group(g.kind, g.title, of(g.kind))),
      group('way', next ? `On the way to “${next.title || `mark ${next.number}`}”` : 'On the way', way.filter((/** @type {any} */ s) => s.kind !== 'work')),
      group('work', 'What works on the way', way.filter((/** @type {any} */ s) => s.kind === 'work')),
      f.way_note && h('p', { class: 'understood' }, f.way_note),
      f.held.supports && h('p', { class: 'understood' }, f.held.supports),
      f.canonical && h('p', { class: 'understood' }, `Understood: ${f.canonical}.`),
      f.doubts.length > 0 && h('details', { class: 'more' },
        h('summary', {}, `${f.doubts.length} ${f.doubts.length === 1 ? 'doubt' : 'doubts'} about this posture`),
        h('ul', {}, ...f.doubts.map((/** @type {any} */ d) => h('li', { class: 'note' }, d.text, d.mend && h('span', { class: 'quiet' }, ' ' + d.mend))))),
      sourceList('Where the figures come from', f.sources),
      h('p', { class: 'more quiet' }, `Figures are of ${state.report.figures_of}.`));
  };

  on(['report', 'phase'], head);
  on(['findings', 'model'], draw);
  on(['report'], () => fill($('care-text'), ...(state.report?.care ?? []).map((/** @type {string} */ c) => h('p', {}, c))));
}
