// @ts-check
// The head of the score: phases as blocks, holds plain and movements hatched,
// marks as flags, remarks as pins, the times, and the playhead. To keyboards and
// to people who listen it is one slider.

import { $, fill, h } from './dom.js';
import { clock, spoken, ticks } from './times.js';
import { here, on, state } from './state.js';
import { over } from './span.js';

const narrow = 3; // px under which a block is not drawn
const crowd = 6; // px of a phase, on the average, under which none is

/** @param {{go: (t: number) => void, nudge: (by: number) => void, keys: (e: KeyboardEvent) => boolean, wheel: (e: WheelEvent) => void}} player */
export function makeStrip(player) {
  const strip = $('strip');
  const lane = h('div', { class: 'lane' });
  strip.append(lane);
  /** @type {Map<number, HTMLElement>} */
  const blocks = new Map();
  let width = 0;
  let due = 0;

  const x = (/** @type {number} */ t) => ((t - state.span.from) / (state.span.to - state.span.from)) * width;
  /** @param {HTMLElement} el @param {number} left @param {number} [wide] */
  const place = (el, left, wide) => {
    el.style.left = `${left}px`;
    if (wide !== undefined) el.style.width = `${wide}px`;
    return el;
  };

  const block = (/** @type {import('./state.js').Phase} */ p, /** @type {boolean} */ last) => {
    const left = Math.max(0, x(p.from_ms));
    const wide = Math.min(width, x(p.to_ms)) - left - 2;
    const el = h('div', { class: `phase${p.hold ? '' : ' moving'}${p.doubts ? ' doubt' : ''}${wide < 30 ? ' tight' : ''}` });
    if (wide >= 30) el.append(h('b', {}, p.title || `Mark ${p.number}`), h('i', {}, p.hold || last ? 'hold' : 'moving on'));
    return place(el, left, Math.max(1, wide));
  };

  const lay = () => {
    due = 0;
    width = strip.clientWidth;
    /** @type {import('./state.js').Phase[]} */
    const phases = state.report?.phases ?? [];
    const { from, to } = state.span;
    const starts = phases.map((p) => p.from_ms);
    const first = Math.max(0, over(starts, from) - 1);
    blocks.clear();
    /** @type {HTMLElement[]} */
    const flags = [];
    const last = over(starts, to - 0.001) - 1;
    const crowded = last - first > width / crowd;
    for (let i = first; i <= last && !crowded; i++) {
      const p = phases[i];
      if (x(p.to_ms) - x(p.from_ms) >= narrow) blocks.set(i, block(p, i === phases.length - 1));
      if (p.from_ms >= from) flags.push(place(h('div', { class: 'flag' }), x(p.from_ms)));
    }
    if (crowded) flags.push(h('p', { class: 'crowd' }, `${last - first + 1} phases; show less time to see each`));
    const pins = (state.report?.remarks ?? []).filter((/** @type {any} */ r) => r.at_ms >= from && r.at_ms <= to)
      .map((/** @type {any} */ r) => place(h('div', { class: `pin${r.settled ? ' settled' : ''}` }), x(r.at_ms)));
    const marks = ticks(to - from, width, 64, from).map((t, i) => {
      const part = x(t) / width;
      return place(h('span', { class: `tick${i === 0 && part < 0.03 ? ' first' : part > 0.96 ? ' last' : ''}` }, clock(t, to - from < 5000 ? 1 : 0)), x(t));
    });
    fill(lane, ...blocks.values(), ...flags, ...pins, ...marks);
    strip.setAttribute('aria-valuemax', ((state.report?.end_ms ?? 1) / 1000).toFixed(1));
    strip.dataset.phases = String(phases.length);
    lit = -1;
    light();
  };
  const ask = () => {
    if (!due) due = requestAnimationFrame(lay);
  };

  let lit = -1;
  const light = () => {
    blocks.get(lit)?.classList.remove('now');
    lit = state.phase;
    blocks.get(lit)?.classList.add('now');
  };

  // Spoken only when something was done or another phase began, not with
  // every frame.
  const tell = () => {
    const p = here();
    strip.setAttribute('aria-valuenow', (state.at / 1000).toFixed(2));
    strip.setAttribute('aria-valuetext', spoken(state.at) + (p ? `, ${p.title || `phase ${p.number}`}, ${p.hold ? 'hold' : 'moving'}` : ', before the first mark'));
  };

  strip.addEventListener('keydown', (/** @type {KeyboardEvent} */ e) => {
    if (e.ctrlKey || e.altKey || e.metaKey) return;
    /** @type {Record<string, () => void>} */
    const keys = {
      ArrowLeft: () => player.nudge(-1000), ArrowDown: () => player.nudge(-1000),
      ArrowRight: () => player.nudge(1000), ArrowUp: () => player.nudge(1000),
      PageDown: () => player.nudge(-10000), PageUp: () => player.nudge(10000),
      Home: () => player.go(0), End: () => player.go(state.report?.end_ms ?? 0),
    };
    const act = keys[e.key];
    if (!e.shiftKey && act) act();
    else if (!player.keys(e)) return;
    e.preventDefault();
    e.stopPropagation();
    tell();
  });

  new ResizeObserver(() => strip.clientWidth !== width && ask()).observe(strip);
  on(['report', 'span'], ask);
  on(['report'], tell);
  on(['phase'], () => {
    light();
    tell();
  });
  on(['playing'], tell);
  return { tell };
}
