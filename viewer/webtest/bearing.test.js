import test from 'node:test';
import assert from 'node:assert/strict';
import { choices, keysOf, pairs } from '../web/bearing.js';

test('what has two sides can be chosen as one, what has none stays single', () => {
  const list = choices([{ key: 'heel_r', name: 'right heel' }, { key: 'heel_l', name: 'left heel' }, { key: 'belly', name: 'belly' }]);
  assert.deepEqual(list, [['both:heel', 'each heel'], ['heel_r', 'right heel'], ['heel_l', 'left heel'], ['belly', 'belly']]);
  assert.deepEqual(list.map(([c]) => keysOf(c)), [['heel_r', 'heel_l'], ['heel_r'], ['heel_l'], ['belly']]);
});

test('the same on both sides is one row, what differs is two', () => {
  const carry = (patch, kg) => ({ kind: 'carry', patch, mass_kg: kg });
  const groups = pairs([carry('palm_r', 1), carry('elbow_r', 1), carry('palm_l', 1), carry('elbow_l', 2)]);
  assert.deepEqual(groups.map((g) => g.length), [2, 1, 1]);
  const cues = pairs([{ kind: 'brace', movement: 'knee_r', patch: '', intensity: 0.3 }, { kind: 'brace', movement: 'knee_l', patch: '', intensity: 0.3 }]);
  assert.equal(cues.length, 1);
});
