// @ts-check
// A body on its canvas: turns by drag, keys and buttons, follows the playhead,
// shows another posture as a faint second body, and tells which muscle was
// tapped.

import { pitchOf, project, scaleAt, viewName, views } from './camera.js';
import { boxOf, closeUps, makeEye } from './eye.js';
import { makeGrip } from './grip.js';
import { drawFloor, drawForces } from './ground.js';
import { mix } from './scene.js';
import { fillMap, makeMap, shade, smooth, veil } from './raster.js';
import { bands, drawBand, nearest, pullArrow, rings } from './ribbons.js';

const step = 15; // degrees of one press
const slow = 14; // ms of one picture from which the map gets coarser
const softMM = 16; // how far parts of the body run into each other
const veilGrain = 0.75; // map pixels per screen pixel of the second body

/** Colours by theme, read from the style sheet. */
function readInks() {
  const css = getComputedStyle(document.documentElement);
  const get = (/** @type {string} */ n) => css.getPropertyValue(n).trim();
  const dark = matchMedia('(prefers-color-scheme: dark)').matches;
  return {
    work: get('--work'), onWork: get('--on-work'), long: get('--long'), slack: get('--slack'), rest: get('--rest'),
    paper: get('--sheet'), onRing: get('--ink'), floor: get('--rule'),
    veil: dark ? [170, 166, 150] : [88, 84, 70],
    clay: dark ? { dark: [44, 46, 42], light: [176, 171, 156] } : { dark: [112, 101, 88], light: [246, 238, 222] },
  };
}

/** A depth map with the canvas that it is painted on. */
function makeSheet() {
  const canvas = document.createElement('canvas');
  const ctx = /** @type {CanvasRenderingContext2D} */ (canvas.getContext('2d'));
  return {
    canvas, ctx, grain: 1, map: makeMap(1, 1), image: new ImageData(1, 1), ends: new Float32Array(0), radii: new Float32Array(0),
    /** @param {number} width @param {number} height @param {number} grain */
    size(width, height, grain) {
      this.grain = grain;
      this.map = makeMap(Math.max(1, Math.round(width * grain)), Math.max(1, Math.round(height * grain)));
      this.image = new ImageData(this.map.w, this.map.h);
      canvas.width = this.map.w;
      canvas.height = this.map.h;
    },
    /** Fills the map with a body. @param {any} eye @param {Float32Array} body @param {number[]} radii mm */
    fill(eye, body, radii) {
      if (this.ends.length !== body.length) {
        this.ends = new Float32Array(body.length);
        this.radii = new Float32Array(body.length / 3);
      }
      const { ends, grain } = this;
      project(eye, body, ends);
      for (let i = 0; i < this.radii.length; i++) this.radii[i] = radii[i] * scaleAt(eye, ends[i * 3 + 2]) * grain;
      for (let i = 0; i < ends.length; i++) ends[i] *= grain;
      fillMap(this.map, ends, this.radii, softMM * eye.scale * grain);
    },
    /** Puts the painted map on a picture. @param {CanvasRenderingContext2D} on */
    lay(on) {
      ctx.putImageData(this.image, 0, 0);
      on.imageSmoothingQuality = 'high';
      on.drawImage(canvas, 0, 0, this.map.w, this.map.h, 0, 0, this.map.w / this.grain, this.map.h / this.grain);
    },
  };
}

/**
 * @param {HTMLCanvasElement} canvas
 * @param {HTMLElement} tip where a muscle's name is shown beside the pointer
 * @param {{tapped: (muscle: number) => void, viewed: (name: string) => void, turned?: (yaw: number, pitch: number) => void}} tell
 */
