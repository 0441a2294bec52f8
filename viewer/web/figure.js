// @ts-check
// The body on its canvas: turns by drag, keys and buttons, follows the
// playhead, and tells which muscle was tapped.

import { $, still } from './dom.js';
import { fit, project, scaleAt, turn, viewName, views } from './camera.js';
import { mix } from './scene.js';
import { fillMap, makeMap, shade, smooth } from './raster.js';
import { bands, drawBand, nearest } from './ribbons.js';

const step = 15; // degrees of one press
const slow = 14; // ms of one picture from which the map gets coarser
const softMM = 16; // how far parts of the body run into each other

/** Colours by theme, read from the style sheet. */
function readInks() {
  const css = getComputedStyle(document.documentElement);
  const get = (/** @type {string} */ n) => css.getPropertyValue(n).trim();
  const dark = matchMedia('(prefers-color-scheme: dark)').matches;
  return {
    work: get('--work'), onWork: get('--on-work'), long: get('--long'), slack: get('--slack'), rest: get('--rest'),
    paper: get('--sheet'), onRing: get('--ink'), floor: get('--rule'),
    clay: dark ? { dark: [44, 46, 42], light: [176, 171, 156] } : { dark: [112, 101, 88], light: [246, 238, 222] },
  };
}

/**
 * @param {{tapped: (muscle: number) => void, viewed: (name: string) => void}} tell
 */
