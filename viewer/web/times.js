// @ts-check
// Times as people read, type and hear them. All times are milliseconds.

/** 83400 → "1:23.400"; with hours from 3600000 on. @param {number} ms @param {number} [digits] of the fraction, 0 to 3 */
export function clock(ms, digits = 3) {
  const unit = 10 ** (3 - digits);
  const whole = Math.round(Math.max(0, ms) / unit) * unit;
  const h = Math.floor(whole / 3600000);
  const m = Math.floor(whole / 60000) % 60;
  const s = Math.floor(whole / 1000) % 60;
  const two = (/** @type {number} */ n) => String(n).padStart(2, '0');
  const fraction = digits ? '.' + String(whole % 1000).padStart(3, '0').slice(0, digits) : '';
  return (h ? `${h}:${two(m)}` : String(m)) + ':' + two(s) + fraction;
}

/** 83400 → "1 minute 23.4 seconds". @param {number} ms */
export function spoken(ms) {
  const tenths = Math.round(Math.max(0, ms) / 100);
  const h = Math.floor(tenths / 36000);
  const m = Math.floor(tenths / 600) % 60;
  const s = (tenths % 600) / 10;
  /** @type {string[]} */
  const parts = [];
  const put = (/** @type {number} */ n, /** @type {string} */ unit) => parts.push(`${n} ${unit}${n === 1 ? '' : 's'}`);
  if (h) put(h, 'hour');
  if (m) put(m, 'minute');
  if (s || !parts.length) put(s, 'second');
  return parts.join(' ');
}

/** Steps of the axis so that labels stand at least `apart` pixels from each other. @param {number} end ms, how long the axis is @param {number} width px @param {number} [apart] @param {number} [from] ms where it begins */
export function ticks(end, width, apart = 70, from = 0) {
  if (!(end > 0) || !(width > 0)) return [0];
  const steps = [100, 200, 500, 1000, 2000, 5000, 10000, 15000, 30000, 60000, 120000, 300000, 600000, 1800000, 3600000];
  const step = steps.find((s) => (s / end) * width >= apart) ?? Math.ceil(end / 3600000 / (width / apart)) * 3600000;
  const out = [];
  for (let t = Math.ceil(from / step) * step; t <= from + end; t += step) out.push(t);
  return out;
}
