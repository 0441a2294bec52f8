import test from 'node:test';
import assert from 'node:assert/strict';
import { clock, spoken, ticks } from '../web/times.js';

test('times are written as people write them', () => {
  for (const [ms, digits, want] of [
    [0, 3, '0:00.000'], [83400, 3, '1:23.400'], [83400, 1, '1:23.4'], [83400, 0, '1:23'],
    [59999, 0, '1:00'], [59999, 1, '1:00.0'], [3599999.6, 3, '1:00:00.000'], [3723004, 3, '1:02:03.004'], [-5, 0, '0:00'],
  ]) assert.equal(clock(ms, digits), want, `${ms} with ${digits}`);
});

test('times are spoken with their units', () => {
  for (const [ms, want] of [
    [0, '0 seconds'], [1000, '1 second'], [90000, '1 minute 30 seconds'], [83400, '1 minute 23.4 seconds'],
    [60000, '1 minute'], [3600000, '1 hour'], [7322000, '2 hours 2 minutes 2 seconds'], [59960, '1 minute'],
  ]) assert.equal(spoken(ms), want);
});

test('labels of the axis keep their distance and stay on it', () => {
  for (const end of [1, 900, 5000, 42000, 610000, 3600000, 360000000]) {
    for (const width of [200, 390, 1440]) {
      const at = ticks(end, width, 64);
      assert.equal(at[0], 0);
      for (let i = 1; i < at.length; i++) assert.ok(((at[i] - at[i - 1]) / end) * width >= 63.9, `${end} on ${width}`);
      assert.ok(at.at(-1) <= end);
      assert.ok(at.length <= width / 64 + 1);
    }
  }
  assert.deepEqual(ticks(0, 300), [0]);
});
