// @ts-check
// Where a figure is looked at from, gliding to where it is asked to look from.

import { still } from './dom.js';
import { fit, turn } from './camera.js';

/** Parts that a close-up is of; none for the whole body. @type {Record<string, string[]>} */
export const closeUps = { whole: [], girdle: ['clavicle', 'scapula'], pelvis: ['pelvis'] };

export function makeEye() {
  const eye = { yaw: 0, pitch: 4, middle: [0, 900, 0], scale: 0.2, cx: 0, cy: 0 };
  let goal = { yaw: 0, pitch: 4 };
  /** @type {{middle: number[], scale: number}|null} */
  let frame = null;
  return {
    eye,
    goal: () => goal,
    /** @param {number} yaw @param {number} pitch degrees */
    look(yaw, pitch) {
      goal = { yaw, pitch: Math.min(86, Math.max(-30, pitch)) };
    },
    /** Takes a box into view; at once the first time. @param {number[]} low @param {number[]} high mm @param {number} width @param {number} height px @param {boolean} close */
    take(low, high, width, height, close) {
      const first = !frame;
      frame = fit(low, high, width, height, close, goal.pitch > 60);
      if (first) [eye.scale, eye.middle] = [frame.scale, [...frame.middle]];
    },
    /** Moves toward the goal; true while there is way to go. @param {number} ms */
    glide(ms) {
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
    },
  };
}

/**
 * The box of some parts of the body over all samples of a scene; of all of it
 * where none are named.
 * @param {import('./scene.js').Scene} scene @param {string[]} parts of every capsule @param {string[]} wanted
 * @returns {[number[], number[]]} low and high, mm
 */
export function boxOf(scene, parts, wanted) {
  if (!wanted.length) return [scene.low, scene.high];
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (const s of scene.samples) {
    parts.forEach((part, c) => {
      if (!wanted.includes(part)) return;
      for (let i = c * 6; i < c * 6 + 6; i++) {
        low[i % 3] = Math.min(low[i % 3], s.body[i]);
        high[i % 3] = Math.max(high[i % 3], s.body[i]);
      }
    });
  }
  return [low, high];
}
