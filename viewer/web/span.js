// @ts-check
// The stretch of time that the score shows. Times are ms; a span never leaves
// the study, which runs from 0 to end.

/** @typedef {{from: number, to: number}} Span */

const shortest = 400; // ms

/** @param {number} end @returns {Span} */
export const whole = (end) => ({ from: 0, to: Math.max(1, end) });

/** Whether nothing is left out. @param {Span} s @param {number} end */
export const isWhole = (s, end) => s.from <= 0 && s.to >= end;

/** Moved, as one piece, to where it lies within the study. @param {number} from @param {number} length @param {number} end @returns {Span} */
function inside(from, length, end) {
  const long = Math.min(Math.max(1, end), length);
  const start = Math.min(Math.max(1, end) - long, Math.max(0, from));
  return { from: start, to: start + long };
}

/** Shows less (factor over 1) or more time around a moment, which stays where it is. @param {Span} s @param {number} end @param {number} factor @param {number} at */
export function zoomed(s, end, factor, at) {
  const was = s.to - s.from;
  const length = Math.max(Math.min(shortest, end), Math.min(end, was / factor));
  const part = Math.min(1, Math.max(0, (at - s.from) / was));
  return inside(s.from + part * was - part * length, length, end);
}

/** Moved by a part of its own length. @param {Span} s @param {number} end @param {number} part */
export function panned(s, end, part) {
  const length = s.to - s.from;
  return inside(s.from + part * length, length, end);
}

/** The same span when it holds t, else one of the same length that does, with room ahead. @param {Span} s @param {number} end @param {number} t */
export function holding(s, end, t) {
  if (t >= s.from && t <= s.to) return s;
  const length = s.to - s.from;
  return inside(t < s.from ? t - 0.7 * length : t - 0.12 * length, length, end);
}

/** What is left of a span when the study has become longer or shorter: the whole stays the whole. @param {Span} s @param {number} was @param {number} end */
export function fitted(s, was, end) {
  return isWhole(s, was) ? whole(end) : inside(s.from, s.to - s.from, end);
}

/** Index of the first of sorted values that is over t. @param {ArrayLike<number>} sorted @param {number} t */
export function over(sorted, t) {
  let lo = 0;
  let hi = sorted.length;
  while (lo < hi) {
    const mid = (lo + hi) >> 1;
    if (sorted[mid] > t) hi = mid;
    else lo = mid + 1;
  }
  return lo;
}
