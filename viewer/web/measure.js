// @ts-check
// Reading an angle off the picture: points are set by clicking, or set and moved
// by keys, and kept with the mark.

import * as api from './api.js';
import { $, fill, h } from './dom.js';
import { framed, read, readable, slip, turned, valueOf } from './angle.js';
import { clock } from './times.js';
import { here, on, state } from './state.js';

const names = ['one end', 'the joint', 'the other end', 'square to the first line'];

/**
 * @param {any} words the vocabulary
 * @param {{dial: (key: string, value: number) => void}} editor
 * @param {{at: () => number, go: (t: number) => void, pause: () => void, change: (what: () => Promise<any>, done: string) => Promise<any>}} act
 */
export function makeMeasure(words, editor, act) {
  /** @type {number[][]} */
  let points = [];
  let when = 0; // ms of the picture that they are on
  const svg = document.createElementNS('http://www.w3.org/2000/svg', 'svg');
  const path = document.createElementNS(svg.namespaceURI, 'path');
  svg.append(path);
  svg.setAttribute('aria-hidden', 'true');
  const layer = h('div', { class: 'points', hidden: true }, svg);
  $('screen').append(layer);
  const size = () => [state.report?.recording?.width || 1, state.report?.recording?.height || 1];
  const frame = () => {
    const box = layer.getBoundingClientRect();
    return { ...framed(box.width, box.height, size()[0], size()[1]), left: box.left, top: box.top };
  };
  const clip = (/** @type {number[]} */ p) => p.map((v, i) => Math.round(Math.min(size()[i], Math.max(0, v)) * 10) / 10);
  const placeOf = (/** @type {PointerEvent} */ e) => {
    const f = frame();
    return clip([(e.clientX - f.left - f.x) / f.scale, (e.clientY - f.top - f.y) / f.scale]);
  };
  const handles = names.map((name, i) => {
    const b = h('button', { type: 'button', class: 'point', hidden: true }, String(i + 1));
    const move = (/** @type {number[]} */ to) => {
      points[i] = clip(to);
      draw();
    };
    b.addEventListener('keydown', (/** @type {KeyboardEvent} */ e) => {
      const by = e.shiftKey ? 10 : 1;
      const way = { ArrowLeft: [-by, 0], ArrowRight: [by, 0], ArrowUp: [0, -by], ArrowDown: [0, by] }[e.key];
      if (e.key === 'Delete' || e.key === 'Backspace') drop(i);
      else if (way) move(points[i].map((v, k) => v + way[k]));
      else return;
      e.preventDefault();
      e.stopPropagation();
    });
    b.addEventListener('pointerdown', (/** @type {PointerEvent} */ e) => {
      e.stopPropagation();
      b.setPointerCapture(e.pointerId);
      b.onpointermove = (/** @type {PointerEvent} */ m) => move(placeOf(m));
      b.onpointerup = b.onpointercancel = () => (b.onpointermove = null);
    });
    b.addEventListener('click', (/** @type {Event} */ e) => e.stopPropagation());
    return b;
  });
  layer.append(...handles);
  layer.addEventListener('click', (/** @type {PointerEvent} */ e) => add(placeOf(e)));
  const add = (/** @type {number[]} */ p) => {
    if (points.length >= names.length || size()[0] < 2) return;
    if (!points.length) when = Math.round(act.at());
    points.push(p);
    draw();
    handles[points.length - 1].focus({ preventScroll: true });
  };
  const drop = (/** @type {number} */ from) => {
    points = points.slice(0, from);
    draw();
  };

  const next = h('button', { type: 'button', onclick: () => add(size().map((v, i) => v * (i ? 0.35 + 0.2 * (points.length % 2) : 0.3 + 0.14 * points.length))) }, 'Set the next point');
  const again = h('button', { type: 'button', class: 'plain', onclick: () => drop(0) }, 'start again');
  const reads = h('output', { class: 'reads' });
  const doubt = h('p', { class: 'quiet' });
  const joint = h('select', { 'aria-label': 'Joint', onchange: () => draw() }, ...words.movements.flatMap((/** @type {any} */ d, /** @type {number} */ i) => (readable(d)
    ? [['toward', 1], ['away', -1]].map(([way, sign]) => h('option', { value: `${i} ${sign}` }, `${d.name} ${d[way]}`)) : [])));
  const value = () => {
    const [i, sign] = joint.value.split(' ').map(Number);
    const r = read(points);
    return { d: words.movements[i], r, degrees: r ? Math.round(sign * valueOf(words.movements[i].joint, r.angle)) : 0 };
  };
  const keep = async () => {
    const { d, r, degrees } = value();
    const p = here();
    if (!r || !p) return null;
    return act.change(() => api.addAngle(p.mark, { at_ms: when, joint: d.key, angle_deg: degrees, points }), 'Points kept.');
  };
  const put = h('button', { type: 'button', class: 'main', onclick: async () => {
    const { d, r, degrees } = value();
    if (!r) return;
    await keep();
    editor.dial(d.key, degrees);
  } }, 'Set on the joint');
  const only = h('button', { type: 'button', onclick: keep }, 'Keep the points');
  const kept = h('ul', { class: 'rows' });

  const draw = () => {
    const f = frame();
    const on = points.map((p) => [f.x + p[0] * f.scale, f.y + p[1] * f.scale]);
    handles.forEach((b, i) => {
      b.hidden = !points[i];
      if (!points[i]) return;
      b.style.left = `${on[i][0]}px`;
      b.style.top = `${on[i][1]}px`;
      b.setAttribute('aria-label', `Point ${i + 1}, ${names[i]}: ${Math.round(points[i][0])} across, ${Math.round(points[i][1])} down`);
    });
    const line = (/** @type {number[]} */ ...ids) => ids.filter((i) => on[i]).map((i, k) => `${k ? 'L' : 'M'}${on[i][0]} ${on[i][1]}`).join('');
    path.setAttribute('d', line(0, 1, 2) + (on[3] ? line(1, 3) : ''));
    const { d, r, degrees } = value();
    const none = size()[0] < 2;
    next.disabled = none || points.length >= names.length;
    again.hidden = !points.length;
    put.disabled = only.disabled = !r || !here();
    reads.textContent = r ? `${r.angle.toFixed(1)}° between the lines: ${d.name} ${degrees < 0 ? d.away : d.toward} ${Math.abs(degrees)}°`
      : none ? 'There is no picture in this study yet.' : points.length < 3 ? `Set ${names[points.length]} on the picture.` : 'The points lie too close together.';
    doubt.textContent = !r ? 'Three points make an angle: one end, the joint, the other end. A fourth, square to the first line in truth, tells how the movement’s plane is turned.'
      : `${r.plane > 0 ? `The plane is read as turned ${Math.round(r.plane)}° from the picture. ` : r.plane < 0 ? 'The fourth point cannot tell the plane here: the first line must slant in the picture. ' : ''}`
      + `The picture shows the angle true only where the camera looks square on it: ${turned}° off adds up to ${r.camera.toFixed(0)}°; points missed by ${slip} px add up to ${r.points.toFixed(0)}°.`;
  };
  const list = () => {
    const mark = here()?.mark;
    fill(kept, ...(state.report?.angles ?? []).filter((/** @type {any} */ a) => a.mark === mark).map((/** @type {any} */ a) => {
      const d = words.movements.find((/** @type {any} */ m) => m.key === a.joint);
      const what = `${d?.name ?? ''} ${a.angle_deg < 0 ? d?.away : d?.toward} ${Math.abs(Math.round(a.angle_deg))}°`;
      return h('li', {}, h('button', { type: 'button', onclick: () => {
        when = a.at_ms;
        act.go(when);
        points = a.points.map((/** @type {number[]} */ p) => [...p]);
        draw();
      } }, `${what}, at ${clock(a.at_ms, 1)}`), h('button', { type: 'button', class: 'plain', onclick: () => act.change(() => api.removeAngle(a.id), 'Points removed.'), 'aria-label': `Remove ${what}` }, '×'));
    }));
  };
  on(['at'], () => layer.classList.toggle('elsewhere', points.length > 0 && Math.abs(state.at - when) > 1));
  on(['report', 'phase'], () => {
    list();
    if (!layer.hidden) draw();
  });
  new ResizeObserver(() => !layer.hidden && draw()).observe($('screen'));
  list();
  const el = h('div', { class: 'measure' },
    h('div', {}, reads, doubt, h('div', { class: 'fields' }, next, again)),
    h('div', {}, h('div', { class: 'fields' }, joint, put, only), kept));
  return {
    el,
    /** @param {boolean} open */
    open(open) {
      layer.hidden = !open;
      if (open) {
        act.pause();
        draw();
      }
    },
  };
}
