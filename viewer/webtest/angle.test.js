import test from 'node:test';
import assert from 'node:assert/strict';
import { angleAt, framed, narrowing, read, readable, valueOf } from '../web/angle.js';

const near = (a, b, most = 1e-9) => assert.ok(Math.abs(a - b) <= most, `${a}, not ${b}`);
const rad = Math.PI / 180;
/** Points of a hinge whose plane is turned from the picture by so much. */
const hinge = (angle, lean, turn) => {
  const k = Math.cos(turn * rad);
  const at = (dir, l) => [300 + k * l * Math.cos(dir * rad), 200 - l * Math.sin(dir * rad)];
  return [at(lean, 150), [300, 200], at(lean + angle, 120), at(lean + 90, 80)];
};

test('three points read their angle, whichever way round and however they lie', () => {
  for (const angle of [1, 37, 90, 142, 179]) for (const lean of [0, 33, 95, 250]) {
    const [a, b, c] = hinge(angle, lean, 0);
    near(angleAt(a, b, c), angle, 1e-6);
    near(angleAt(c, b, a), angle, 1e-6);
  }
});

test('a fourth point that is square in truth undoes the turn of the plane', () => {
  for (const turn of [0, 15, 30, 50]) for (const angle of [40, 95, 150]) {
    const points = hinge(angle, 35, turn);
    const r = read(points);
    near(r.angle, angle, 1e-6);
    near(r.plane, turn, 1e-4);
  }
});

test('where the fourth point tells nothing it says so and changes nothing', () => {
  const [a, b, c] = hinge(70, 90, 20);
  assert.equal(narrowing(a, b, [400, 200]), 0, 'an upright line looks square to a level one from everywhere');
  const r = read([a, b, c, [400, 200]]);
  assert.equal(r.plane, -1);
  near(r.angle, angleAt(a, b, c));
});

test('what a camera off square adds is what it does add', () => {
  const straight = hinge(100, 20, 0);
  const r = read(straight.slice(0, 3));
  const seen = read(hinge(100, 20, 14.9).slice(0, 3));
  assert.ok(Math.abs(seen.angle - 100) <= r.camera, `${seen.angle} is farther off than ${r.camera}`);
  assert.ok(r.camera < 8);
  assert.ok(r.points > 2 && r.points < 5);
});

test('too few points, or points on a heap, read nothing', () => {
  assert.equal(read([[0, 0], [10, 10]]), null);
  assert.equal(read([[100, 100], [101, 100], [200, 100]]), null);
});

test('joints start from their own zero', () => {
  assert.equal(valueOf('knee', 180), 0);
  assert.equal(valueOf('elbow', 90), 90);
  assert.equal(valueOf('shoulder', 170), 170);
  assert.equal(valueOf('ankle', 110), -20);
  assert.ok(readable({ toward: 'flexed', joint: 'knee' }) && !readable({ toward: 'medially rotated', joint: 'hip' }) && !readable({ toward: 'pronated', joint: 'forearm' }));
});

test('the picture lies in the middle of its box, whole', () => {
  assert.deepEqual(framed(800, 300, 400, 200), { x: 100, y: 0, scale: 1.5 });
  assert.deepEqual(framed(400, 400, 400, 200), { x: 0, y: 100, scale: 1 });
});
