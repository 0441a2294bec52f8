// @ts-check
// Muscles as bands along their real paths. Colour tells work from length, and
// so does form: what works is a broad band with strokes across, edged where it
// has to and a dashed outline where it only may; what is drawn long a taut line
// with a bright core, what is slack a wave of dashes, the rest a hair. The more
// effort, the stronger the colour. What lies on the far side is faint.

import { buried } from './raster.js';

/**
 * @typedef {{work: string, onWork: string, long: string, slack: string, rest: string, paper: string, onRing?: string}} Inks
 * @typedef {{index: number, role: string, grade: string, depth: number, seen: Float32Array, from: number}} Band
 */

const near = 42; // mm under the surface up to which a muscle is seen fully
const hidden = 125; // and from which it is only guessed at
const order = { q: 0, s: 1, l: 2, w: 3 };

/**
 * The bands to draw, far ones first.
 * @param {Float32Array} points screen triples, `per` for each muscle
 * @param {number} per @param {string} roles @param {string} grades
 * @param {import('./raster.js').Map} map @param {number} mapScale map pixels per screen pixel @param {number} scale px per mm
 * @returns {Band[]}
 */
export function bands(points, per, roles, grades, map, mapScale, scale) {
  const out = [];
  for (let m = 0, from = 0; from < points.length; m++, from += per * 3) {
    const seen = new Float32Array(per);
    let depth = 0;
    for (let k = 0; k < per; k++) {
      const p = from + k * 3;
      depth += points[p + 2] / per;
      const under = buried(map, points[p] * mapScale, points[p + 1] * mapScale, points[p + 2] * mapScale) / (scale * mapScale);
      const t = Math.min(1, Math.max(0, (under - near) / (hidden - near)));
      seen[k] = 1 - t * t * (3 - 2 * t);
    }
    out.push({ index: m, role: roles[m] ?? 'q', grade: grades[m] ?? 'g', depth, seen, from });
  }
  const rank = (/** @type {Band} */ b) => order[/** @type {'q'} */ (b.role)] ?? 0;
  return out.sort((a, b) => rank(a) - rank(b) || a.depth - b.depth);
}

/** How strong the colour of work is. @param {number} effort share of full effort @returns {number} 0 to 1 */
export const strength = (effort) => 0.5 + 0.5 * Math.min(1, Math.max(0, effort) / 0.5);

/** Which way the strokes across a band point: on along the line, back, or neither. @param {string} pull */
export const point = (pull) => (pull === 'i' ? 1 : pull === 'o' ? -1 : 0);

/** The form that says how firmly it works. @param {string} grade code @returns {'edged'|'whole'|'dashed'} */
export const form = (grade) => (grade === 'm' ? 'edged' : grade === 'l' ? 'whole' : 'dashed');

/** @param {CanvasRenderingContext2D} ctx @param {Float32Array} points @param {number} per @param {Band} band @param {number} width px of the belly @param {Inks} inks @param {boolean} chosen @param {number} effort share of full effort @param {string} pull which end is held: o the first, i the last, - not told */
export function drawBand(ctx, points, per, band, width, inks, chosen, effort, pull) {
  const seen = Math.max(band.seen.reduce((a, b) => a + b, 0) / per, chosen ? 0.7 : 0);
  ctx.lineCap = 'round';
  ctx.lineJoin = 'round';
  switch (band.role) {
    case 'w': {
      const look = form(band.grade);
      const alpha = (0.08 + 0.92 * seen) * strength(effort);
      ctx.fillStyle = inks.work;
      ctx.strokeStyle = inks.work;
      ctx.globalAlpha = look === 'dashed' ? alpha * 0.35 : alpha;
      belly(ctx, points, per, band, width);
      ctx.fill();
      if (look !== 'whole') {
        ctx.globalAlpha = Math.min(1, alpha * 1.4);
        ctx.lineWidth = look === 'edged' ? Math.max(1, width * 0.14) : Math.max(0.8, width * 0.09);
        if (look === 'dashed') ctx.setLineDash([3.5, 2.5]);
        ctx.stroke();
        ctx.setLineDash([]);
      }
      ctx.globalAlpha = alpha;
      if (look !== 'dashed' && seen > 0.35) ticks(ctx, points, per, band, width, inks.onWork, point(pull));
      break;
    }
    case 'l':
      ctx.globalAlpha = 0.1 + 0.9 * seen;
      ctx.fillStyle = inks.long;
      belly(ctx, points, per, band, width * 0.72);
      ctx.fill();
      ctx.globalAlpha *= 0.75;
      ctx.strokeStyle = inks.paper;
      line(ctx, points, per, band, Math.max(0.7, width * 0.12));
      break;
    case 's':
      ctx.globalAlpha = 0.06 + 0.84 * seen;
      ctx.strokeStyle = inks.slack;
      ctx.setLineDash([4, 3.5]);
      wave(ctx, points, per, band, Math.max(1.2, width * 0.2), Math.max(1.6, width * 0.28));
      ctx.setLineDash([]);
      break;
    default:
      ctx.globalAlpha = 0.02 + 0.33 * seen;
      ctx.strokeStyle = inks.rest;
      line(ctx, points, per, band, chosen ? 2.4 : 1);
  }
  ctx.globalAlpha = 1;
}

