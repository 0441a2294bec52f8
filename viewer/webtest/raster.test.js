import test from 'node:test';
import assert from 'node:assert/strict';
import { buried, fillMap, makeMap, nothing, shade, smooth } from '../web/raster.js';

const one = (x0, y0, z0, x1, y1, z1) => new Float32Array([x0, y0, z0, x1, y1, z1]);

test('a ball is as deep as it is round', () => {
  const map = makeMap(60, 60);
  fillMap(map, one(30, 30, 5, 30, 30, 5), new Float32Array([20, 20]), 4);
  for (const [x, y] of [[30, 30], [40, 30], [30, 16], [20, 22]]) {
    const want = 5 + Math.sqrt(400 - (x + 0.5 - 30) ** 2 - (y + 0.5 - 30) ** 2);
    assert.ok(Math.abs(map.depth[y * 60 + x] - want) < 1e-3);
  }
  assert.equal(map.depth[0], nothing);
  assert.equal(map.cover[0], 0);
  assert.equal(map.cover[30 * 60 + 30], 1);
});

test('seen end on, the nearer end is what shows', () => {
  const map = makeMap(60, 60);
  for (const ends of [one(30, 30, 0, 31, 30, 50), one(31, 30, 50, 30, 30, 0)]) {
    fillMap(map, ends, new Float32Array([10, 10]), 1);
    assert.ok(map.depth[30 * 60 + 30] > 58);
  }
});

test('what is nearer covers what is farther, crisp, and neighbours run together', () => {
  const map = makeMap(80, 80);
  const two = new Float32Array([...one(40, 10, 0, 40, 70, 0), ...one(10, 40, 60, 70, 40, 60)]);
  fillMap(map, two, new Float32Array([12, 12, 8, 8]), 6);
  assert.ok(Math.abs(map.depth[40 * 80 + 40] - 68) < 0.1);
  const same = new Float32Array([...one(40, 10, 0, 40, 40, 0), ...one(40, 40, 0, 40, 70, 0)]);
  fillMap(map, same, new Float32Array([12, 12, 12, 12]), 6);
  const middle = map.depth[40 * 80 + 40];
  assert.ok(middle >= 11.9 && middle <= 12 + 6 / 4 + 0.01);
});

test('smoothing leaves flat things flat and edges where they are', () => {
  const map = makeMap(80, 80);
  const two = new Float32Array([...one(40, 10, 0, 40, 70, 0), ...one(10, 40, 60, 70, 40, 60)]);
  fillMap(map, two, new Float32Array([12, 12, 8, 8]), 2);
  const before = map.depth.slice();
  smooth(map, 3, 10);
  const near = (x, y, by) => Math.abs(map.depth[y * 80 + x] - before[y * 80 + x]) < by;
  assert.ok(near(40, 40, 1.5) && near(40, 20, 1.5));
  assert.ok(map.depth[40 * 80 + 40] - map.depth[26 * 80 + 40] > 45, 'the edge stays');
  for (let k = 0; k < before.length; k++) assert.equal(before[k] === nothing, map.depth[k] === nothing, 'no pixel appears or goes');
});

test('capsules off the map do no harm', () => {
  const map = makeMap(20, 20);
  fillMap(map, new Float32Array([...one(-500, 0, 0, -400, 5, 0), ...one(10, -90, 0, 10, 90, 0)]), new Float32Array([5, 5, 3, 3]), 2);
  assert.ok(map.cover[10 * 20 + 10] > 0.9);
});

test('light comes from above on its left, and only the body is painted', () => {
  const map = makeMap(60, 60);
  fillMap(map, one(30, 30, 0, 30, 30, 0), new Float32Array([20, 20]), 4);
  const pixels = new Uint8ClampedArray(60 * 60 * 4);
  shade(map, pixels, { dark: [0, 0, 0], light: [255, 255, 255] });
  const lum = (x, y) => pixels[(y * 60 + x) * 4];
  assert.ok(lum(24, 22) > lum(38, 40) + 40);
  assert.equal(pixels[3], 0);
  assert.equal(pixels[(30 * 60 + 30) * 4 + 3], 255);
});

test('how deep a point lies is told', () => {
  const map = makeMap(60, 60);
  fillMap(map, one(30, 30, 0, 30, 30, 0), new Float32Array([20, 20]), 4);
  assert.ok(Math.abs(buried(map, 30.2, 30.2, 5) - 15) < 0.1);
  assert.ok(buried(map, 30, 30, 25) < 0);
  assert.equal(buried(map, 1, 1, 5), 0);
  assert.equal(buried(map, -5, 900, 5), 0);
});
