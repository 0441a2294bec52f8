// @ts-check
// The study along time: phases as blocks, holds plain and movements hatched,
// marks as flags, and the playhead. To keyboards and to people who listen it is
// one slider.

import { $, fill, h } from './dom.js';
import { clock, spoken, ticks } from './times.js';
import { here, on, state } from './state.js';

/** @param {{go: (t: number) => void, nudge: (by: number) => void}} player */
export function makeStrip(player) {
  const strip = $('strip');
  const lane = h('div', { class: 'lane' });
  const head = h('div', { class: 'head' });
  strip.append(lane, head);
  /** @type {HTMLElement[]} */
  let blocks = [];
  let end = 1;
  let width = 0;

  const lay = () => {
    width = strip.clientWidth;
    const phases = state.report?.phases ?? [];
    end = Math.max(1, state.report?.end_ms ?? 1);
    const x = (/** @type {number} */ t) => `${(t / end) * 100}%`;
    blocks = phases.map((/** @type {import('./state.js').Phase} */ p) => {
      const wide = ((p.to_ms - p.from_ms) / end) * width;
      const block = h('div', { class: `phase${p.hold ? '' : ' moving'}${p.doubts ? ' doubt' : ''}${wide < 30 ? ' tight' : ''}` });
      if (wide >= 30) block.append(h('b', {}, p.title || `Mark ${p.number}`), h('i', {}, p.hold || p.number === phases.length ? 'hold' : 'moving on'));
      block.style.left = x(p.from_ms);
      block.style.width = `calc(${x(p.to_ms - p.from_ms)} - 2px)`;
      return block;
    });
    const flags = phases.map((/** @type {{from_ms: number}} */ p) => {
      const flag = h('div', { class: 'flag' });
      flag.style.left = x(p.from_ms);
      return flag;
    });
    const marks = ticks(end, width, 64).map((t, i) => {
      const last = t / end > 0.96;
      const tick = h('span', { class: `tick${i === 0 ? ' first' : last ? ' last' : ''}` }, clock(t, 0));
      tick.style.left = x(t);
      return tick;
    });
    fill(lane, ...blocks, ...flags, ...marks);
    strip.setAttribute('aria-valuemax', (end / 1000).toFixed(1));
    light();
    place();
  };

  let lit = -1;
  const light = () => {
    blocks[lit]?.classList.remove('now');
    lit = state.phase;
    blocks[lit]?.classList.add('now');
  };

  const place = () => {
    head.style.left = `${(Math.min(end, state.at) / end) * 100}%`;
  };

  // Spoken only when something was done or another phase began, not with
  // every frame.
  const tell = () => {
    const p = here();
    strip.setAttribute('aria-valuenow', (state.at / 1000).toFixed(2));
    strip.setAttribute('aria-valuetext', spoken(state.at) + (p ? `, ${p.title || `phase ${p.number}`}, ${p.hold ? 'hold' : 'moving'}` : ', before the first mark'));
  };

  const timeAt = (/** @type {PointerEvent} */ e) => {
    const box = strip.getBoundingClientRect();
    return Math.min(1, Math.max(0, (e.clientX - box.left) / box.width)) * end;
  };
  let down = false;
  strip.addEventListener('pointerdown', (/** @type {PointerEvent} */ e) => {
    if (e.button !== 0) return;
    down = true;
    strip.setPointerCapture(e.pointerId);
    player.go(timeAt(e));
  });
  strip.addEventListener('pointermove', (/** @type {PointerEvent} */ e) => {
    if (down) player.go(timeAt(e));
  });
  for (const name of ['pointerup', 'pointercancel']) {
    strip.addEventListener(name, () => {
      if (down) tell();
      down = false;
    });
  }
  strip.addEventListener('keydown', (/** @type {KeyboardEvent} */ e) => {
    if (e.ctrlKey || e.altKey || e.metaKey) return;
    /** @type {Record<string, () => void>} */
    const keys = {
      ArrowLeft: () => player.nudge(-1000), ArrowDown: () => player.nudge(-1000),
      ArrowRight: () => player.nudge(1000), ArrowUp: () => player.nudge(1000),
      PageDown: () => player.nudge(-10000), PageUp: () => player.nudge(10000),
      Home: () => player.go(0), End: () => player.go(end),
    };
    const act = keys[e.key];
    if (!act) return;
    e.preventDefault();
    e.stopPropagation();
    act();
    tell();
  });

  new ResizeObserver(() => {
    if (strip.clientWidth !== width) lay();
  }).observe(strip);
  on(['report'], lay);
  on(['phase'], () => {
    light();
    tell();
  });
  on(['at'], place);
  on(['playing'], tell);
  return { tell };
}
