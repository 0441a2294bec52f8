import test from 'node:test';
import assert from 'node:assert/strict';
import { fillMap, makeMap } from '../web/raster.js';
import { bands, form, nearest, point, strength } from '../web/ribbons.js';

// A trunk of 100 mm seen at 1 px a mm; one line on its near side, one on its far.
const map = makeMap(200, 200);
fillMap(map, new Float32Array([100, 20, 0, 100, 180, 0]), new Float32Array([70, 70]), 2);
const line = (x, z) => [x, 40, z, x, 100, z, x, 160, z];
const points = new Float32Array([...line(100, 60), ...line(100, -60), ...line(130, 40)]);

test('the near side is seen, the far side only guessed at', () => {
  const all = bands(points, 3, 'wwl', 'mmg', map, 1, 1);
  const seen = (i) => all.find((b) => b.index === i).seen[1];
  assert.ok(seen(0) > 0.99);
  assert.ok(seen(1) < 0.05);
  assert.ok(seen(2) > 0.9);
});

test('work is drawn over length, and the near over the far', () => {
  const all = bands(points, 3, 'wwl', 'mmg', map, 1, 1);
  assert.deepEqual(all.map((b) => b.index), [2, 1, 0]);
});

test('before anything is told every muscle rests', () => {
  assert.ok(bands(points, 3, '', '', map, 1, 1).every((b) => b.role === 'q'));
});

test('a tap finds the line under it, never one on the far side, and nothing far away', () => {
  const all = bands(points, 3, 'wwl', 'mmg', map, 1, 1);
  assert.equal(nearest(all, points, 3, 102, 90, 9), 0);
  assert.equal(nearest(all, points, 3, 127, 120, 9), 2);
  assert.equal(nearest(all, points, 3, 20, 100, 9), -1);
});

test('more effort is stronger, none is still seen, and past half it is full', () => {
  const steps = [0, 0.05, 0.2, 0.4, 0.5];
  for (let i = 1; i < steps.length; i++) assert.ok(strength(steps[i]) > strength(steps[i - 1]));
  assert.ok(strength(0) >= 0.4);
  assert.equal(strength(0.5), 1);
  assert.equal(strength(1), 1);
});

test('each grade of work has a form of its own', () => {
  assert.equal(form('m'), 'edged');
  assert.equal(form('l'), 'whole');
  for (const grade of ['y', 'n', 'g']) assert.equal(form(grade), 'dashed');
});

test('arrowheads point to the end that is held, and nowhere when that is not told', () => {
  assert.equal(point('i'), 1);
  assert.equal(point('o'), -1);
  assert.equal(point('-'), 0);
  assert.equal(point(''), 0);
});
