// A plotly figure that loads the page's one copy of plotly (from the address that
// shared_plotly.py fills in) and leaves out what its pictures never use.
//
// After every change plotly draws a 3D picture a second time, in a hidden buffer, and
// waits until it can read back which part lies under each pixel. That is for words that
// follow the mouse, which these pictures do not have; on a machine without a graphics
// card it is a quarter of the time of a move. All of it is guarded: where plotly's
// insides differ, a figure just takes that longer.
function spare(scene) {
  const { gl, objects } = scene.glplot;
  for (const object of objects) {
    object.drawPick = () => {};
  }
  if (!gl.bedcalcSpared) {
    const read = gl.readPixels.bind(gl);
    gl.readPixels = (...asked) => {
      // the hidden buffers only: pictures for saving are read from the screen's own
      if (!gl.getParameter(gl.FRAMEBUFFER_BINDING)) {
        read(...asked);
      }
    };
    gl.bedcalcSpared = true;
  }
}

function spareAll(plot) {
  try {
    for (const part of Object.values(plot._fullLayout ?? {})) {
      if (part?._scene?.glplot) {
        spare(part._scene);
      }
    }
  } catch (error) {
    console.info('bedcalc: a 3D picture is drawn twice', error);
  }
}

// After every change plotly also works out all the defaults it has filled in and sends
// them to the kernel, which puts them beside what it has (and stumbles over arrays).
// Nobody asks a figure of ours for its defaults.
function keepDefaults(view) {
  for (const name of ['_sendTraceDeltas', '_sendLayoutDelta']) {
    if (typeof view?.prototype?.[name] === 'function') {
      view.prototype[name] = () => {};
    }
  }
}

// Whether 3D is drawn by the processor: then pictures are drawn with one dot a pixel
// instead of four.
let drawnByProcessor;
function isSlow() {
  if (drawnByProcessor === undefined) {
    drawnByProcessor = false;
    try {
      const gl = document.createElement('canvas').getContext('webgl');
      const named = gl.getExtension('WEBGL_debug_renderer_info');
      const name = named ? gl.getParameter(named.UNMASKED_RENDERER_WEBGL) : '';
      drawnByProcessor = /swiftshader|llvmpipe|software/i.test(name);
      gl.getExtension('WEBGL_lose_context')?.loseContext();
    } catch (error) {
      console.info('bedcalc: no word about what draws 3D', error);
    }
  }
  return drawnByProcessor;
}

export default async () => {
  const plotly = await import(new URL(ADDRESS, location.origin));
  keepDefaults(plotly.FigureView);
  const widget = typeof plotly.default === 'function' ? plotly.default() : plotly.default;
  return {
    ...widget,
    render(props) {
      if (isSlow()) {
        const config = { ...props.model.get('_config'), plotGlPixelRatio: 1 };
        props.model.set('_config', config);
      }
      const left = widget.render(props);
      const plot = props.el.querySelector('.js-plotly-plot') ?? props.el;
      plot.on?.('plotly_afterplot', () => spareAll(plot));
      return left;
    }
  };
};
