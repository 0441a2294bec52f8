import test from 'node:test';
import assert from 'node:assert/strict';
import { mix, unpack } from '../web/scene.js';

const sample = (v) => ({ body: [v, v + 1, v + 2, v + 10, v + 11, v + 12], lines: [v, 0, 0], centre: [v, 0, 0], contacts: [v, 0, v], bears: [0, v, 0], loads: [{ at: [v, v, v], way: 'down', text: '2 kg' }] });

test('a scene is bounded by its samples', () => {
  const s = unpack({ samples: [sample(0), sample(100)] });
  assert.deepEqual(s.low, [0, 1, 2]);
  assert.deepEqual(s.high, [110, 111, 112]);
});

test('between samples points go straight, at the ends they are the samples', () => {
  const s = unpack({ samples: [sample(0), sample(100), sample(300)] });
  assert.equal(mix(s, 0), s.samples[0]);
  assert.equal(mix(s, 1), s.samples[2]);
  assert.equal(mix(s, 0.5), s.samples[1]);
  const quarter = mix(s, 0.25);
  assert.deepEqual([...quarter.body], [50, 51, 52, 60, 61, 62]);
  assert.deepEqual(quarter.contacts, [50, 0, 50]);
  assert.deepEqual(quarter.loads, [{ at: [50, 50, 50], way: 'down', text: '2 kg' }]);
  assert.equal(mix(s, 0.75).body[0], 200);
});

test('outside the phase it holds still, and nonsense is the start', () => {
  const s = unpack({ samples: [sample(0), sample(100)] });
  assert.equal(mix(s, -3).body[0], 0);
  assert.equal(mix(s, 7).body[0], 100);
  assert.equal(mix(s, NaN).body[0], 0);
  assert.equal(mix(unpack({ samples: [] }), 0.5), null);
});

test('mixing again reuses room and never writes into a sample', () => {
  const s = unpack({ samples: [sample(0), sample(100)] });
  const a = mix(s, 0.5);
  const b = mix(s, 0.6, a);
  assert.equal(a.body, b.body);
  const first = mix(s, 0);
  mix(s, 0.5, first);
  assert.equal(s.samples[0].body[0], 0);
});
