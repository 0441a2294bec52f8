import test from 'node:test';
import assert from 'node:assert/strict';
import { fitted, holding, isWhole, over, panned, whole, zoomed } from '../web/span.js';

const end = 40000;

test('the moment under the pointer stays where it is while time is zoomed', () => {
  let s = whole(end);
  for (const factor of [1.5, 2, 3, 0.7, 4]) {
    const at = s.from + 0.3 * (s.to - s.from);
    const t = zoomed(s, end, factor, at);
    assert.ok(Math.abs((at - t.from) / (t.to - t.from) - 0.3) < 1e-9);
    s = t;
  }
});

test('a span never leaves the study, however it is moved', () => {
  let s = { from: 10000, to: 12000 };
  const moves = [(x) => panned(x, end, -9), (x) => panned(x, end, 30), (x) => zoomed(x, end, 0.001, 39000), (x) => zoomed(x, end, 1e9, 5), (x) => holding(x, end, 39999), (x) => holding(x, end, 0)];
  for (let i = 0; i < 60; i++) {
    s = moves[(i * 7) % moves.length](s);
    assert.ok(s.from >= 0 && s.to <= end && s.to - s.from >= 400, JSON.stringify(s));
  }
});

test('out and in again is the whole', () => {
  const s = zoomed(zoomed(whole(end), end, 8, 20000), end, 1 / 8, 20000);
  assert.ok(isWhole(s, end));
  assert.ok(!isWhole(zoomed(whole(end), end, 2, 0), end));
});

test('the playhead is kept in sight with room ahead, and nothing moves while it is', () => {
  const s = { from: 10000, to: 20000 };
  assert.equal(holding(s, end, 15000), s);
  const on = holding(s, end, 20001);
  assert.ok(on.from <= 20001 && 20001 - on.from < 2000 && on.to - on.from === 10000);
  const back = holding(s, end, 9000);
  assert.ok(back.from <= 9000 && back.to >= 9000);
});

test('a study that grows stays whole; one that shrinks keeps the span within', () => {
  assert.deepEqual(fitted(whole(end), end, 90000), whole(90000));
  assert.deepEqual(fitted({ from: 30000, to: 35000 }, end, 32000), { from: 27000, to: 32000 });
});

test('over finds the first value over a time', () => {
  const a = [0, 5, 5, 9];
  assert.deepEqual([-1, 0, 4, 5, 9, 12].map((t) => over(a, t)), [0, 1, 1, 3, 4, 4]);
});
