// @ts-check
// Where the figure is seen from. World: x forward, y up, z to its right, mm.
// Screen: x to the right, y down, depth toward the eye, in pixels.

/** Angles of the named views, degrees: 0 from its front, 90 from its right. @type {Record<string, number>} */
export const views = { front: 0, left: -90, back: 180, right: 90, above: 0 };
const level = 4; // degrees of pitch of all views but the one from above
const steep = 86;

const eyeAt = 5200; // mm from the middle: mild perspective

/**
 * @typedef {{yaw: number, pitch: number, middle: number[], scale: number, cx: number, cy: number}} Camera
 *   yaw and pitch in degrees, middle the point looked at, mm, scale pixels per mm there, cx cy its place on the screen
 */

/**
 * Projects points (x, y, z triples) to screen triples (x, y, depth).
 * @param {Camera} c @param {ArrayLike<number>} points @param {Float32Array} out
 */
export function project(c, points, out) {
  const yaw = (c.yaw * Math.PI) / 180;
  const pitch = (c.pitch * Math.PI) / 180;
  const [sy, cy] = [Math.sin(yaw), Math.cos(yaw)];
  const [sp, cp] = [Math.sin(pitch), Math.cos(pitch)];
  for (let i = 0; i < points.length; i += 3) {
    const x = points[i] - c.middle[0];
    const y = points[i + 1] - c.middle[1];
    const z = points[i + 2] - c.middle[2];
    const along = x * cy + z * sy; // toward the eye, in the floor plane
    const across = x * sy - z * cy;
    const depth = along * cp + y * sp;
    const up = y * cp - along * sp;
    const s = (c.scale * eyeAt) / (eyeAt - depth);
    out[i] = c.cx + across * s;
    out[i + 1] = c.cy - up * s;
    out[i + 2] = depth * c.scale;
  }
  return out;
}

/** Pixels per mm at a depth in pixels. @param {Camera} c @param {number} depth */
export function scaleAt(c, depth) {
  return (c.scale * eyeAt) / (eyeAt - depth / c.scale);
}

/** The pitch of a named view, degrees. @param {string} name */
export const pitchOf = (name) => (name === 'above' ? steep : level);

/**
 * A camera's middle and scale so that a box fits, from any side.
 * @param {number[]} low @param {number[]} high mm @param {number} width @param {number} height px @param {boolean} [close] of a part of the body @param {boolean} [above] seen from above
 */
export function fit(low, high, width, height, close = false, above = false) {
  const flesh = close ? 110 : 84; // mm that the outline stands out from its axes
  const middle = [0, 1, 2].map((i) => (low[i] + high[i]) / 2);
  const tall = Math.max(close ? 420 : 900, high[1] - low[1] + 2 * flesh);
  const wide = Math.max(close ? 420 : 600, Math.hypot(high[0] - low[0], high[2] - low[2]) * 0.72 + 2 * flesh);
  if (above) {
    const [deep, broad] = [high[0] - low[0] + 2 * flesh, high[2] - low[2] + 2 * flesh];
    return { middle, scale: Math.min((height * 0.8) / Math.max(deep, 420), (width * 0.9) / Math.max(broad, 420)) };
  }
  return { middle, scale: Math.min((height * 0.96) / tall, (width * 0.96) / wide) };
}

/** The short way from one angle to another, degrees. @param {number} from @param {number} to */
export function turn(from, to) {
  return ((((to - from) % 360) + 540) % 360) - 180;
}

/** The name of the view that an angle is, or "". @param {number} yaw @param {number} pitch */
export function viewName(yaw, pitch) {
  if (pitch > 70) return 'above';
  if (Math.abs(pitch) > 14) return '';
  for (const [name, angle] of Object.entries(views)) if (name !== 'above' && Math.abs(turn(yaw, angle)) < 2) return name;
  return '';
}
