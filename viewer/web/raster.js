// @ts-check
// The soft body. Capsules go into a depth map, joined smoothly where they meet,
// so that a body and not a heap of parts results; the light falls on the map.
// The map also tells what lies on the near side.

/**
 * @typedef {{w: number, h: number, depth: Float32Array, cover: Float32Array, x0: number, y0: number, x1: number, y1: number}} Map
 *   depth in px toward the eye, `nothing` where there is no body; cover 0 to 1; x0..y1 the part that is filled
 */

export const nothing = -1e6;

/** @param {number} w @param {number} h @returns {Map} */
export function makeMap(w, h) {
  return { w, h, depth: new Float32Array(w * h), cover: new Float32Array(w * h), x0: 0, y0: 0, x1: w, y1: h };
}

/**
 * Fills the map with capsules.
 * @param {Map} map
 * @param {Float32Array} ends screen triples, two for each capsule
 * @param {Float32Array} radii px, two for each capsule
 * @param {number} soft px over which neighbours run into each other
 */
export function fillMap(map, ends, radii, soft) {
  const { w, h, depth, cover } = map;
  depth.fill(nothing);
  cover.fill(0);
  map.x0 = w;
  map.y0 = h;
  map.x1 = 0;
  map.y1 = 0;
  for (let i = 0; i < radii.length; i += 2) {
    const e = i * 3;
    const [ax, ay, az, bx, by, bz] = [ends[e], ends[e + 1], ends[e + 2], ends[e + 3], ends[e + 4], ends[e + 5]];
    const ra = radii[i];
    const rb = radii[i + 1];
    const left = Math.max(0, Math.floor(Math.min(ax - ra, bx - rb) - 1));
    const right = Math.min(w, Math.ceil(Math.max(ax + ra, bx + rb) + 1));
    const top = Math.max(0, Math.floor(Math.min(ay - ra, by - rb) - 1));
    const bottom = Math.min(h, Math.ceil(Math.max(ay + ra, by + rb) + 1));
    if (left >= right || top >= bottom) continue;
    map.x0 = Math.min(map.x0, left);
    map.y0 = Math.min(map.y0, top);
    map.x1 = Math.max(map.x1, right);
    map.y1 = Math.max(map.y1, bottom);
    const dx = bx - ax;
    const dy = by - ay;
    const dz = bz - az;
    const dr = rb - ra;
    const flat = dx * dx + dy * dy;
    const per = flat > 1e-6 ? 1 / flat : 0;
    // Seen end on, the nearer end hides the rest.
    const steep = Math.abs(dz) > Math.sqrt(flat) * 0.5;
    for (let y = top; y < bottom; y++) {
      const py = y + 0.5 - ay;
      for (let x = left; x < right; x++) {
        const px = x + 0.5 - ax;
        let t = (px * dx + py * dy) * per;
        t = t < 0 ? 0 : t > 1 ? 1 : t;
        const qx = px - t * dx;
        const qy = py - t * dy;
        const r = ra + t * dr;
        const d2 = qx * qx + qy * qy;
        const edge = r + 0.5;
        if (d2 >= edge * edge) continue;
        const k = y * w + x;
        const d = Math.sqrt(d2);
        const c = edge - d;
        if (c > cover[k]) cover[k] = c > 1 ? 1 : c;
        let z = az + t * dz + (d < r ? Math.sqrt(r * r - d2) : 0);
        if (steep) {
          const fa = ra * ra - px * px - py * py;
          if (fa > 0) z = Math.max(z, az + Math.sqrt(fa));
          const ox = px - dx;
          const oy = py - dy;
          const fb = rb * rb - ox * ox - oy * oy;
          if (fb > 0) z = Math.max(z, bz + Math.sqrt(fb));
        }
        const have = depth[k];
        const gap = z > have ? z - have : have - z;
        if (gap < soft) {
          const m = (soft - gap) / soft;
          depth[k] = (z > have ? z : have) + m * m * soft * 0.25;
        } else if (z > have) depth[k] = z;
      }
    }
  }
}

/** @type {Float32Array} */
let spare = new Float32Array(0);

/**
 * Evens the map out where it is one surface, so that no seam shows between the
 * parts of a limb; edges where one part lies before another stay.
 * @param {Map} map @param {number} reach px @param {number} edge px of depth that part two surfaces
 */
