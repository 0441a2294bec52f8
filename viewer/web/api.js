// @ts-check
// Talking to the server. Reads are cached by their tags; a write that fails
// says why. All shapes are those of api.go.

/** An answer that is not what was asked for. */
export class Refused extends Error {
  /** @param {number} status 0 when the server did not answer @param {string} text @param {string} [hint] */
  constructor(status, text, hint = '') {
    super(text);
    this.status = status;
    this.hint = hint;
  }
}

/** @param {string} method @param {string} path @param {any} [body] @param {AbortSignal} [until] ends the wait for an answer that nobody needs any more @returns {Promise<any>} */
export async function ask(method, path, body, until) {
  return (await answerTo(method, path, body, until)).json();
}

/** One of the files that leave the study, and what it leaves out. @param {string} name @param {string} voice */
export async function file(name, voice) {
  const answer = await answerTo('GET', `/api/exports/${name}?voice=${voice}`);
  const notes = decodeURIComponent(answer.headers.get('Tautline-Notes') ?? '');
  return { blob: await answer.blob(), notes: notes ? notes.split('\n') : [] };
}

/** @param {string} method @param {string} path @param {any} [body] @param {AbortSignal} [until] */
async function answerTo(method, path, body, until) {
  let answer;
  try {
    answer = await fetch(path, {
      method,
      headers: body === undefined ? {} : { 'Content-Type': 'application/json' },
      body: body === undefined ? undefined : JSON.stringify(body),
      signal: AbortSignal.any([AbortSignal.timeout(20000), ...(until ? [until] : [])]),
    });
  } catch {
    throw new Refused(0, 'the program that serves this page does not answer');
  }
  if (answer.ok) return answer;
  const text = await answer.text();
  try {
    const told = JSON.parse(text);
    throw new Refused(answer.status, told.error, told.hint);
  } catch (e) {
    throw e instanceof Refused ? e : new Refused(answer.status, text.trim());
  }
}

export const report = () => ask('GET', '/api/report');
export const model = () => ask('GET', '/api/model');
export const score = () => ask('GET', '/api/score');
export const frames = () => ask('GET', '/api/frames');
/** @param {number} number @param {string} voice */
export const phase = (number, voice) => ask('GET', `/api/phases/${number}?voice=${voice}`);
/** @param {number} number @param {number} muscle @param {string} voice */
export const muscle = (number, muscle, voice) => ask('GET', `/api/phases/${number}/muscles/${muscle}?voice=${voice}`);
/** @param {string} key */
export const scene = (key) => ask('GET', `/api/scenes/${key}`);
/** @param {string} words */
export const read = (words) => ask('POST', '/api/read', { words });
export const vocabulary = () => ask('GET', '/api/vocabulary');
/** @param {object} what @param {AbortSignal} [until] */
export const tryOut = (what, until) => ask('POST', '/api/try', what, until);
/** @param {string} key @param {number} muscle @param {string} voice */
export const triedMuscle = (key, muscle, voice) => ask('GET', `/api/tried/${key}/muscles/${muscle}?voice=${voice}`);
/** @param {object} posture */
export const addPosture = (posture) => ask('POST', '/api/postures', posture);
/** @param {number} id @param {object} change */
export const changePosture = (id, change) => ask('PATCH', `/api/postures/${id}`, change);
/** @param {number} id */
export const removePosture = (id) => ask('DELETE', `/api/postures/${id}`);
/** @param {number} mark @param {object} angle */
export const addAngle = (mark, angle) => ask('POST', `/api/marks/${mark}/angles`, angle);
/** @param {number} id */
export const removeAngle = (id) => ask('DELETE', `/api/angles/${id}`);
/** @param {object} mark */
export const addMark = (mark) => ask('POST', '/api/marks', mark);
/** @param {number} id @param {object} change */
export const changeMark = (id, change) => ask('PATCH', `/api/marks/${id}`, change);
/** @param {number} id */
export const removeMark = (id) => ask('DELETE', `/api/marks/${id}`);
/** @param {object} remark */
export const addRemark = (remark) => ask('POST', '/api/remarks', remark);
/** @param {number} id @param {object} change */
export const changeRemark = (id, change) => ask('PATCH', `/api/remarks/${id}`, change);
/** @param {number} id */
export const removeRemark = (id) => ask('DELETE', `/api/remarks/${id}`);
/** @param {object} where */
export const findRecording = (where) => ask('POST', '/api/recording', where);
export const formats = () => ask('GET', '/api/exports');
export const undo = () => ask('POST', '/api/undo');
export const redo = () => ask('POST', '/api/redo');

/**
 * Remembers answers by key, the latest `most` of them, and asks only once for
 * what is asked for twice at a time.
 * @template T @param {(key: string) => Promise<T>} get @param {number} most
 */
export function cached(get, most) {
  /** @type {Map<string, Promise<T>>} */
  const kept = new Map();
  return (/** @type {string} */ key) => {
    let answer = kept.get(key);
    if (answer) kept.delete(key);
    else answer = get(key).catch((e) => (kept.delete(key), Promise.reject(e)));
    kept.set(key, answer);
    if (kept.size > most) kept.delete(kept.keys().next().value ?? '');
    return answer;
  };
}
