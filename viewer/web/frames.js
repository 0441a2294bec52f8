// @ts-check
// Frames of a recording. A player told to go to a frame's own time may show the
// one before; told to go to the middle of its stay on screen it shows the frame
// itself. With a variable rate only the table of times is right.

/**
 * @typedef {{count: number, first_us: number, period_us: number, end_us: number, times_us: number[]}} Frames
 */

/** When frame n appears, µs. @param {Frames} f @param {number} n */
export function frameTime(f, n) {
  return f.times_us.length ? f.times_us[n] : f.first_us + n * f.period_us;
}

/** The frame on screen at ms, -1 without frames. @param {Frames} f @param {number} ms */
export function frameShown(f, ms) {
  if (!f.count) return -1;
  const us = ms * 1000 + 0.5;
  if (!f.times_us.length) {
    const n = f.period_us > 0 ? Math.floor((us - f.first_us) / f.period_us) : 0;
    return Math.min(f.count - 1, Math.max(0, n));
  }
  let lo = 0;
  let hi = f.times_us.length;
  while (hi - lo > 1) {
    const mid = (lo + hi) >> 1;
    if (f.times_us[mid] <= us) lo = mid;
    else hi = mid;
  }
  return lo;
}

/** Where to send a player to see frame n: the middle of its stay, in ms. @param {Frames} f @param {number} n */
export function seekTime(f, n) {
  const from = frameTime(f, n);
  const to = n + 1 < f.count ? frameTime(f, n + 1) : Math.max(f.end_us, from + (f.period_us || 0));
  return (from + to) / 2000;
}

/** The frame that is `by` frames on from the one at ms. @param {Frames} f @param {number} ms @param {number} by */
export function stepped(f, ms, by) {
  return Math.min(f.count - 1, Math.max(0, frameShown(f, ms) + by));
}
