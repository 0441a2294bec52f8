import test from 'node:test';
import assert from 'node:assert/strict';
import { on, phaseAt, set, state } from '../web/state.js';
import { cached } from '../web/api.js';

test('the phase under the playhead is the last that has begun', () => {
  const phases = [{ from_ms: 100 }, { from_ms: 400 }, { from_ms: 400 }, { from_ms: 900 }];
  for (const [t, want] of [[0, -1], [99, -1], [100, 0], [399, 0], [400, 2], [899, 2], [900, 3], [1e9, 3]]) assert.equal(phaseAt(phases, t), want);
  assert.equal(phaseAt([], 5), -1);
});

test('listeners hear of what changed, once, and of nothing else', () => {
  let heard = 0;
  on(['at', 'playing'], () => heard++);
  set({ at: 5, playing: true });
  assert.equal(heard, 1);
  set({ at: 5 });
  set({ voice: 'technical' });
  assert.equal(heard, 1);
  assert.equal(state.voice, 'technical');
});

test('answers are kept, asked for once, forgotten oldest first, and failures are not kept', async () => {
  const asked = [];
  let bad = true;
  const get = cached(async (k) => {
    asked.push(k);
    if (k === 'x' && bad) throw new Error('no');
    return k + k;
  }, 2);
  assert.equal(await get('a'), 'aa');
  await Promise.all([get('b'), get('b')]);
  await get('a');
  await get('c'); // b goes: a was used since
  await get('a');
  await get('b');
  assert.deepEqual(asked, ['a', 'b', 'c', 'b']);
  await assert.rejects(get('x'));
  bad = false;
  assert.equal(await get('x'), 'xx');
});
