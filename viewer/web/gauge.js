// @ts-check
// The face of a joint dial: a half circle from the farthest one way to the
// farthest the other, the published range on it.

/** @typedef {{key: string, name: string, joint: string, side: string, toward: string, away: string, plain: string, lo_deg: number, hi_deg: number, other: number, lateral: boolean, ranges: {lo_deg: number, hi_deg: number, whose: string}[], source: string}} Dial */

export const radius = 52;
export const middle = { x: 64, y: 62 };

/** What the dial can be set to: a little more than any published range. @param {Dial} d @returns {[number, number]} whole degrees */
export function reach(d) {
  const lo = Math.min(d.lo_deg, ...d.ranges.map((r) => r.lo_deg));
  const hi = Math.max(d.hi_deg, ...d.ranges.map((r) => r.hi_deg));
  const more = Math.max(8, (hi - lo) * 0.12);
  return [Math.floor((lo - more) / 5) * 5, Math.ceil((hi + more) / 5) * 5];
}

/** Where a value stands on the face. @param {Dial} d @param {number} value degrees @param {number} [r] */
export function place(d, value, r = radius) {
  const [lo, hi] = reach(d);
  const turn = Math.PI * (1 - (Math.min(hi, Math.max(lo, value)) - lo) / (hi - lo));
  return { x: middle.x + r * Math.cos(turn), y: middle.y - r * Math.sin(turn) };
}

/** The value that a place on the face means. @param {Dial} d @param {number} x @param {number} y */
export function valueAt(d, x, y) {
  const [lo, hi] = reach(d);
  let turn = Math.atan2(middle.y - y, x - middle.x);
  if (turn < 0) turn = x < middle.x ? Math.PI : 0;
  return Math.round(lo + (1 - turn / Math.PI) * (hi - lo));
}

/** An arc of the face between two values, as a path. @param {Dial} d @param {number} from @param {number} to @param {number} [r] */
export function arc(d, from, to, r = radius) {
  const [a, b] = [place(d, from, r), place(d, to, r)];
  return `M${a.x.toFixed(1)} ${a.y.toFixed(1)}A${r} ${r} 0 0 1 ${b.x.toFixed(1)} ${b.y.toFixed(1)}`;
}

/** A value as one says it. @param {Dial} d @param {number} value */
export function said(d, value) {
  const v = Math.round(value);
  return v === 0 ? '0°' : `${v > 0 ? d.toward : d.away} ${Math.abs(v)}°`;
}

/** How far past its published range a value is, whole degrees. @param {Dial} d @param {number} value */
export const past = (d, value) => Math.max(0, Math.round(value - d.hi_deg), Math.round(d.lo_deg - value));

/** Dials by the parts of the body that they turn. @type {[string, string[]][]} */
export const regions = [
  ['Shoulders', ['shoulder', 'shoulder blade']],
  ['Arms', ['elbow', 'forearm', 'wrist']],
  ['Hands', ['fingers', 'knuckles', 'thumb', 'base of the thumb']],
  ['Trunk', ['trunk', 'lumbar spine', 'thoracic spine', 'pelvis']],
  ['Neck', ['neck', 'lower neck', 'head']],
  ['Hips and knees', ['hip', 'knee']],
  ['Feet', ['ankle', 'foot', 'toes']],
];
