import test from 'node:test';
import assert from 'node:assert/strict';
import { frameShown, frameTime, seekTime, stepped } from '../web/frames.js';

const steady = { count: 250, first_us: 0, period_us: 1e6 / 29.97, end_us: (250 * 1e6) / 29.97, times_us: [] };
const uneven = { count: 5, first_us: 0, period_us: 40000, end_us: 300000, times_us: [0, 33000, 66000, 200000, 233000] };

test('the middle of a frame is within that frame, steady or uneven', () => {
  for (const f of [steady, uneven]) {
    for (let n = 0; n < f.count; n++) {
      assert.equal(frameShown(f, seekTime(f, n)), n);
      assert.equal(frameShown(f, frameTime(f, n) / 1000), n, `at its own time, frame ${n}`);
    }
  }
});

test('steps are whole frames and stop at both ends', () => {
  assert.equal(stepped(uneven, 150, 1), 3);
  assert.equal(stepped(uneven, 150, -1), 1);
  assert.equal(stepped(uneven, 0, -1), 0);
  assert.equal(stepped(uneven, 9999, 1), 4);
  let at = 0;
  for (let n = 1; n < steady.count; n++) {
    at = seekTime(steady, stepped(steady, at, 1));
    assert.equal(frameShown(steady, at), n);
  }
});

test('without frames there is none', () => {
  assert.equal(frameShown({ count: 0, first_us: 0, period_us: 0, end_us: 0, times_us: [] }, 5), -1);
});

test('one frame alone is shown throughout', () => {
  const one = { count: 1, first_us: 0, period_us: 0, end_us: 40000, times_us: [] };
  assert.equal(frameShown(one, 39), 0);
  assert.equal(seekTime(one, 0), 20);
});
