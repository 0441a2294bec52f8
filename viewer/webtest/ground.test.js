import test from 'node:test';
import assert from 'node:assert/strict';
import { presses } from '../web/ground.js';

test('a foot presses as one, where most of it presses; what bears nothing is left out', () => {
  const heelBallToesOther = [0, 0, 100, 170, 0, 100, 210, 0, 100, 0, 0, -100, 900, 400, 0];
  const bears = [0, 300, 0, 0, 100, 0, 0, 0, 0, 0, 350, 0, 0.2, 0.1, 0];
  const all = presses(heelBallToesOther, bears);
  assert.equal(all.length, 2);
  assert.deepEqual(all.map((p) => p.force[1]), [400, 350]);
  assert.ok(Math.abs(all[0].at[0] - 42.5) < 0.1, `presses at ${all[0].at}`);
});
