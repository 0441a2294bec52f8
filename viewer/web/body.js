// @ts-check
// Brings the figure what it shows: the scene of the phase under the playhead,
// how far along it is, and what each muscle does there.

import * as api from './api.js';
import { unpack } from './scene.js';
import { here, on, set, state } from './state.js';

/**
 * @param {{model: (m: any) => void, show: (s: any, part: number) => void, paint: (r: string, g: string) => void, say: (t: string) => void}} figure
 */
export function makeBody(figure) {
  const scenes = api.cached((key) => api.scene(key).then(unpack), 40);
  const details = api.cached((key) => {
    const [number, voice] = key.split(' ');
    return api.phase(Number(number), voice);
  }, 200);
  const detailOf = (/** @type {any} */ p) => details(`${p.number} ${state.voice} ${p.detail}`);
  /** @type {any} */
  let scene = null;
  let shown = ''; // key of the scene
  let told = ''; // key of the findings

  const part = () => {
    const p = here() ?? state.report?.phases[0];
    if (!scene || !p) return;
    const at = here() ? (state.at - p.from_ms) / Math.max(1, p.to_ms - p.from_ms) : 0;
    figure.show(scene, at);
  };

  const arrive = async () => {
    const p = here() ?? state.report?.phases[0];
    if (!p) {
      set({ findings: null });
      return;
    }
    const next = state.report.phases[p.number];
    try {
      if (shown !== p.scene) {
        const key = p.scene;
        const s = await scenes(key);
        if ((here() ?? state.report.phases[0])?.scene === key) {
          scene = s;
          shown = key;
        }
      }
      part();
      const key = `${p.detail} ${state.voice}`;
      if (told !== key || state.findings?.number !== p.number) {
        const f = await detailOf(p);
        if ((here() ?? state.report.phases[0])?.detail !== p.detail) return;
        told = key;
        set({ findings: { ...f, number: p.number } });
        figure.paint(f.muscles.roles, f.muscles.grades);
        figure.say(describe(p, f));
      }
      if (next) {
        // What comes next is there when the playhead is.
        scenes(next.scene).catch(() => {});
        detailOf(next).catch(() => {});
      }
    } catch {
      // The banner says it; the next report asks again.
    }
  };

  const describe = (/** @type {any} */ p, /** @type {any} */ f) => {
    const first = f.statements.slice(0, 3).map((/** @type {{text: string}} */ s) => s.text).join(' ');
    return `The body at “${p.title || `mark ${p.number}`}”: ${f.canonical || 'standing'}. ${first}`;
  };

  on(['model'], () => figure.model(state.model));
  on(['phase', 'report', 'voice'], arrive);
  on(['at'], part);
}
