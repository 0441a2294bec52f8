import test from 'node:test';
import assert from 'node:assert/strict';
import { slips, statementAt, suggest } from '../web/suggest.js';

test('the statement around the caret is found between its neighbours', () => {
  const text = 'standing;  knees flexed 40 ; arms up\nheels down';
  const typed = (caret) => statementAt(text, caret).typed;
  assert.equal(typed(0), 'standing');
  assert.equal(typed(8), 'standing');
  assert.equal(typed(15), 'knees flexed 40');
  assert.equal(typed(text.indexOf('up')), 'arms up');
  assert.equal(typed(text.length), 'heels down');
  const at = statementAt(text, 15);
  assert.equal(text.slice(at.from, at.from + at.typed.length), 'knees flexed 40');
  assert.equal(statementAt('', 0).typed, '');
});

test('slips of the finger are counted', () => {
  assert.equal(slips('knees', 'knees', 2), 0);
  assert.equal(slips('kness', 'knees', 2), 1);
  assert.equal(slips('sholders', 'shoulders', 2), 1);
  assert.equal(slips('ebma', 'arms', 2) > 2, true);
  assert.equal(slips('wrsit', 'wrist', 2), 1, 'swapped letters are one slip');
  assert.equal(slips('a', 'abcdef', 2), 3, 'farther than asked is told as too far');
});

const says = [['standing', ''], ['standing on toes', ''], ['shoulders flexed 30', ''], ['arms overhead', 'both shoulders flexed 180°'], ['knees flexed 30', ''], ['knees braced firmly', ''], ['hands carry 2 kg', '']];

test('what begins so, what is misspelt and what holds the words come first', () => {
  assert.equal(suggest(says, 'stand')[0], 'standing');
  assert.equal(suggest(says, 'sholders flex')[0], 'shoulders flexed 30');
  assert.equal(suggest(says, 'kness flexed')[0], 'knees flexed 30');
  assert.equal(suggest(says, 'overhead')[0], 'arms overhead');
  assert.equal(suggest(says, 'hands carry 5 kg')[0], 'hands carry 2 kg', 'a number of its own stands in no way');
});

test('nothing is offered for nothing, for what is strange, and for what is there', () => {
  assert.deepEqual(suggest(says, ''), []);
  assert.deepEqual(suggest(says, 's'), []);
  assert.deepEqual(suggest(says, 'quantum bicycle'), []);
  assert.ok(!suggest(says, 'standing').includes('standing'));
  assert.ok(suggest(says, 'knees', 1).length === 1);
});
