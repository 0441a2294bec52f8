// @ts-check
// The joints as dials. Each can be turned by its slider, by the keys of a
// slider, or on its face; what is not said follows the stance and the rhythm
// and is drawn faint.

import { fill, h } from './dom.js';
import { arc, past, place, reach, regions, said, valueAt } from './gauge.js';
import { keep } from './state.js';

/** @typedef {import('./gauge.js').Dial} Dial */

const svg = 'http://www.w3.org/2000/svg';
const draw = (/** @type {string} */ tag, /** @type {Record<string, string|number>} */ attributes) => {
  const el = document.createElementNS(svg, tag);
  for (const [k, v] of Object.entries(attributes)) el.setAttribute(k, String(v));
  return el;
};

/** One dial. @param {Dial} d @param {string} name @param {string} id @param {(value: number|null) => void} turn null: no longer said */
function makeDial(d, name, id, turn) {
  const [lo, hi] = reach(d);
  const face = draw('svg', { viewBox: '0 0 128 72', class: 'face', 'aria-hidden': 'true' });
  face.append(draw('path', { d: arc(d, lo, hi), class: 'all' }), draw('path', { d: arc(d, d.lo_deg, d.hi_deg), class: 'range' }));
  for (const r of d.ranges) {
    for (const v of [r.lo_deg, r.hi_deg]) {
      const [a, b] = [place(d, v, 56), place(d, v, 60)];
      face.append(draw('line', { x1: a.x, y1: a.y, x2: b.x, y2: b.y, class: 'end' }));
    }
  }
  const [za, zb] = [place(d, 0, 44), place(d, 0, 60)];
  const needle = draw('line', { x1: 64, y1: 62, x2: 64, y2: 10, class: 'needle' });
  const hub = draw('circle', { cx: 64, cy: 62, r: 4, class: 'hub' });
  face.append(draw('line', { x1: za.x, y1: za.y, x2: zb.x, y2: zb.y, class: 'zero' }), needle, hub);
  const slider = h('input', { type: 'range', min: lo, max: hi, step: 1, id, 'aria-label': name, oninput: () => turn(Number(slider.value)) });
  const value = h('output', { class: 'value', 'aria-hidden': 'true' });
  const note = h('span', { class: 'past' });
  const unsay = h('button', { type: 'button', class: 'plain unsay', onclick: () => turn(null), 'aria-label': `Leave ${name} unsaid` }, '×');
  const whose = d.ranges.map((r) => `${Math.round(r.lo_deg)}° to ${Math.round(r.hi_deg)}° ${r.whose}`).join('\n');
  const el = h('div', { class: 'dial', title: whose }, value, unsay, face, slider, h('span', { class: 'dialname' }, name), note);
  face.addEventListener('pointerdown', (e) => {
    const at = (/** @type {PointerEvent} */ p) => {
      const box = face.getBoundingClientRect();
      turn(valueAt(d, ((p.clientX - box.left) / box.width) * 128, ((p.clientY - box.top) / box.height) * 72));
    };
    face.setPointerCapture(/** @type {PointerEvent} */ (e).pointerId);
    face.onpointermove = at;
    face.onpointerup = face.onpointercancel = () => (face.onpointermove = null);
    at(/** @type {PointerEvent} */ (e));
    slider.focus({ preventScroll: true });
  });
  return {
    el,
    /** @param {number} v degrees @param {boolean} stated @param {string} beside what the other side says */
    show(v, stated, beside) {
      const tip = place(d, v, 46);
      needle.setAttribute('x2', String(tip.x));
      needle.setAttribute('y2', String(tip.y));
      el.classList.toggle('said', stated);
      const over = past(d, v);
      el.classList.toggle('over', over > 0);
      value.textContent = said(d, v);
      note.textContent = over ? `${over}° past the published range` : beside;
      unsay.hidden = !stated;
      if (Number(slider.value) !== Math.round(v)) slider.value = String(Math.round(v));
      slider.setAttribute('aria-valuetext', `${said(d, v)}${stated ? '' : ', not said'}${over ? `, ${over} degrees past the published range` : ''}; published ${Math.round(d.lo_deg)} to ${Math.round(d.hi_deg)}`);
    },
  };
}

/**
 * @param {Dial[]} all the vocabulary's movements
 * @param {(changes: {key: string, value: number|null}[]) => void} changed
 */
export function makeDials(all, changed) {
  let values = /** @type {number[]} */ ([]);
  /** @type {Set<string>} */
  let stated = new Set();
  let region = keep('dials') ?? 0;
  const link = h('input', { type: 'checkbox', checked: true, onchange: () => lay() });
  const tabs = regions.map(([name], i) => h('button', { type: 'button', 'aria-pressed': 'false', onclick: () => {
    region = i;
    keep('dials', i);
    lay();
  } }, name));
  const board = h('div', { class: 'board' });
  const el = h('div', { class: 'dials' },
    h('div', { class: 'tabs', role: 'group', 'aria-label': 'Part of the body' }, ...tabs, h('label', { class: 'check' }, link, ' both sides')), board);
  /** @type {{index: number, dial: ReturnType<typeof makeDial>}[]} */
  let shown = [];

  const turn = (/** @type {number} */ i, /** @type {number|null} */ value) => {
    const d = all[i];
    const changes = [{ key: d.key, value }];
    if (link.checked && d.other !== i) changes.push({ key: all[d.other].key, value });
    for (const c of changes) {
      const k = c.key === d.key ? i : d.other;
      if (c.value === null) stated.delete(c.key);
      else {
        values[k] = c.value;
        stated.add(c.key);
      }
    }
    refresh();
    changed(changes);
  };
  const lay = () => {
    tabs.forEach((t, i) => t.setAttribute('aria-pressed', String(i === region)));
    const joints = regions[region][1];
    shown = all.flatMap((d, index) => {
      if (!joints.includes(d.joint) || (link.checked && d.side === 'left')) return [];
      const which = link.checked && d.side === 'right' ? d.joint : d.name;
      return [{ index, dial: makeDial(d, `${which}, ${d.toward} or ${d.away}`, `dial-${d.key}`, (v) => turn(index, v)) }];
    });
    // A joint's left dial stands beside its right one.
    if (!link.checked) shown.sort((a, b) => order(a.index) - order(b.index));
    fill(board, ...shown.map((s) => s.dial.el));
    refresh();
  };
  const order = (/** @type {number} */ i) => (all[i].side === 'left' ? all[i].other + 0.5 : i);
  const refresh = () => {
    for (const { index, dial } of shown) {
      const d = all[index];
      const apart = link.checked && d.other !== index && Math.abs((values[d.other] ?? 0) - (values[index] ?? 0)) > 0.5;
      dial.show(values[index] ?? 0, stated.has(d.key), apart ? `left ${said(d, values[d.other])}` : '');
    }
  };
  lay();
  return {
    el,
    /** @param {{values: number[], state: {positions: {movement: string}[]}}} answer @param {boolean} fresh another posture was laid out */
    show(answer, fresh) {
      values = [...answer.values];
      stated = new Set(answer.state.positions.map((p) => p.movement));
      if (fresh) {
        const even = all.every((d, i) => d.side !== 'right' || Math.abs(values[i] - values[d.other]) < 0.5);
        if (link.checked !== even) {
          link.checked = even;
          lay();
          return;
        }
      }
      refresh();
    },
  };
}