export function smooth(map, reach, edge) {
  const { w, h, depth } = map;
  if (spare.length !== depth.length) spare = new Float32Array(depth.length);
  spare.fill(nothing);
  const pass = (/** @type {Float32Array} */ from, /** @type {Float32Array} */ to, /** @type {number} */ stride) => {
    for (let y = map.y0; y < map.y1; y++) {
      for (let x = map.x0; x < map.x1; x++) {
        const k = y * w + x;
        const z = from[k];
        if (z === nothing) continue;
        const at = stride === 1 ? x : y;
        const most = stride === 1 ? w : h;
        let sum = z;
        let n = 1;
        // Both neighbours or none: a surface must not shrink at its rim.
        for (let i = 1; i <= reach; i++) {
          if (at < i || at + i >= most) break;
          const a = from[k - i * stride];
          const b = from[k + i * stride];
          if (a - z > edge || z - a > edge || b - z > edge || z - b > edge) break;
          sum += a + b;
          n += 2;
        }
        to[k] = sum / n;
      }
    }
  };
  pass(depth, spare, 1);
  pass(spare, depth, w);
}

/**
 * Light on the map, into the pixels of an image of the same size.
 * @param {Map} map @param {Uint8ClampedArray} pixels RGBA
 * @param {{dark: number[], light: number[]}} clay colours in shade and in light
 */
export function shade(map, pixels, clay) {
  const { w, h, depth, cover } = map;
  pixels.fill(0);
  const [lx, ly, lz] = [-0.42, -0.6, 0.68]; // toward the light: over its left shoulder
  const [dr, dg, db] = clay.dark;
  const [sr, sg, sb] = [clay.light[0] - dr, clay.light[1] - dg, clay.light[2] - db];
  const far = 5; // px at which something nearer throws a soft shadow
  for (let y = map.y0; y < map.y1; y++) {
    for (let x = map.x0; x < map.x1; x++) {
      const k = y * w + x;
      const c = cover[k];
      if (c <= 0) continue;
      const z = depth[k];
      const zx = slope(depth, k, 1, z, x > 0, x < w - 1);
      const zy = slope(depth, k, w, z, y > 0, y < h - 1);
      const n = 1 / Math.sqrt(zx * zx + zy * zy + 1);
      const facing = (-zx * lx - zy * ly + lz) * n;
      let s = 0.5 + 0.5 * facing;
      s = s * s * 0.82 + 0.18 * n; // n alone darkens what turns away from the eye
      let hid = 0;
      if (x >= far && depth[k - far] - z > 9) hid++;
      if (x < w - far && depth[k + far] - z > 9) hid++;
      if (y >= far && depth[k - far * w] - z > 9) hid++;
      if (y < h - far && depth[k + far * w] - z > 9) hid++;
      if (hid) s *= 1 - 0.13 * hid;
      const p = k * 4;
      pixels[p] = dr + sr * s;
      pixels[p + 1] = dg + sg * s;
      pixels[p + 2] = db + sb * s;
      pixels[p + 3] = 255 * c;
    }
  }
}

/** The gentler of the slopes to both neighbours, so that edges stay inside their part. */
function slope(/** @type {Float32Array} */ depth, /** @type {number} */ k, /** @type {number} */ step, /** @type {number} */ z, /** @type {boolean} */ before, /** @type {boolean} */ after) {
  const a = before ? z - depth[k - step] : 1e9;
  const b = after ? depth[k + step] - z : 1e9;
  const ma = a < 0 ? -a : a;
  const mb = b < 0 ? -b : b;
  if (ma > 1e5 && mb > 1e5) return 0;
  if (ma < 3 && mb < 3) return (a + b) / 2;
  return ma < mb ? a : b;
}

/**
 * A body that is only hinted at: an outline and a breath of colour.
 * @param {Map} map @param {Uint8ClampedArray} pixels RGBA @param {number[]} ink RGB
 */
export function veil(map, pixels, ink) {
  const { w, h, depth } = map;
  pixels.fill(0);
  const drop = 14; // px of depth that make an edge
  for (let y = Math.max(1, map.y0); y < Math.min(h - 1, map.y1); y++) {
    for (let x = Math.max(1, map.x0); x < Math.min(w - 1, map.x1); x++) {
      const k = y * w + x;
      const z = depth[k];
      if (z === nothing) continue;
      const edge = z - depth[k - 1] > drop || z - depth[k + 1] > drop || z - depth[k - w] > drop || z - depth[k + w] > drop;
      const p = k * 4;
      [pixels[p], pixels[p + 1], pixels[p + 2]] = ink;
      pixels[p + 3] = edge ? 190 : 34;
    }
  }
}

/** How deep a point lies under the surface that faces the eye, px; negative in front of it. @param {Map} map @param {number} x @param {number} y @param {number} z */
export function buried(map, x, y, z) {
  const ix = x | 0;
  const iy = y | 0;
  if (ix < 0 || iy < 0 || ix >= map.w || iy >= map.h) return 0;
  const front = map.depth[iy * map.w + ix];
  return front === nothing ? 0 : front - z;
}