export function makeFigure(canvas, tip, tell) {
  const ctx = /** @type {CanvasRenderingContext2D} */ (canvas.getContext('2d'));
  const soft = makeSheet();
  const far = makeSheet(); // of the second body
  const view = makeEye();
  const eye = view.eye;
  let inks = readInks();
  /** @type {any} */
  let model = null;
  /** @type {import('./scene.js').Scene|null} */
  let scene = null;
  let part = 0;
  /** @type {import('./scene.js').Sample|null} */
  let ghost = null;
  let close = 'whole';
  let roles = '';
  let grades = '';
  /** @type {number[]} */
  let efforts = []; // per mille
  let pulls = '';
  /** @type {Set<number>} */
  let chosen = new Set();
  let width = 0;
  let height = 0;
  let dpr = 1;
  let due = 0;
  let last = 0;
  /** @type {import('./scene.js').Sample|null} */
  let sample = null;
  let lines = new Float32Array(0);
  /** @type {import('./ribbons.js').Band[]} */
  let drawn = [];

  const ask = () => {
    if (!due) due = requestAnimationFrame(draw);
  };

  const draw = (/** @type {number} */ now) => {
    due = 0;
    const moving = view.glide(Math.min(60, last ? now - last : 1000));
    last = moving ? now : 0;
    if (moving) ask();
    if (!model || !scene || !width) return;
    sample = mix(scene, part, sample);
    if (!sample) return;
    const began = performance.now();
    eye.cx = width / 2;
    eye.cy = height / 2;
    ctx.setTransform(dpr, 0, 0, dpr, 0, 0);
    ctx.clearRect(0, 0, width, height);
    drawFloor(ctx, eye, sample, inks.floor);
    if (ghost && ghost.body.length === sample.body.length) {
      far.fill(eye, ghost.body, model.radii_mm);
      veil(far.map, far.image.data, inks.veil);
      far.lay(ctx);
    }
    soft.fill(eye, sample.body, model.radii_mm);
    const { map, grain } = soft;
    smooth(map, Math.max(1, Math.round(11 * eye.scale * grain)), 26 * eye.scale * grain);
    shade(map, soft.image.data, inks.clay);
    soft.lay(ctx);
    const per = model.line_points;
    if (lines.length !== sample.lines.length) lines = new Float32Array(sample.lines.length);
    project(eye, sample.lines, lines);
    drawn = bands(lines, per, roles, grades, map, grain, eye.scale);
    const wide = (/** @type {number} */ m) => Math.max(2, Math.min(46, Math.max(9, model.muscles[m].width_mm * 0.95)) * eye.scale);
    const asked = drawn.filter((b) => chosen.has(b.index));
    if (asked.length) rings(ctx, lines, per, asked.map((band) => ({ band, width: wide(band.index) })), inks);
    for (const b of drawn) drawBand(ctx, lines, per, b, wide(b.index), inks, chosen.has(b.index), (efforts[b.index] ?? 0) / 1000, pulls[b.index] ?? '-');
    for (const b of asked) pullArrow(ctx, lines, per, b, pulls[b.index] ?? '-', inks);
    drawForces(ctx, eye, sample, inks);
    const took = performance.now() - began;
    const finest = Math.min(dpr, 1.5);
    if (took > slow && grain > 0.7) regrain(Math.max(0.66, grain * 0.8));
    else if (!moving && took < slow / 3 && grain < finest) regrain(Math.min(finest, grain * 1.25));
    canvas.dataset.ms = took.toFixed(1);
    canvas.dataset.shown = String(Number(canvas.dataset.shown ?? 0) + 1);
  };

  const regrain = (/** @type {number} */ g) => {
    soft.size(width, height, g);
    far.size(width, height, veilGrain);
    ask();
  };

  const resize = () => {
    const box = canvas.getBoundingClientRect();
    [width, height, dpr] = [box.width, box.height, Math.min(3, devicePixelRatio || 1)];
    canvas.width = Math.round(width * dpr);
    canvas.height = Math.round(height * dpr);
    if (width && height) regrain(Math.min(1, soft.grain));
    reframe();
  };
  new ResizeObserver(resize).observe(canvas);
  for (const q of ['(prefers-color-scheme: dark)', '(forced-colors: active)']) {
    matchMedia(q).addEventListener('change', () => {
      inks = readInks();
      ask();
    });
  }

  const reframe = () => {
    if (!scene || !width || !scene.samples.length) return;
    const wanted = closeUps[close] ?? [];
    const [low, high] = boxOf(scene, model?.parts ?? [], wanted);
    view.take(low, high, width, height, wanted.length > 0);
    ask();
  };

  const look = (/** @type {number} */ yaw, /** @type {number} */ pitch, quiet = false) => {
    const was = view.goal().pitch > 60;
    view.look(yaw, pitch);
    const goal = view.goal();
    if (goal.pitch > 60 !== was) reframe();
    tell.viewed(viewName(goal.yaw, goal.pitch));
    if (!quiet) tell.turned?.(goal.yaw, goal.pitch);
    ask();
  };

  makeGrip(canvas, tip, {
    goal: view.goal, look, tapped: tell.tapped,
    under: (x, y, reach) => (model ? nearest(drawn, lines, model.line_points, x, y, reach) : -1),
    name: (m) => model.muscles[m].plain || model.muscles[m].name,
  });

  return {
    /** @param {any} m */
    model(m) {
      model = m;
      reframe();
      ask();
    },
    /** What is shown, and how far along it is. @param {import('./scene.js').Scene|null} s @param {number} p */
    show(s, p) {
      if (s === scene && p === part) return;
      const other = s !== scene;
      scene = s;
      part = p;
      if (other) reframe();
      ask();
    },
    /** The second body, or none. @param {import('./scene.js').Sample|null} s */
    ghost(s) {
      if (s === ghost) return;
      ghost = s;
      ask();
    },
    /** What each muscle does. @param {string} r @param {string} g @param {number[]} e per mille of full effort @param {string} p which end is held */
    paint(r, g, e, p) {
      if (r === roles && g === grades && e === efforts && p === pulls) return;
      roles = r;
      grades = g;
      efforts = e;
      pulls = p;
      ask();
    },
    /** @param {number[]} list muscles to ring */
    choose(list) {
      chosen = new Set(list);
      ask();
    },
    /** @param {string} name */
    view: (name) => look(views[name], pitchOf(name)),
    /** @param {number} yaw @param {number} pitch as another figure is seen */
    follow: (yaw, pitch) => look(yaw, pitch, true),
    /** The whole body or a part of it. @param {string} name of closeUps */
    close(name) {
      close = name;
      reframe();
    },
    /** @param {number} presses to its left, negative to its right */
    turn: (presses) => look(view.goal().yaw + presses * step, view.goal().pitch),
    /** @param {string} text */
    say: (text) => canvas.setAttribute('aria-label', text),
  };
}
