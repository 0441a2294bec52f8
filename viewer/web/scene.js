// @ts-check
// The moving body of a phase, unpacked: samples evenly spaced in time, each a
// flat array of millimetres. In between, points go straight.

/**
 * @typedef {{body: Float32Array, lines: Float32Array, contacts: number[], bears: number[], loads: {at: number[], way: string, text: string}[], centre: number[]}} Sample
 * @typedef {{samples: Sample[], low: number[], high: number[]}} Scene low and high bound every sample, x y z
 */

/** @param {{samples: {body: number[], lines: number[], contacts: number[], bears: number[], loads: any[], centre: number[]}[]}} raw as sent @returns {Scene} */
export function unpack(raw) {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  const samples = raw.samples.map((s) => {
    for (let i = 0; i < s.body.length; i++) {
      const axis = i % 3;
      if (s.body[i] < low[axis]) low[axis] = s.body[i];
      if (s.body[i] > high[axis]) high[axis] = s.body[i];
    }
    return { ...s, body: Float32Array.from(s.body), lines: Float32Array.from(s.lines) };
  });
  return { samples, low, high };
}

/**
 * The body at a part of the way, 0 to 1. The result is written into `out` when
 * it is given and has the right size.
 * @param {Scene} scene @param {number} part @param {Sample|null} [out]
 * @returns {Sample|null} null for a scene without samples
 */
export function mix(scene, part, out) {
  const n = scene.samples.length;
  if (!n) return null;
  const x = Math.min(1, Math.max(0, part || 0)) * (n - 1);
  const i = Math.min(n - 1, Math.floor(x));
  const a = scene.samples[i];
  const t = x - i;
  if (t === 0) return a;
  const b = scene.samples[i + 1];
  const fits = out && out.body.length === a.body.length && out.lines.length === a.lines.length && !scene.samples.includes(out);
  const to = fits ? out : { body: new Float32Array(a.body.length), lines: new Float32Array(a.lines.length), contacts: [], bears: [], loads: [], centre: [] };
  blend(a.body, b.body, t, to.body);
  blend(a.lines, b.lines, t, to.lines);
  const near = t < 0.5 ? a : b;
  to.contacts = a.contacts.length === b.contacts.length ? a.contacts.map((v, k) => v + t * (b.contacts[k] - v)) : near.contacts;
  to.bears = near.bears;
  to.loads = near.loads.map((l, k) => (a.loads.length === b.loads.length ? { ...l, at: a.loads[k].at.map((v, i) => v + t * (b.loads[k].at[i] - v)) } : l));
  to.centre = a.centre.map((v, k) => v + t * (b.centre[k] - v));
  return to;
}

/** @param {Float32Array} a @param {Float32Array} b @param {number} t @param {Float32Array} to */
function blend(a, b, t, to) {
  for (let i = 0; i < a.length; i++) to[i] = a[i] + t * (b[i] - a[i]);
}
