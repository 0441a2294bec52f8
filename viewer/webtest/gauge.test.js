import test from 'node:test';
import assert from 'node:assert/strict';
import { middle, past, place, radius, reach, regions, said, valueAt } from '../web/gauge.js';

const knee = { key: 'a_r', name: 'right a', joint: 'a', side: 'right', toward: 'flexed', away: 'extended', plain: '', lo_deg: 0, hi_deg: 100, other: 1, lateral: false, source: 's',
  ranges: [{ lo_deg: -10, hi_deg: 110, whose: 'x' }, { lo_deg: 0, hi_deg: 100, whose: 'y' }] };

test('a dial reaches past every published range', () => {
  const [lo, hi] = reach(knee);
  assert.ok(lo < -10 && hi > 110);
  assert.ok(Number.isInteger(lo / 5));
});

test('a place on the face means the value that stands there', () => {
  const [lo, hi] = reach(knee);
  for (let v = lo; v <= hi; v += 7) {
    const p = place(knee, v);
    assert.ok(Math.abs(Math.hypot(p.x - middle.x, p.y - middle.y) - radius) < 1e-9);
    assert.equal(valueAt(knee, p.x, p.y), v);
  }
  assert.equal(valueAt(knee, 0, middle.y + 20), lo, 'under the face on its left is the least');
  assert.equal(valueAt(knee, 120, middle.y + 20), hi);
  assert.deepEqual(place(knee, 1e4), place(knee, hi), 'no needle leaves the face');
});

test('values are said with their direction, and how far past the range', () => {
  assert.equal(said(knee, 37.4), 'flexed 37°');
  assert.equal(said(knee, -4), 'extended 4°');
  assert.equal(said(knee, 0.3), '0°');
  assert.deepEqual([past(knee, 50), past(knee, 105), past(knee, -3)], [0, 5, 3]);
});

test('no joint is in two parts of the body', () => {
  const all = regions.flatMap(([, joints]) => joints);
  assert.equal(new Set(all).size, all.length);
});
