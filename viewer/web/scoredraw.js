// @ts-check
// One row of the score as a ribbon along time. Its thickness is effort: a firm
// core for what near-best ways leave no doubt of, softer out to what they allow.
// Its form is length: a taut line when drawn long, a wave when slack. Strokes
// across what works stand upright where it keeps its length, rise where it
// shortens and fall where it lengthens.

import { LIKELY, LONG, QUIET, SLACK, WORK } from './scoredata.js';

/**
 * What the rows share: phases in sight, by index from first to last, and where
 * moments lie on the canvas.
 * @typedef {{first: number, last: number, from: ArrayLike<number>, to: ArrayLike<number>, stands: ArrayLike<number>, ends: ArrayLike<number>,
 *   x: (t: number) => number, t: (x: number) => number, width: number, fine: boolean}} Plan
 * @typedef {import('./scoredata.js').Doing} Doing
 * @typedef {(stand: number) => Doing} At
 * @typedef {{work: string, onWork: string, long: string, slack: string, rest: string}} Inks
 */

const column = 2; // px, where phases are too narrow to be drawn one by one

/** Half the thickness of a ribbon. @param {number} v effort, 0 to 63 @param {number} half px at full effort */
export const thick = (v, half) => (v > 0 ? 1 + (half - 1) * (v / 63) : 0);

/** @param {CanvasRenderingContext2D} ctx @param {Plan} plan @param {At} at @param {number} y middle of the row @param {number} high px @param {Inks} inks @param {boolean} region */
export function drawRow(ctx, plan, at, y, high, inks, region) {
  const half = high * (region ? 0.38 : 0.44);
  const mid = region ? y - high * 0.06 : y;
  const under = region ? y + high * 0.42 : y;
  const parts = plan.fine ? phases(plan, at) : columns(plan, at);
  rest(ctx, parts, mid, inks);
  const fill = (/** @type {(d: Doing) => number} */ of, /** @type {number} */ alpha, /** @type {boolean} */ firm) => {
    ctx.globalAlpha = alpha;
    ctx.beginPath();
    for (const p of parts) {
      if (!p.works || (firm && !p.firm)) continue;
      const a = p.a.role === WORK ? thick(of(p.a), half) : 0;
      const b = p.b.role === WORK ? thick(of(p.b), half) : 0;
      ctx.moveTo(p.x0, mid - a);
      ctx.lineTo(p.x1, mid - b);
      ctx.lineTo(p.x1, mid + b);
      ctx.lineTo(p.x0, mid + a);
      ctx.closePath();
    }
    ctx.fill();
  };
  ctx.fillStyle = inks.work;
  fill((d) => d.high, 0.2, false);
  fill((d) => d.effort, 0.45, false);
  fill((d) => d.low, 1, true);
  ctx.globalAlpha = 1;
  if (plan.fine) {
    outline(ctx, parts, mid, half, inks);
    strokes(ctx, parts, mid, half, inks);
  }
  lengths(ctx, parts, under, region ? 1.8 : 3, region ? 1.6 : high * 0.14, inks, region);
}

/** @typedef {{x0: number, x1: number, a: Doing, b: Doing, works: boolean, firm: boolean}} Part */

/** Every phase in sight. @param {Plan} plan @param {At} at @returns {Part[]} */
function phases(plan, at) {
  const out = [];
  for (let i = plan.first; i <= plan.last; i++) {
    const a = at(plan.stands[i]);
    const b = plan.ends[i] === plan.stands[i] ? a : at(plan.ends[i]);
    const works = a.role === WORK || b.role === WORK;
    const firm = (a.role === WORK && a.grade >= LIKELY) || (b.role === WORK && b.grade >= LIKELY);
    out.push({ x0: Math.max(-20, plan.x(plan.from[i])), x1: Math.min(plan.width + 20, plan.x(plan.to[i])), a, b, works, firm });
  }
  return out;
}

/** The most of what happens within each column of pixels. @param {Plan} plan @param {At} at @returns {Part[]} */
export function columns(plan, at) {
  const out = [];
  let i = plan.first;
  for (let x = 0; x < plan.width; x += column) {
    const [t0, t1] = [plan.t(x), plan.t(x + column)];
    while (i < plan.last && plan.to[i] <= t0) i++;
    if (plan.from[i] >= t1) continue;
    let d = at(plan.stands[i]);
    for (let k = i + 1; k <= plan.last && plan.from[k] < t1; k++) d = more(d, at(plan.stands[k]));
    out.push({ x0: x, x1: x + column, a: d, b: d, works: d.role === WORK, firm: d.grade >= LIKELY });
  }
  return out;
}