export function makeFigure(tell) {
  /** @type {HTMLCanvasElement} */
  const canvas = $('figure');
  const ctx = /** @type {CanvasRenderingContext2D} */ (canvas.getContext('2d'));
  const soft = document.createElement('canvas');
  const softCtx = /** @type {CanvasRenderingContext2D} */ (soft.getContext('2d'));
  let inks = readInks();
  /** @type {any} */
  let model = null;
  /** @type {import('./scene.js').Scene|null} */
  let scene = null;
  let part = 0;
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
  let grain = 1; // map pixels per screen pixel
  const eye = { yaw: 0, pitch: 4, middle: [0, 900, 0], scale: 0.2, cx: 0, cy: 0 };
  let goal = { yaw: 0, pitch: 4 };
  /** @type {{middle: number[], scale: number}|null} */
  let frame = null;
  let due = 0;
  let last = 0;
  /** @type {import('./scene.js').Sample|null} */
  let sample = null;
  let map = makeMap(1, 1);
  let image = new ImageData(1, 1);
  let ends = new Float32Array(0);
  let mapEnds = new Float32Array(0);
  let radii = new Float32Array(0);
  let lines = new Float32Array(0);
  /** @type {import('./ribbons.js').Band[]} */
  let drawn = [];

  const ask = () => {
    if (!due) due = requestAnimationFrame(draw);
  };

  /** Moves the eye toward its goal; true while there is way to go. @param {number} ms */
  const glide = (ms) => {
    const k = still() ? 1 : 1 - Math.exp(-ms / 90);
    const dyaw = turn(eye.yaw, goal.yaw);
    const dpitch = goal.pitch - eye.pitch;
    eye.yaw += dyaw * k;
    eye.pitch += dpitch * k;
    let left = Math.abs(dyaw) + Math.abs(dpitch) > 0.2;
    if (!left) [eye.yaw, eye.pitch] = [goal.yaw, goal.pitch];
    if (frame) {
      const far = frame;
      const ds = far.scale - eye.scale;
      eye.scale += ds * k;
      eye.middle = eye.middle.map((v, i) => v + (far.middle[i] - v) * k);
      const rest = Math.max(...eye.middle.map((v, i) => Math.abs(far.middle[i] - v)));
      if (Math.abs(ds) / far.scale > 0.002 || rest > 2) left = true;
      else [eye.scale, eye.middle] = [far.scale, [...far.middle]];
    }
    return left;
  };

  const draw = (/** @type {number} */ now) => {
    due = 0;
    const moving = glide(Math.min(60, last ? now - last : 1000));
    last = moving ? now : 0;
    if (moving) ask();
    if (!model || !scene || !width) return;
    sample = mix(scene, part, sample);
    if (!sample) return;
    const began = performance.now();
    eye.cx = width / 2;
    eye.cy = height / 2;
    if (ends.length !== sample.body.length) {
      ends = new Float32Array(sample.body.length);
      mapEnds = new Float32Array(sample.body.length);
      radii = new Float32Array(sample.body.length / 3);
    }
    if (lines.length !== sample.lines.length) lines = new Float32Array(sample.lines.length);
    project(eye, sample.body, ends);
    project(eye, sample.lines, lines);
    for (let i = 0; i < ends.length; i++) mapEnds[i] = ends[i] * grain;
    for (let i = 0; i < radii.length; i++) radii[i] = model.radii_mm[i] * scaleAt(eye, ends[i * 3 + 2]) * grain;
    fillMap(map, mapEnds, radii, softMM * eye.scale * grain);
    smooth(map, Math.max(1, Math.round(11 * eye.scale * grain)), 26 * eye.scale * grain);
    shade(map, image.data, inks.clay);
    softCtx.putImageData(image, 0, 0);

    ctx.setTransform(dpr, 0, 0, dpr, 0, 0);
    ctx.clearRect(0, 0, width, height);
    floor();
    ctx.imageSmoothingQuality = 'high';
    ctx.drawImage(soft, 0, 0, map.w, map.h, 0, 0, map.w / grain, map.h / grain);
    const per = model.line_points;
    drawn = bands(lines, per, roles, grades, map, grain, eye.scale);
    for (const b of drawn) {
      const muscle = model.muscles[b.index];
      const w = Math.min(46, Math.max(9, muscle.width_mm * 0.95)) * eye.scale;
      drawBand(ctx, lines, per, b, Math.max(2, w), inks, chosen.has(b.index), (efforts[b.index] ?? 0) / 1000, pulls[b.index] ?? '-');
    }
    const took = performance.now() - began;
    const finest = Math.min(dpr, 1.5);
    if (took > slow && grain > 0.7) regrain(Math.max(0.66, grain * 0.8));
    else if (!moving && took < slow / 3 && grain < finest) regrain(Math.min(finest, grain * 1.25));
    canvas.dataset.ms = took.toFixed(1);
  };

  /** A soft shadow on the floor and where the body rests on it. */
  const floor = () => {
    if (!sample) return;
    const spots = sample.contacts.length ? sample.contacts : [sample.centre[0], 0, sample.centre[2]];
    let [low, high] = [Infinity, -Infinity];
    const at = new Float32Array(3);
    let y = 0;
    for (let i = 0; i < spots.length; i += 3) {
      project(eye, [spots[i], 0, spots[i + 2]], at);
      low = Math.min(low, at[0]);
      high = Math.max(high, at[0]);
      y = Math.max(y, at[1]);
    }
    const reach = (high - low) / 2 + 210 * eye.scale;
    const x = (low + high) / 2;
    ctx.save();
    ctx.translate(x, y + 6 * eye.scale);
    ctx.scale(1, 0.13 + Math.abs(Math.sin((eye.pitch * Math.PI) / 180)) * 0.5);
    const glow = ctx.createRadialGradient(0, 0, reach * 0.15, 0, 0, reach);
    glow.addColorStop(0, inks.floor);
    glow.addColorStop(1, `${inks.floor}00`);
    ctx.fillStyle = glow;
    ctx.beginPath();
    ctx.arc(0, 0, reach, 0, 2 * Math.PI);
    ctx.fill();
    ctx.restore();
  };

  const regrain = (/** @type {number} */ g) => {
    grain = g;
    map = makeMap(Math.max(1, Math.round(width * grain)), Math.max(1, Math.round(height * grain)));
    image = new ImageData(map.w, map.h);
    soft.width = map.w;
    soft.height = map.h;
    ask();
  };

  const resize = () => {
    const box = canvas.getBoundingClientRect();
    [width, height, dpr] = [box.width, box.height, Math.min(3, devicePixelRatio || 1)];
    canvas.width = Math.round(width * dpr);
    canvas.height = Math.round(height * dpr);
    if (width && height) regrain(Math.min(1, grain));
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
    const first = !frame;
    frame = fit(scene.low, scene.high, width, height);
    if (first) [eye.scale, eye.middle] = [frame.scale, [...frame.middle]];
    ask();
  };

  const look = (/** @type {number} */ yaw, /** @type {number} */ pitch) => {
    goal = { yaw, pitch: Math.min(75, Math.max(-25, pitch)) };
    tell.viewed(viewName(goal.yaw, goal.pitch));
    ask();
  };

  // Drag turns; a tap without a drag asks about the muscle there.
  /** @type {{x: number, y: number, yaw: number, pitch: number, far: boolean}|null} */
  let grip = null;
  const under = (/** @type {PointerEvent} */ e, /** @type {number} */ reach) => {
    const box = canvas.getBoundingClientRect();
    return model ? nearest(drawn, lines, model.line_points, e.clientX - box.left, e.clientY - box.top, reach) : -1;
  };
  const tip = $('tip');
  const hint = (/** @type {PointerEvent} */ e) => {
    const m = e.pointerType === 'mouse' && !grip ? under(e, 7) : -1;
    tip.hidden = m < 0;
    canvas.style.cursor = m < 0 ? '' : 'pointer';
    if (m < 0) return;
    const box = canvas.getBoundingClientRect();
    tip.textContent = model.muscles[m].plain || model.muscles[m].name;
    tip.style.left = `${Math.min(box.width - 70, Math.max(70, e.clientX - box.left))}px`;
    tip.style.top = `${e.clientY - box.top}px`;
  };
  canvas.addEventListener('pointerdown', (e) => {
    if (e.button !== 0) return;
    grip = { x: e.clientX, y: e.clientY, yaw: goal.yaw, pitch: goal.pitch, far: false };
    canvas.setPointerCapture(e.pointerId);
  });
  canvas.addEventListener('pointermove', (e) => {
    if (!grip) return hint(e);
    const [dx, dy] = [e.clientX - grip.x, e.clientY - grip.y];
    if (!grip.far && Math.hypot(dx, dy) < 5) return;
    grip.far = true;
    tip.hidden = true;
    canvas.classList.add('turning');
    look(grip.yaw - dx * 0.5, grip.pitch + (e.pointerType === 'touch' ? 0 : dy * 0.3));
  });
  const release = (/** @type {PointerEvent} */ e) => {
    if (grip && !grip.far && e.type === 'pointerup') tell.tapped(under(e, e.pointerType === 'touch' ? 16 : 9));
    grip = null;
    canvas.classList.remove('turning');
  };
  canvas.addEventListener('pointerup', release);
  canvas.addEventListener('pointercancel', release);
  canvas.addEventListener('pointerleave', () => (tip.hidden = true));

  return {
    /** @param {any} m */
    model(m) {
      model = m;
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
    view: (name) => look(views[name], 4),
    /** @param {number} presses to its left, negative to its right */
    turn: (presses) => look(goal.yaw + presses * step, goal.pitch),
    /** @param {string} text */
    say: (text) => canvas.setAttribute('aria-label', text),
  };
}
