// @ts-check
// Angles read off a picture: three points for the angle, a fourth that tells how
// the plane of the movement is turned, and what the picture cannot tell.

/** @typedef {number[]} Point x to the right, y down, in pixels of the recording */

const deg = 180 / Math.PI;
export const turned = 15; // degrees off square that a camera may stand without being noticed
export const slip = 4; // px by which a point may be missed

/** The angle at b between a and c, degrees from 0 to 180. @param {Point} a @param {Point} b @param {Point} c @param {number} [wide] what widths are divided by first */
export function angleAt(a, b, c, wide = 1) {
  const [ux, uy, vx, vy] = [(a[0] - b[0]) / wide, a[1] - b[1], (c[0] - b[0]) / wide, c[1] - b[1]];
  return Math.abs(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)) * deg;
}

/**
 * How much narrower the plane looks than it is, from a place d that in truth is
 * square to the line from b to a. The camera is taken as level and the plane as
 * upright. 0 where that cannot be told: the line upright or level in the picture,
 * or the places on one side.
 * @param {Point} a @param {Point} b @param {Point} d
 */
export function narrowing(a, b, d) {
  const [ax, ay, dx, dy] = [a[0] - b[0], a[1] - b[1], d[0] - b[0], d[1] - b[1]];
  const k2 = -(ax * dx) / (ay * dy);
  const k = Math.sqrt(k2);
  return k > 0.25 && k < 1.6 ? k : 0;
}

/**
 * What three or four points read.
 * @param {Point[]} points
 * @returns {{angle: number, plane: number, camera: number, points: number}|null} degrees: the angle; the turn of the plane, 0 where none was told and -1 where the fourth point cannot tell it; what a camera off square adds at most; what missed points add
 */
export function read(points) {
  const [a, b, c, d] = points;
  if (!c) return null;
  const [la, lc] = [Math.hypot(a[0] - b[0], a[1] - b[1]), Math.hypot(c[0] - b[0], c[1] - b[1])];
  if (la < 2 * slip || lc < 2 * slip) return null;
  const k = d ? narrowing(a, b, d) : 1;
  const wide = k || 1;
  const angle = angleAt(a, b, c, wide);
  const off = Math.cos(turned / deg);
  const camera = Math.max(...[wide * off, wide / off].map((w) => Math.abs(angleAt(a, b, c, w) - angle)));
  const missed = (Math.atan(slip / la) + Math.atan(slip / lc)) * deg;
  return { angle, plane: !d ? 0 : k ? Math.acos(Math.min(1, k)) * deg : -1, camera, points: missed };
}

/** How a joint's value comes from the angle between the bones: straight is 180 at most joints, a right angle at the ankle, and at the shoulder the arm along the trunk is 0. @param {string} joint @param {number} angle */
export const valueOf = (joint, angle) => (joint === 'shoulder' ? angle : joint === 'ankle' ? 90 - angle : 180 - angle);

/** Whether three points in a picture can tell a movement: turns about the bone's own line they cannot. @param {{toward: string, joint: string}} dial */
export const readable = (dial) => !/rotat|pronat|tilt|invert|shoulder blade/.test(`${dial.toward} ${dial.joint}`);

/** The picture's place inside its box, and its scale. @param {number} width @param {number} height of the box @param {number} w @param {number} h of the recording */
export function framed(width, height, w, h) {
  const scale = Math.min(width / w, height / h);
  return { x: (width - w * scale) / 2, y: (height - h * scale) / 2, scale };
}