/** Of two, what asks more to be seen. @param {Doing} a @param {Doing} b */
function more(a, b) {
  const [top, other] = b.role > a.role || (b.role === a.role && b.effort > a.effort) ? [b, a] : [a, b];
  return other.longs > top.longs || other.slacks > top.slacks ? { ...top, longs: Math.max(a.longs, b.longs), slacks: Math.max(a.slacks, b.slacks) } : top;
}

/** A hair where nothing else is to be said. @param {CanvasRenderingContext2D} ctx @param {Part[]} parts @param {number} y @param {Inks} inks */
function rest(ctx, parts, y, inks) {
  ctx.strokeStyle = inks.rest;
  ctx.globalAlpha = 0.55;
  ctx.lineWidth = 1;
  ctx.beginPath();
  for (const p of parts) {
    if (p.a.role !== QUIET && p.b.role !== QUIET) continue;
    ctx.moveTo(p.x0, y);
    ctx.lineTo(p.x1, y);
  }
  ctx.stroke();
  ctx.globalAlpha = 1;
}

/** A dashed edge around what only may work. @param {CanvasRenderingContext2D} ctx @param {Part[]} parts @param {number} y @param {number} half @param {Inks} inks */
function outline(ctx, parts, y, half, inks) {
  ctx.strokeStyle = inks.work;
  ctx.lineWidth = 1;
  ctx.setLineDash([3, 3]);
  ctx.beginPath();
  for (const p of parts) {
    if (!p.works || p.firm) continue;
    const a = p.a.role === WORK ? Math.max(2, thick(p.a.effort, half)) : 0;
    const b = p.b.role === WORK ? Math.max(2, thick(p.b.effort, half)) : 0;
    for (const side of [-1, 1]) {
      ctx.moveTo(p.x0, y + side * a);
      ctx.lineTo(p.x1, y + side * b);
    }
  }
  ctx.stroke();
  ctx.setLineDash([]);
}

/** Which way a stroke leans: up where it shortens, down where it lengthens. @param {Doing} a @param {Doing} b */
export const lean = (a, b) => (Math.abs(b.place - a.place) < 2 ? 0 : b.place < a.place ? 1 : -1);

/** @param {CanvasRenderingContext2D} ctx @param {Part[]} parts @param {number} y @param {number} half @param {Inks} inks */
function strokes(ctx, parts, y, half, inks) {
  ctx.strokeStyle = inks.onWork;
  ctx.lineWidth = 1.3;
  ctx.beginPath();
  for (const p of parts) {
    if (!p.firm) continue;
    const a = p.a.role === WORK ? thick(p.a.low, half) : 0;
    const b = p.b.role === WORK ? thick(p.b.low, half) : 0;
    const slant = lean(p.a, p.b);
    for (let x = Math.ceil(Math.max(0, p.x0 + 4) / 9) * 9; x < p.x1 - 4; x += 9) {
      const high = (a + ((b - a) * (x - p.x0)) / (p.x1 - p.x0)) * 0.62;
      if (high < 1.8) continue;
      const dx = slant * high * 0.7;
      ctx.moveTo(x - dx, y + high);
      ctx.lineTo(x + dx, y - high);
    }
  }
  ctx.stroke();
}

/** The lines of length: taut when drawn long, a wave when slack. @param {CanvasRenderingContext2D} ctx @param {Part[]} parts @param {number} y @param {number} width @param {number} sway px @param {Inks} inks @param {boolean} region */
function lengths(ctx, parts, y, width, sway, inks, region) {
  const long = (/** @type {Doing} */ d) => (region ? d.longs > 0 : d.role === LONG);
  const slack = (/** @type {Doing} */ d) => (region ? d.slacks > 0 && !d.longs : d.role === SLACK);
  for (const [is, ink, wide, wave] of /** @type {[(d: Doing) => boolean, string, number, boolean][]} */ ([[long, inks.long, width, false], [slack, inks.slack, Math.min(1.5, width), true]])) {
    ctx.strokeStyle = ink;
    ctx.lineWidth = wide;
    ctx.beginPath();
    let pen = -1; // where the line ends that is being drawn
    for (const p of parts) {
      const [a, b] = [is(p.a), is(p.b)];
      if (!a && !b) continue;
      const middle = (p.x0 + p.x1) / 2;
      const [x0, x1] = [a ? p.x0 : middle, b ? p.x1 : middle];
      if (Math.abs(x0 - pen) > 0.01) ctx.moveTo(x0, y + (wave ? swell(x0, sway) : 0));
      if (wave) for (let x = x0 + 2; x < x1; x += 2) ctx.lineTo(x, y + swell(x, sway));
      ctx.lineTo(x1, y + (wave ? swell(x1, sway) : 0));
      pen = x1;
    }
    ctx.stroke();
  }
}

const swell = (/** @type {number} */ x, /** @type {number} */ sway) => sway * Math.sin((x * Math.PI) / 5);
