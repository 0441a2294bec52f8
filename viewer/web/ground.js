// @ts-check
// What a body rests on and what it bears: a soft shadow on the floor, an arrow
// where something presses on it, as long as the press is strong, and a tag where
// it carries, pushes or pulls.

import { project } from './camera.js';

/** @typedef {import('./camera.js').Camera} Camera */
/** @typedef {import('./scene.js').Sample} Sample */

/** @type {Record<string, number[]>} */
const ways = { up: [0, 1, 0], down: [0, -1, 0], forward: [1, 0, 0], backward: [-1, 0, 0], right: [0, 0, 1], left: [0, 0, -1] };
const perNewton = 0.28; // mm of arrow
const longest = 190; // mm
const shortest = 26;
const together = 230; // mm between patches that press as one; sideways half of it, or both feet would be one

/** @param {CanvasRenderingContext2D} ctx @param {Camera} eye @param {Sample} sample @param {string} ink */
export function drawFloor(ctx, eye, sample, ink) {
  const spots = sample.contacts.length ? sample.contacts : [sample.centre[0], 0, sample.centre[2]];
  let [low, high] = [Infinity, -Infinity];
  const at = new Float32Array(3);
  let y = -Infinity;
  for (let i = 0; i < spots.length; i += 3) {
    project(eye, [spots[i], 0, spots[i + 2]], at);
    low = Math.min(low, at[0]);
    high = Math.max(high, at[0]);
    y = Math.max(y, at[1]);
  }
  const reach = (high - low) / 2 + 210 * eye.scale;
  ctx.save();
  ctx.translate((low + high) / 2, y + 6 * eye.scale);
  ctx.scale(1, 0.13 + Math.abs(Math.sin((eye.pitch * Math.PI) / 180)) * 0.5);
  const glow = ctx.createRadialGradient(0, 0, reach * 0.15, 0, 0, reach);
  glow.addColorStop(0, ink);
  glow.addColorStop(1, ink.startsWith('#') ? `${ink}00` : 'transparent');
  ctx.fillStyle = glow;
  ctx.beginPath();
  ctx.arc(0, 0, reach, 0, 2 * Math.PI);
  ctx.fill();
  ctx.restore();
}

/**
 * What presses on the body, patches that lie close together as one: a foot and
 * not its heel, ball and toes.
 * @param {number[]} contacts @param {number[]} bears three for each @returns {{at: number[], force: number[]}[]}
 */
export function presses(contacts, bears) {
  /** @type {{at: number[], force: number[], size: number}[]} */
  const all = [];
  for (let i = 0; i < contacts.length; i += 3) {
    const force = bears.slice(i, i + 3);
    const at = contacts.slice(i, i + 3);
    const size = Math.hypot(...force);
    if (size < 1) continue;
    const near = all.find((o) => Math.hypot(o.at[0] - at[0], o.at[1] - at[1], 2 * (o.at[2] - at[2])) < together);
    if (!near) {
      all.push({ at, force, size });
      continue;
    }
    const part = size / (size + near.size);
    near.at = near.at.map((v, k) => v + part * (at[k] - v));
    near.force = near.force.map((v, k) => v + force[k]);
    near.size += size;
  }
  return all;
}

/**
 * @param {CanvasRenderingContext2D} ctx @param {Camera} eye @param {Sample} sample
 * @param {{onRing: string, paper: string}} inks
 */
export function drawForces(ctx, eye, sample, inks) {
  for (const { at, force } of presses(sample.contacts, sample.bears)) {
    const size = Math.hypot(...force);
    const long = Math.min(longest, shortest + size * perNewton);
    arrow(ctx, eye, at.map((v, k) => v - (force[k] / size) * long), at, inks);
  }
  for (const l of sample.loads) {
    const way = ways[l.way] ?? ways.down;
    const tip = l.at.map((v, k) => v + way[k] * 170);
    const [x, y] = arrow(ctx, eye, l.at.map((v, k) => v + way[k] * 40), tip, inks);
    tag(ctx, x, y, l.text, way[1] > 0 ? -1 : 1, inks);
  }
}

/** An arrow between two places in the world; returns where its point is. */
function arrow(/** @type {CanvasRenderingContext2D} */ ctx, /** @type {Camera} */ eye, /** @type {number[]} */ from, /** @type {number[]} */ to, /** @type {{onRing: string, paper: string}} */ inks) {
  const p = project(eye, [...from, ...to], new Float32Array(6));
  const [dx, dy] = [p[3] - p[0], p[4] - p[1]];
  const l = Math.hypot(dx, dy);
  if (l < 3) return [p[3], p[4]];
  const [ux, uy] = [dx / l, dy / l];
  const h = Math.min(8, l * 0.6);
  ctx.lineCap = 'butt';
  for (const [ink, wide] of /** @type {[string, number][]} */ ([[inks.paper, 5.4], [inks.onRing, 2.2]])) {
    ctx.strokeStyle = ink;
    ctx.fillStyle = ink;
    ctx.lineWidth = wide;
    ctx.lineJoin = 'round';
    ctx.beginPath();
    ctx.moveTo(p[0], p[1]);
    ctx.lineTo(p[3] - ux * h, p[4] - uy * h);
    ctx.stroke();
    ctx.lineWidth = wide - 1.6;
    ctx.beginPath();
    ctx.moveTo(p[3], p[4]);
    ctx.lineTo(p[3] - ux * h - uy * h * 0.5, p[4] - uy * h + ux * h * 0.5);
    ctx.lineTo(p[3] - ux * h + uy * h * 0.5, p[4] - uy * h - ux * h * 0.5);
    ctx.closePath();
    ctx.fill();
    ctx.stroke();
  }
  return [p[3], p[4]];
}

/** A word on a plate. */
function tag(/** @type {CanvasRenderingContext2D} */ ctx, /** @type {number} */ x, /** @type {number} */ y, /** @type {string} */ text, /** @type {number} */ side, /** @type {{onRing: string, paper: string}} */ inks) {
  ctx.font = '600 12px system-ui, sans-serif';
  const w = ctx.measureText(text).width + 12;
  const top = side > 0 ? y + 2 : y - 20;
  ctx.fillStyle = inks.onRing;
  ctx.beginPath();
  ctx.roundRect(x - w / 2, top, w, 18, 9);
  ctx.fill();
  ctx.fillStyle = inks.paper;
  ctx.textAlign = 'center';
  ctx.textBaseline = 'middle';
  ctx.fillText(text, x, top + 9.5);
}
