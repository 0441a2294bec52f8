// @ts-check
// The score: the whole study along time, body regions as rows that open into
// their muscles, under the one playhead. It draws what is in sight, once; while
// the playhead moves only the playhead's line does.

import { $, still } from './dom.js';
import * as api from './api.js';
import { clock } from './times.js';
import { keep, on, set, state } from './state.js';
import { fitted, holding, isWhole, over, panned, whole, zoomed } from './span.js';
import { inSight, inWords, regions, remembered, rowsOf, unpack } from './scoredata.js';
import { drawRow } from './scoredraw.js';
import { makeTree } from './scoretree.js';
import { makeStrip } from './strip.js';
import { makeScoreWords } from './scorewords.js';

const rowHigh = 24; // px, as in the style sheet
const fineFrom = 4; // px of a phase, on the average, from which each is drawn by itself
const rested = 3000; // ms after which the playhead is followed again

/** @param {{go: (t: number) => void, nudge: (by: number) => void, at: () => number}} player */
export function makeScore(player) {
  const [strip, box, canvas, head, tip] = [$('strip'), $('rows'), /** @type {HTMLCanvasElement} */ ($('score-canvas')), $('score-head'), $('score-tip')];
  const ctx = /** @type {CanvasRenderingContext2D} */ (canvas.getContext('2d'));
  /** @type {Set<string>} */
  const open = new Set(keep('rows') ?? []);
  /** @type {Map<string, import('./scoredata.js').Row[]>} */
  let all = new Map();
  /** @type {import('./scoredata.js').Row[]} */
  let rows = [];
  /** @type {(row: import('./scoredata.js').Row, stand: number) => import('./scoredata.js').Doing} */
  let doing = () => { throw new Error('the score is not here yet'); };
  /** @type {{from: number[], to: number[], stands: Int32Array, ends: Int32Array}|null} */
  let times = null;
  let end = 1;
  let due = 0;
  let moved = -rested; // when the span was last moved by hand
  set({ span: whole(1) });

  const width = () => strip.clientWidth;
  const timeAt = (/** @type {number} */ clientX) => {
    const r = strip.getBoundingClientRect();
    return state.span.from + Math.min(1, Math.max(0, (clientX - r.left) / r.width)) * (state.span.to - state.span.from);
  };

  const words = (/** @type {import('./scoredata.js').Row} */ row, /** @type {number} */ phase) =>
    times && phase >= 0 ? inWords(doing(row, times.stands[phase]), row.closed !== undefined) : 'before the first mark';
  const tree = makeTree($('score-tree'), {
    toggle(region) {
      if (!open.delete(region)) open.add(region);
      keep('rows', [...open]);
      sight();
    },
    ask: (muscle) => set({ muscle }),
    say: (row) => words(row, state.phase),
  });

  const sight = () => {
    rows = inSight(all, open);
    tree.rows(rows);
    tree.mark(state.muscle);
    $('rows-all').setAttribute('aria-pressed', String(open.size >= regions.length));
    ask();
  };
  const ask = () => {
    if (!due) due = requestAnimationFrame(draw);
  };

  const inks = () => {
    const css = getComputedStyle(document.documentElement);
    const get = (/** @type {string} */ n) => css.getPropertyValue(n).trim();
    return { work: get('--work'), onWork: get('--on-work'), long: get('--long'), slack: get('--slack'), rest: get('--rest'), rule: get('--rule'), band: get('--sheet') };
  };

  const draw = () => {
    due = 0;
    const wide = width();
    // Not the box alone: the canvas itself would keep it high when rows close.
    const high = Math.min(box.clientHeight, rows.length * rowHigh);
    const dpr = Math.min(3, devicePixelRatio || 1);
    if (canvas.width !== Math.round(wide * dpr) || canvas.height !== Math.round(high * dpr)) {
      canvas.width = Math.round(wide * dpr);
      canvas.height = Math.round(high * dpr);
      canvas.style.height = `${high}px`;
    }
    ctx.setTransform(dpr, 0, 0, dpr, 0, 0);
    ctx.clearRect(0, 0, wide, high);
    if (!times || !times.from.length || !wide) return;
    const began = performance.now();
    const { from, to } = state.span;
    const first = Math.max(0, over(times.from, from) - 1);
    const last = Math.max(first, over(times.from, to - 0.001) - 1);
    const scale = wide / (to - from);
    const plan = {
      first, last, ...times, width: wide, fine: wide / (last - first + 1) >= fineFrom,
      x: (/** @type {number} */ t) => (t - from) * scale, t: (/** @type {number} */ x) => from + x / scale,
    };
    const ink = inks();
    back(plan, high, ink);
    const top = box.scrollTop;
    for (let r = Math.floor(top / rowHigh); r < rows.length && r * rowHigh < top + high; r++) {
      const row = rows[r];
      const y = r * rowHigh - top;
      ctx.fillStyle = ink.rule;
      if (row.closed !== undefined) ctx.fillRect(0, y, wide, 1);
      drawRow(ctx, plan, (stand) => doing(row, stand), y + rowHigh / 2, rowHigh, ink, row.closed !== undefined);
    }
    canvas.dataset.ms = (performance.now() - began).toFixed(1);
  };

  /** Holds as plain ground, and a line at every mark. */
  const back = (/** @type {any} */ plan, /** @type {number} */ high, /** @type {any} */ ink) => {
    if (!plan.fine) return;
    for (let i = plan.first; i <= plan.last; i++) {
      const x = plan.x(plan.from[i]);
      ctx.fillStyle = ink.band;
      if (plan.stands[i] === plan.ends[i]) ctx.fillRect(x, 0, plan.x(plan.to[i]) - x, high);
      ctx.fillStyle = ink.rule;
      ctx.fillRect(Math.round(x), 0, 1, high);
    }
  };

  const place = () => {
    const part = (Math.min(end, state.at) - state.span.from) / (state.span.to - state.span.from);
    head.hidden = part < -0.001 || part > 1.001;
    head.style.transform = `translateX(${part * width()}px)`;
    if (performance.now() - moved > rested || state.playing) {
      const held = holding(state.span, end, state.at);
      if (held !== state.span) set({ span: held });
    }
  };

  /** Moves the span by hand. @param {import('./span.js').Span} s */
  const show = (s) => {
    moved = performance.now();
    set({ span: s });
  };
  const zoom = (/** @type {number} */ factor, /** @type {number} */ at = state.at >= state.span.from && state.at <= state.span.to ? state.at : (state.span.from + state.span.to) / 2) => show(zoomed(state.span, end, factor, at));
  const pan = (/** @type {number} */ part) => show(panned(state.span, end, part));
  const keys = (/** @type {KeyboardEvent} */ e) => {
    /** @type {Record<string, () => void>} */
    const table = {
      '+': () => zoom(1.6), '=': () => zoom(1.6), '-': () => zoom(1 / 1.6), 0: () => show(whole(end)),
      ...(e.shiftKey ? { ArrowLeft: () => pan(-0.5), ArrowRight: () => pan(0.5) } : {}),
    };
    table[e.key]?.();
    return !!table[e.key];
  };
  const buttons = { 'zoom-in': () => zoom(1.6), 'zoom-out': () => zoom(1 / 1.6), 'zoom-whole': () => show(whole(end)), 'pan-left': () => pan(-0.5), 'pan-right': () => pan(0.5) };
  for (const [id, act] of Object.entries(buttons)) $(id).addEventListener('click', act);
  $('rows-all').addEventListener('click', () => {
    const every = open.size >= regions.length;
    open.clear();
    if (!every) for (const r of regions) open.add(r);
    keep('rows', [...open]);
    sight();
  });

  const score = $('score');
  score.addEventListener('wheel', (/** @type {WheelEvent} */ e) => {
    const across = Math.abs(e.deltaX) > Math.abs(e.deltaY) || e.shiftKey;
    if (!e.ctrlKey && !e.metaKey && !across) return; // the page's own scrolling
    e.preventDefault();
    if (across && !e.ctrlKey) pan((e.deltaX || e.deltaY) / width());
    else zoom(Math.exp(-e.deltaY / (e.deltaMode ? 8 : 240)), timeAt(e.clientX));
  }, { passive: false });

  let down = false;
  for (const area of [strip, canvas]) {
    area.addEventListener('pointerdown', (/** @type {PointerEvent} */ e) => {
      if (e.button !== 0) return;
      down = true;
      area.setPointerCapture(e.pointerId);
      player.go(timeAt(e.clientX));
    });
    area.addEventListener('pointermove', (/** @type {PointerEvent} */ e) => {
      if (down) player.go(timeAt(e.clientX));
      else if (area === canvas) hover(e);
    });
    for (const name of ['pointerup', 'pointercancel']) {
      area.addEventListener(name, () => {
        if (down) strips.tell();
        down = false;
      });
    }
  }
  const hover = (/** @type {PointerEvent} */ e) => {
    const r = box.getBoundingClientRect();
    const row = rows[Math.floor((e.clientY - r.top + box.scrollTop) / rowHigh)];
    const phase = times ? over(times.from, timeAt(e.clientX)) - 1 : -1;
    tip.hidden = !row || phase < 0;
    if (tip.hidden) return;
    tip.textContent = `${row.name}${row.side && row.side !== 'both' ? `, ${row.side}` : ''}: ${words(row, phase)}`;
    const s = score.getBoundingClientRect();
    tip.style.left = `${Math.min(s.width - 90, Math.max(90, e.clientX - s.left))}px`;
    tip.style.top = `${e.clientY - s.top}px`;
  };
  canvas.addEventListener('pointerleave', () => (tip.hidden = true));

  const strips = makeStrip({ ...player, keys, wheel: () => {} });
  const inWordsToo = makeScoreWords({ go: player.go, rows: () => rows.filter((r) => r.closed !== undefined), words });

  let loading = '';
  const load = async () => {
    const report = state.report;
    if (!report) return;
    const mine = (loading = report.phases.map((/** @type {{detail: string}} */ p) => p.detail).join());
    let got;
    try {
      got = await api.score();
    } catch {
      return; // the banner tells of it; the next report asks again
    }
    if (mine !== loading || got.phases.length !== report.phases.length) return;
    const data = unpack(got);
    doing = remembered(data);
    const stands = data.phases;
    times = {
      from: report.phases.map((/** @type {{from_ms: number}} */ p) => p.from_ms), to: report.phases.map((/** @type {{to_ms: number}} */ p) => p.to_ms),
      stands, ends: stands.map((s, i) => (report.phases[i].hold || i + 1 >= stands.length ? s : stands[i + 1])),
    };
    if (state.model) all = rowsOf(data, state.model.muscles, state.voice);
    set({ score: data });
    sight();
  };

  on(['report'], () => {
    const was = end;
    end = Math.max(1, state.report?.end_ms ?? 1);
    set({ span: fitted(state.span, was, end) });
    load();
  });
  on(['model', 'voice'], () => {
    if (state.score && state.model) all = rowsOf(state.score, state.model.muscles, state.voice);
    if (state.score) sight();
  });
  on(['span'], () => {
    const all = isWhole(state.span, end);
    $('zoom-whole').disabled = $('pan-left').disabled = $('pan-right').disabled = $('zoom-out').disabled = all;
    $('score-span').textContent = all ? '' : `${clock(state.span.from, 1)} to ${clock(state.span.to, 1)}`;
    ask();
    place();
  });
  on(['at'], place);
  on(['phase'], () => tree.say());
  on(['muscle'], () => tree.mark(state.muscle));
  on(['report', 'score', 'phase'], inWordsToo);
  box.addEventListener('scroll', ask, { passive: true });
  new ResizeObserver(() => {
    ask();
    place();
  }).observe(score);
  for (const m of ['(prefers-color-scheme: dark)', '(forced-colors: active)']) matchMedia(m).addEventListener('change', ask);
  return { tell: strips.tell, keys, zoom, whole: () => show(whole(end)), smooth: !still() };
}
