// @ts-check
// What may be meant by the statement that is being typed: phrases that begin
// like it, hold its words, or are a slip of the finger away.

/** @typedef {{from: number, to: number, typed: string}} Place a stretch of a text */

/** The statement around a place in a text, without the blanks around it. @param {string} text @param {number} caret @returns {Place} */
export function statementAt(text, caret) {
  let from = Math.max(text.lastIndexOf(';', caret - 1), text.lastIndexOf('\n', caret - 1)) + 1;
  const ends = [text.indexOf(';', caret), text.indexOf('\n', caret)].filter((i) => i >= 0);
  const to = ends.length ? Math.min(...ends) : text.length;
  while (from < to && text[from] === ' ') from++;
  return { from, to, typed: text.slice(from, to).trimEnd() };
}

/** How many slips lead from one word to another: letters left out, put in, changed or swapped. @param {string} a @param {string} b @param {number} most more than this is as good as strange */
export function slips(a, b, most) {
  if (Math.abs(a.length - b.length) > most) return most + 1;
  let before = /** @type {number[]} */ ([]);
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      next[j] = Math.min(row[j] + 1, next[j - 1] + 1, row[j - 1] + same);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) next[j] = Math.min(next[j], before[j - 2] + 1);
    }
    before = row;
    row = next;
  }
  return row[b.length];
}

const normal = (/** @type {string} */ s) => s.toLowerCase().replace(/[^\p{L}\p{N} ]+/gu, ' ').split(' ').filter((w) => w && !/^\d+$/.test(w));

/**
 * The phrases nearest to what is typed, best first.
 * @param {[string, string][]} says phrases and how they are understood @param {string} typed @param {number} [most]
 */
export function suggest(says, typed, most = 6) {
  const words = normal(typed);
  if (!words.length || words.join('').length < 2) return [];
  /** @type {{phrase: string, score: number}[]} */
  const found = [];
  for (const [phrase] of says) {
    const has = normal(phrase);
    let score = has.length * 0.02 + phrase.length * 0.001;
    for (const [i, w] of words.entries()) {
      const last = i === words.length - 1;
      let best = 9;
      for (const [k, p] of has.entries()) {
        let d = 9;
        if (p === w) d = 0;
        else if (last && p.startsWith(w)) d = 0.2;
        else if (w.length > 3) d = slips(w, last ? p.slice(0, w.length + 1) : p, 2) <= (w.length > 5 ? 2 : 1) ? 1.2 : 9;
        if (d < 9) d += k === i ? 0 : 0.3;
        best = Math.min(best, d);
      }
      score += best;
    }
    if (score < 9 && phrase !== typed) found.push({ phrase, score });
  }
  return found.sort((a, b) => a.score - b.score).slice(0, most).map((f) => f.phrase);
}
