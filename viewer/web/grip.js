// @ts-check
// Turning a figure by hand: drag, or arrow keys while it has the focus. A tap
// without a drag asks about the muscle there.

const step = 15; // degrees of one press

/**
 * @param {HTMLCanvasElement} canvas
 * @param {HTMLElement} tip
 * @param {{goal: () => {yaw: number, pitch: number}, look: (yaw: number, pitch: number) => void,
 *   under: (x: number, y: number, reach: number) => number, tapped: (muscle: number) => void, name: (muscle: number) => string}} does
 */
export function makeGrip(canvas, tip, does) {
  /** @type {{x: number, y: number, yaw: number, pitch: number, far: boolean}|null} */
  let grip = null;
  const under = (/** @type {PointerEvent} */ e, /** @type {number} */ reach) => {
    const box = canvas.getBoundingClientRect();
    return does.under(e.clientX - box.left, e.clientY - box.top, reach);
  };
  const hint = (/** @type {PointerEvent} */ e) => {
    const m = e.pointerType === 'mouse' && !grip ? under(e, 7) : -1;
    tip.hidden = m < 0;
    canvas.style.cursor = m < 0 ? '' : 'pointer';
    if (m < 0) return;
    const box = canvas.getBoundingClientRect();
    tip.textContent = does.name(m);
    tip.style.left = `${Math.min(box.width - 70, Math.max(70, e.clientX - box.left))}px`;
    tip.style.top = `${e.clientY - box.top}px`;
  };
  canvas.addEventListener('pointerdown', (e) => {
    if (e.button !== 0) return;
    grip = { x: e.clientX, y: e.clientY, ...does.goal(), far: false };
    canvas.setPointerCapture(e.pointerId);
  });
  canvas.addEventListener('pointermove', (e) => {
    if (!grip) return hint(e);
    const [dx, dy] = [e.clientX - grip.x, e.clientY - grip.y];
    if (!grip.far && Math.hypot(dx, dy) < 5) return;
    grip.far = true;
    tip.hidden = true;
    canvas.classList.add('turning');
    does.look(grip.yaw - dx * 0.5, grip.pitch + (e.pointerType === 'touch' ? 0 : dy * 0.3));
  });
  const release = (/** @type {PointerEvent} */ e) => {
    if (grip && !grip.far && e.type === 'pointerup') does.tapped(under(e, e.pointerType === 'touch' ? 16 : 9));
    grip = null;
    canvas.classList.remove('turning');
  };
  canvas.addEventListener('pointerup', release);
  canvas.addEventListener('pointercancel', release);
  canvas.addEventListener('pointerleave', () => (tip.hidden = true));
  /** @type {Record<string, [number, number]>} */
  const keys = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
  canvas.addEventListener('keydown', (e) => {
    const by = keys[e.key];
    if (!by || e.ctrlKey || e.metaKey || e.altKey) return;
    e.preventDefault();
    const from = does.goal();
    does.look(from.yaw + by[0] * step, from.pitch + by[1] * step);
  });
}
