import test from 'node:test';
import assert from 'node:assert/strict';
import { doing, inSight, inWords, LONG, MUST, nextFinding, QUIET, regions, remembered, rowsOf, share, unpack, WORK } from '../web/scoredata.js';

const digits = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_';
// Four muscles: a calf on both sides, a thigh on both sides.
const muscles = [['calf', 'leg'], ['thigh', 'thigh']].flatMap(([name, region]) => ['right', 'left'].map((side) => ({ name: `${side} musculus ${name}`, plain: `${side} ${name}`, side, region })));
const stand = (looks, efforts) => {
  const text = (list) => list.map((v) => digits[v]).join('');
  return { looks: text(looks), places: text([31, 31, 60, 60]), efforts: text(efforts), lows: text(efforts.map((v) => v / 2 | 0)), highs: text(efforts) };
};
const raw = {
  phases: [0, 1, 1, 2, -1],
  stands: [stand([0, 0, 10, 10], [0, 0, 0, 0]), stand([19, 19, 10, 10], [40, 41, 0, 0]), stand([19, 0, 10, 10], [40, 0, 0, 0])],
};
const score = unpack(raw);

test('every number comes back as it was sent', () => {
  assert.deepEqual([...score.stands[1].roles], [WORK, WORK, LONG, LONG]);
  assert.deepEqual([...score.stands[1].grades], [MUST, MUST, 0, 0]);
  assert.deepEqual([...score.stands[1].efforts], [40, 41, 0, 0]);
  assert.equal(share(63), 1);
});

test('sides that do the same share a row, sides that differ have one each', () => {
  const rows = rowsOf(score, muscles, 'plain');
  assert.deepEqual(rows.get('thigh').map((r) => [r.name, r.side, r.muscles]), [['thigh', 'both', [2, 3]]]);
  assert.deepEqual(rows.get('leg').map((r) => [r.side, r.muscles]), [['right', [0]], ['left', [1]]]);
  assert.equal(rowsOf(score, muscles, 'technical').get('leg')[0].name, 'musculus calf');
});

test('regions without muscles have no row; open regions show theirs', () => {
  const rows = rowsOf(score, muscles, 'plain');
  assert.deepEqual(inSight(rows, new Set()).map((r) => r.name), ['thigh', 'leg']);
  const open = inSight(rows, new Set(['leg']));
  assert.deepEqual(open.map((r) => [r.name, r.closed]), [['thigh', true], ['leg', false], ['calf', undefined], ['calf', undefined]]);
  assert.equal(regions.length, 11);
});

test('a region does what its strongest muscle does, and counts the others', () => {
  const d = doing(score, 1, [0, 1, 2, 3]);
  assert.deepEqual([d.role, d.grade, d.effort, d.works, d.longs], [WORK, MUST, 41, 2, 2]);
  assert.equal(inWords(d, true), 'has to work, up to 42%; 2 drawn long');
  assert.equal(inWords(doing(score, 0, [0]), false), 'at rest');
  assert.equal(inWords(doing(score, 0, [2]), false), 'drawn long');
  assert.equal(inWords({ ...d, grade: 1 }, false), 'not told whether it works', 'a share says nothing where work itself is not told');
  assert.equal(doing(score, -1, [0]).role, QUIET);
});

test('what is remembered is what was found', () => {
  const at = remembered(score);
  for (const row of inSight(rowsOf(score, muscles, 'plain'), new Set(regions))) {
    for (const s of [-1, 0, 1, 2, 1]) assert.deepEqual(at(row, s), doing(score, s, row.muscles));
  }
});

test('the next finding is where something begins', () => {
  assert.equal(nextFinding(score, 0, 1), 1);
  assert.equal(nextFinding(score, 1, 1), -1, 'the left calf only stops');
  assert.equal(nextFinding(score, 4, -1, [0]), 1);
  assert.equal(nextFinding(score, 1, -1), 0, 'the thigh is drawn long from the first on');
  assert.equal(nextFinding(score, 1, -1, [0]), -1);
});