/** What marks muscles that are asked about: a ring under all of them, so that none hides another. @param {CanvasRenderingContext2D} ctx @param {Float32Array} points @param {number} per @param {{band: Band, width: number}[]} all @param {Inks} inks */
export function rings(ctx, points, per, all, inks) {
  ctx.lineCap = ctx.lineJoin = 'round';
  ctx.globalAlpha = 1;
  for (const [ink, more] of /** @type {[string, number][]} */ ([[inks.paper, 9], [inks.onRing ?? inks.rest, 5], [inks.paper, 1.5]])) {
    ctx.strokeStyle = ink;
    for (const { band, width } of all) line(ctx, points, per, band, width + more * (width < 6 ? 0.6 : 1));
  }
}

/** The pull of a muscle that was asked about: from the end that would move to the end that is held, which gets a block. */
export function pullArrow(/** @type {CanvasRenderingContext2D} */ ctx, /** @type {Float32Array} */ points, /** @type {number} */ per, /** @type {Band} */ band, /** @type {string} */ pull, /** @type {Inks} */ inks) {
  const way = point(pull);
  if (!way) return;
  const at = (/** @type {number} */ k) => [points[band.from + k * 3], points[band.from + k * 3 + 1]];
  const order = Array.from({ length: per }, (_, k) => at(way > 0 ? k : per - 1 - k));
  const [hx, hy] = order[per - 1];
  const [bx, by] = order[per - 3];
  const l = Math.hypot(hx - bx, hy - by) || 1;
  const [ux, uy] = [(hx - bx) / l, (hy - by) / l];
  const head = 9;
  for (const [ink, wide] of /** @type {[string, number][]} */ ([[inks.paper, 4.6], [inks.onRing ?? inks.rest, 1.8]])) {
    ctx.strokeStyle = ink;
    ctx.fillStyle = ink;
    ctx.lineWidth = wide;
    ctx.beginPath();
    for (let k = 1; k < per - 1; k++) ctx.lineTo(order[k][0], order[k][1]);
    ctx.lineTo(hx - ux * head, hy - uy * head);
    ctx.stroke();
    ctx.beginPath();
    ctx.moveTo(hx - ux * 2, hy - uy * 2);
    ctx.lineTo(hx - ux * head - uy * 4.5, hy - uy * head + ux * 4.5);
    ctx.lineTo(hx - ux * head + uy * 4.5, hy - uy * head - ux * 4.5);
    ctx.closePath();
    ctx.moveTo(hx - uy * 7, hy + ux * 7);
    ctx.lineTo(hx + uy * 7, hy - ux * 7);
    ctx.stroke();
    ctx.fill();
  }
}

/** Points along the line with the normal at each. */
function walk(/** @type {Float32Array} */ points, /** @type {number} */ per, /** @type {Band} */ band, /** @type {(x: number, y: number, nx: number, ny: number, k: number) => void} */ visit) {
  for (let k = 0; k < per; k++) {
    const p = band.from + k * 3;
    const a = band.from + Math.max(0, k - 1) * 3;
    const b = band.from + Math.min(per - 1, k + 1) * 3;
    const dx = points[b] - points[a];
    const dy = points[b + 1] - points[a + 1];
    const l = Math.hypot(dx, dy) || 1;
    visit(points[p], points[p + 1], -dy / l, dx / l, k);
  }
}

