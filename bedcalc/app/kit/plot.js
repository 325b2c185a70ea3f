// A figure that shows the drawing it is given with Plotly's own `react`: made once,
// then brought up to date. Plotly itself is loaded once for the whole page.
const ADDRESS = null; // where the server hands plotly.js out; the module itself if null

function library() {
  globalThis.bedcalcPlotly ??= (globalThis.Plotly || ADDRESS === null)
    ? Promise.resolve(globalThis.Plotly)
    : import(new URL(ADDRESS, location.origin)).then(() => globalThis.Plotly);
  return globalThis.bedcalcPlotly;
}

// Numbers travel as base64, which is a third of their digits.
const KINDS = { f8: Float64Array, f4: Float32Array, i4: Int32Array };
function unpacked(value) {
  if (Array.isArray(value)) return value.map(unpacked);
  if (value === null || typeof value !== 'object') return value;
  if (typeof value.bdata === 'string') {
    const bytes = Uint8Array.from(atob(value.bdata), c => c.charCodeAt(0));
    return new KINDS[value.dtype](bytes.buffer);
  }
  return Object.fromEntries(Object.entries(value).map(([k, v]) => [k, unpacked(v)]));
}

// Arrow keys turn a picture in space round its upright axis, and up and down.
const KEYS = { ArrowLeft: [1, 0], ArrowRight: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
function turned(eye, [round, up]) {
  const far = Math.hypot(eye.x, eye.y, eye.z);
  const angle = Math.atan2(eye.y, eye.x) + round * 0.15;
  const lift = Math.asin(eye.z / far) + up * 0.1;
  const high = Math.min(Math.max(lift, -0.2), 1.5);
  const flat = far * Math.cos(high);
  return { x: flat * Math.cos(angle), y: flat * Math.sin(angle), z: far * Math.sin(high) };
}

async function render({ model, el }) {
  const box = document.createElement('div');
  el.append(box);
  const Plotly = await library();
  const config = { displayModeBar: false, typesetMath: false, scrollZoom: false };
  let camera = null;
  const draw = () => {
    const { data, layout } = unpacked(model.get('drawing'));
    return Plotly.react(box, data, layout, config);
  };
  const keys = event => {
    const way = KEYS[event.key];
    const now = camera ?? box.layout?.scene?.camera;
    if (!way || !now?.eye) return;
    event.preventDefault();
    camera = { ...now, eye: turned(now.eye, way) };
    Plotly.relayout(box, { 'scene.camera': camera });
  };
  model.on('change:drawing', draw);
  await draw();
  if (box.layout?.scene?.dragmode) {
    box.tabIndex = 0;
    box.setAttribute('aria-label', 'Picture in space; arrow keys turn it');
    box.setAttribute('role', 'application');
    box.addEventListener('keydown', keys);
    box.on('plotly_relayout', what => { camera = what['scene.camera'] ?? camera; });
  }
  return () => {
    model.off('change:drawing', draw);
    Plotly.purge(box);
  };
}
export default { render };
