// @ts-check
// The socket over which the server tells of every change. When it breaks, the
// page says so and tries again by itself, sooner at first and later on.

const first = 400; // ms
const longest = 5000;

/**
 * @param {(m: {kind: string, revision?: number, at_ms?: number, playing?: boolean}) => void} told
 * @param {(up: boolean) => void} state whether the server is there
 */
export function connect(told, state) {
  /** @type {WebSocket|null} */
  let socket = null;
  let wait = first;
  let timer = 0;
  const open = () => {
    clearTimeout(timer);
    const s = new WebSocket(`ws://${location.host}/ws`);
    socket = s;
    s.onopen = () => {
      wait = first;
      state(true);
    };
    s.onmessage = (e) => told(JSON.parse(e.data));
    s.onclose = () => {
      if (socket !== s) return;
      state(false);
      timer = setTimeout(open, wait);
      wait = Math.min(longest, wait * 1.6);
    };
  };
  open();
  addEventListener('online', open);
  return {
    /** Says where this window's playhead is. @param {number} at @param {boolean} playing */
    playhead(at, playing) {
      if (socket?.readyState === WebSocket.OPEN) socket.send(JSON.stringify({ kind: 'playhead', at_ms: Math.round(at), playing }));
    },
  };
}