function line(/** @type {CanvasRenderingContext2D} */ ctx, /** @type {Float32Array} */ points, /** @type {number} */ per, /** @type {Band} */ band, /** @type {number} */ width) {
  ctx.lineWidth = width;
  ctx.beginPath();
  for (let k = 0; k < per; k++) ctx.lineTo(points[band.from + k * 3], points[band.from + k * 3 + 1]);
  ctx.stroke();
}

/** The path around a band that swells from its tendons to its belly. */
function belly(/** @type {CanvasRenderingContext2D} */ ctx, /** @type {Float32Array} */ points, /** @type {number} */ per, /** @type {Band} */ band, /** @type {number} */ width) {
  /** @type {number[]} */
  const back = [];
  ctx.beginPath();
  walk(points, per, band, (x, y, nx, ny, k) => {
    const swell = (width / 2) * (0.22 + 0.78 * Math.sin((Math.PI * (k + 0.5)) / per) ** 0.8);
    ctx.lineTo(x + nx * swell, y + ny * swell);
    back.push(x - nx * swell, y - ny * swell);
  });
  for (let i = back.length - 2; i >= 0; i -= 2) ctx.lineTo(back[i], back[i + 1]);
  ctx.closePath();
}

/** Small strokes across the belly: the second sign of work. They are arrowheads toward the end that is held, where that is told. */
function ticks(/** @type {CanvasRenderingContext2D} */ ctx, /** @type {Float32Array} */ points, /** @type {number} */ per, /** @type {Band} */ band, /** @type {number} */ width, /** @type {string} */ ink, /** @type {number} */ way) {
  const half = Math.min(3.4, width * 0.3);
  if (half < 1) return;
  const tip = way * half;
  ctx.strokeStyle = ink;
  ctx.lineWidth = Math.max(0.8, half * 0.42);
  ctx.globalAlpha *= 0.85;
  ctx.beginPath();
  walk(points, per, band, (x, y, nx, ny, k) => {
    if (k < 2 || k > per - 3) return;
    // Along the line is the normal turned back by a quarter.
    ctx.moveTo(x + nx * half, y + ny * half);
    ctx.lineTo(x + ny * tip, y - nx * tip);
    ctx.lineTo(x - nx * half, y - ny * half);
  });
  ctx.stroke();
}

/** A slack line hangs in waves. */
function wave(/** @type {CanvasRenderingContext2D} */ ctx, /** @type {Float32Array} */ points, /** @type {number} */ per, /** @type {Band} */ band, /** @type {number} */ width, /** @type {number} */ swing) {
  ctx.lineWidth = width;
  ctx.beginPath();
  walk(points, per, band, (x, y, nx, ny, k) => {
    const side = k === 0 || k === per - 1 ? 0 : k % 2 ? swing : -swing;
    ctx.lineTo(x + nx * side, y + ny * side);
  });
  ctx.stroke();
}

/** The muscle whose line passes nearest to a place, or -1. @param {Band[]} all @param {Float32Array} points @param {number} per @param {number} x @param {number} y @param {number} reach px */
export function nearest(all, points, per, x, y, reach) {
  let best = -1;
  let least = reach;
  for (const b of all) {
    // What is easily seen is easily meant.
    for (let k = 0; k + 1 < per; k++) {
      if (b.seen[k] < 0.5) continue;
      const p = b.from + k * 3;
      const dx = points[p + 3] - points[p];
      const dy = points[p + 4] - points[p + 1];
      const t = Math.min(1, Math.max(0, ((x - points[p]) * dx + (y - points[p + 1]) * dy) / (dx * dx + dy * dy || 1)));
      const d = Math.hypot(points[p] + t * dx - x, points[p + 1] + t * dy - y) + (b.role === 'q' ? 3 : 0);
      if (d < least) {
        least = d;
        best = b.index;
      }
    }
  }
  return best;
}
