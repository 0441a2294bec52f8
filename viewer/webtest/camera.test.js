import test from 'node:test';
import assert from 'node:assert/strict';
import { fit, pitchOf, project, scaleAt, turn, viewName, views } from '../web/camera.js';

const camera = (yaw, pitch = 0) => ({ yaw, pitch, middle: [0, 0, 0], scale: 0.2, cx: 100, cy: 100 });
const at = (c, p) => project(c, p, new Float32Array(3));

test('each side shows what it should', () => {
  const front = [1, 0, 0].map((v) => v * 100);
  const right = [0, 0, 100];
  assert.ok(at(camera(views.front), front)[2] > 19, 'from the front its front is near');
  assert.ok(at(camera(views.front), right)[0] < 100, 'from the front its right hand is on the left');
  assert.ok(at(camera(views.back), right)[0] > 100, 'from the back its right hand is on the right');
  assert.ok(at(camera(views.left), front)[0] < 100, 'from its left it faces left');
  assert.ok(at(camera(views.right), front)[0] > 100, 'from its right it faces right');
  assert.ok(at(camera(views.right), right)[2] > 19, 'from its right the right hand is near');
  for (const yaw of Object.values(views)) assert.ok(at(camera(yaw), [0, 50, 0])[1] < 100, 'up is up');
});

test('turning keeps distances from the middle', () => {
  for (let yaw = 0; yaw < 360; yaw += 17) {
    const [x, y, d] = at({ ...camera(yaw, 30), cx: 0, cy: 0, scale: 0.001 }, [30, 40, 120]);
    assert.ok(Math.abs(Math.hypot(x, y, d) - 0.13) < 0.004);
  }
});

test('what is nearer is larger', () => {
  const c = camera(0);
  assert.ok(scaleAt(c, 100) > scaleAt(c, 0));
  assert.equal(scaleAt(c, 0), c.scale);
});

test('a fitted box is on the screen from every side', () => {
  const low = [-300, 0, -500];
  const high = [200, 2100, 500];
  const f = fit(low, high, 340, 420);
  for (let yaw = 0; yaw < 360; yaw += 30) {
    const c = { ...f, yaw, pitch: 4, cx: 170, cy: 210 };
    for (const x of [low[0], high[0]]) for (const y of [low[1], high[1]]) for (const z of [low[2], high[2]]) {
      const p = at(c, [x, y, z]);
      assert.ok(p[0] > -20 && p[0] < 360 && p[1] > -10 && p[1] < 430, `${yaw}: ${p}`);
    }
  }
});

test('turns take the short way and named views are known again', () => {
  assert.equal(turn(350, 10), 20);
  assert.equal(turn(10, 350), -20);
  assert.equal(Math.abs(turn(0, 180)), 180);
  for (const [name, yaw] of Object.entries(views)) assert.equal(viewName(yaw + 360, pitchOf(name)), name);
  assert.equal(viewName(45, 0), '');
  assert.equal(viewName(0, 60), '');
});

test('from above the body fits by its breadth and depth, not by its height', () => {
  const [low, high] = [[-100, 0, -300], [200, 2000, 300]];
  assert.ok(fit(low, high, 400, 400, false, true).scale > 2 * fit(low, high, 400, 400).scale);
});
