// @ts-check
// The score's figures, unpacked, and what can be asked of them: which rows there
// are, what a row does in a phase, where something begins.

const digits = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_';

/** Regions from the head down, as they stand in the score. */
export const regions = ['neck', 'shoulder girdle', 'shoulder', 'arm', 'forearm', 'hand', 'trunk', 'hip', 'thigh', 'leg', 'foot'];

export const QUIET = 0, SLACK = 1, LONG = 2, WORK = 3;
export const MAY = 2, LIKELY = 3, MUST = 4;

/**
 * One posture. Roles and grades as above; places, efforts, lows and highs run
 * from 0 to 63, efforts as 63 times the square root of the share of full effort.
 * @typedef {{roles: Uint8Array, grades: Uint8Array, places: Uint8Array, efforts: Uint8Array, lows: Uint8Array, highs: Uint8Array}} Stand
 * @typedef {{phases: Int32Array, stands: Stand[]}} Score
 * @typedef {{region: string, name: string, muscles: number[], closed?: boolean, side: string}} Row muscles of a row that stand for it, one unless it is a whole region
 * @typedef {{role: number, grade: number, effort: number, low: number, high: number, place: number, longs: number, slacks: number, works: number}} Doing
 */

/** @param {{phases: number[], stands: Record<string, string>[]}} raw as sent @returns {Score} */
export function unpack(raw) {
  const column = (/** @type {string} */ text) => Uint8Array.from(text, (c) => digits.indexOf(c));
  return {
    phases: Int32Array.from(raw.phases),
    stands: raw.stands.map((s) => {
      const looks = column(s.looks);
      return {
        roles: looks.map((v) => Math.floor(v / 5)), grades: looks.map((v) => v % 5),
        places: column(s.places), efforts: column(s.efforts), lows: column(s.lows), highs: column(s.highs),
      };
    }),
  };
}

/** Share of full effort that a number stands for. @param {number} v */
export const share = (v) => (v / 63) ** 2;

/** Whether two muscles do the same in every posture, to what can be seen. @param {Score} score @param {number} a @param {number} b */
function twins(score, a, b) {
  return score.stands.every((s) => s.roles[a] === s.roles[b] && s.grades[a] === s.grades[b] &&
    Math.abs(s.efforts[a] - s.efforts[b]) < 3 && Math.abs(s.places[a] - s.places[b]) < 3);
}

/**
 * The rows of every region: one for a muscle when both sides do the same
 * throughout, else one for each side.
 * @param {Score} score @param {{name: string, plain: string, side: string, region: string}[]} muscles @param {string} voice
 * @returns {Map<string, Row[]>}
 */
export function rowsOf(score, muscles, voice) {
  /** @type {Map<string, Row[]>} */
  const all = new Map(regions.map((r) => [r, []]));
  /** @type {Map<string, number>} */
  const seen = new Map();
  muscles.forEach((m, i) => {
    const bare = (/** @type {string} */ n) => (m.side && n.startsWith(m.side + ' ') ? n.slice(m.side.length + 1) : n);
    const name = bare((voice === 'plain' && m.plain) || m.name);
    const key = `${m.region} ${bare(m.name)}`;
    const other = seen.get(key);
    const rows = all.get(m.region);
    if (!rows) return;
    if (other !== undefined && twins(score, other, i)) {
      const row = rows.find((r) => r.muscles[0] === other);
      if (row) {
        row.muscles.push(i);
        row.side = 'both';
      }
      return;
    }
    seen.set(key, i);
    rows.push({ region: m.region, name, muscles: [i], side: m.side });
  });
  for (const rows of all.values()) rows.sort((a, b) => a.name.localeCompare(b.name) || b.side.localeCompare(a.side));
  return all;
}

/** The rows in sight: each region, and the muscles of those that are open. @param {Map<string, Row[]>} all @param {Set<string>} open @returns {Row[]} */
export function inSight(all, open) {
  const out = [];
  for (const [region, rows] of all) {
    if (!rows.length) continue;
    out.push({ region, name: region, muscles: rows.flatMap((r) => r.muscles), closed: !open.has(region), side: '' });
    if (open.has(region)) out.push(...rows);
  }
  return out;
}

const nothing = { role: QUIET, grade: 0, effort: 0, low: 0, high: 0, place: 31, longs: 0, slacks: 0, works: 0 };

/** What a row does in one posture: of several muscles, the one that works most. @param {Score} score @param {number} stand @param {number[]} muscles @returns {Doing} */
export function doing(score, stand, muscles) {
  const s = score.stands[stand];
  if (!s) return nothing;
  let best = -1;
  let longest = -1;
  let [longs, slacks, works] = [0, 0, 0];
  for (const m of muscles) {
    const role = s.roles[m];
    if (role === WORK) {
      works++;
      if (best < 0 || s.efforts[m] > s.efforts[best] || (s.efforts[m] === s.efforts[best] && s.grades[m] > s.grades[best])) best = m;
    } else if (role === LONG) {
      longs++;
      if (longest < 0 || s.places[m] > s.places[longest]) longest = m;
    } else if (role === SLACK) slacks++;
  }
  const m = best >= 0 ? best : longest >= 0 ? longest : muscles.find((i) => s.roles[i] === SLACK) ?? muscles[0];
  return { role: s.roles[m], grade: s.grades[m], effort: s.efforts[m], low: s.lows[m], high: s.highs[m], place: s.places[m], longs, slacks, works };
}

/** Remembers what rows do, by posture. @param {Score} score */
export function remembered(score) {
  /** @type {WeakMap<Row, Doing[]>} */
  const known = new WeakMap();
  return (/** @type {Row} */ row, /** @type {number} */ stand) => {
    if (stand < 0) return nothing;
    let of = known.get(row);
    if (!of) known.set(row, (of = []));
    return (of[stand] ??= doing(score, stand, row.muscles));
  };
}

/** In words, for who listens and for the tip. @param {Doing} d @param {boolean} whole a region */
export function inWords(d, whole) {
  const per = Math.round(share(d.effort) * 100);
  const how = ['may work', 'not told whether it works', 'may work', 'likely works', 'has to work'][d.grade];
  if (!whole) {
    if (d.role === WORK) return per && d.grade >= MAY ? `${how}, ${per}%` : how;
    return d.role === LONG ? 'drawn long' : d.role === SLACK ? 'slack' : 'at rest';
  }
  const parts = [];
  if (d.works) parts.push(`${how}${per && d.grade >= MAY ? `, up to ${per}%` : ''}`);
  if (d.longs) parts.push(`${d.longs} drawn long`);
  if (d.slacks) parts.push(`${d.slacks} slack`);
  return parts.join('; ') || 'at rest';
}

/** The next phase, looking on or back from one, where something begins that was not so just before: of these muscles, or of any. @param {Score} score @param {number} from @param {number} by 1 or -1 @param {number[]} [muscles] @returns {number} -1 for none */
export function nextFinding(score, from, by, muscles) {
  for (let i = from + by; i >= 0 && i < score.phases.length; i += by) {
    const now = score.stands[score.phases[i]];
    const before = i > 0 ? score.stands[score.phases[i - 1]] : undefined;
    if (!now || now === before) continue;
    const begins = (/** @type {number} */ m) => now.roles[m] >= LONG && (now.roles[m] === LONG || now.grades[m] >= MAY) && (!before || before.roles[m] !== now.roles[m]);
    if (muscles ? muscles.some(begins) : now.roles.some((_, m) => begins(m))) return i;
  }
  return -1;
}
