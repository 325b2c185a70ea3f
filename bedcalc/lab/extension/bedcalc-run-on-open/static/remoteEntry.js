// Runs a workbook when it is opened, and folds its code away. Written by hand, no build.
//
// Only for notebooks whose own metadata says "bedcalc_run_on_open": true. Everything is
// guarded: where JupyterLab differs from what is expected, the notebook simply opens.
(() => {
  'use strict';

  const NAME = 'bedcalc-run-on-open';
  const FLAG = 'bedcalc_run_on_open';
  const CLASS = 'bedcalc-workbook';

  const STYLE = '';

  const done = new WeakSet();

  function isFlagged(panel) {
    const model = panel?.content?.model;
    return Boolean(model?.getMetadata) && model.getMetadata(FLAG) === true;
  }

  async function consider(app, panel) {
    if (!panel?.context?.ready || !panel.sessionContext || done.has(panel)) {
      return;
    }
    await panel.context.ready;
    if (!isFlagged(panel)) {
      return;
    }
    panel.node.classList.add(CLASS);
    await panel.sessionContext.ready;
    // The command runs the notebook in front; another one may be there by now. This one
    // is then considered again when a person comes back to it.
    if (done.has(panel) || app.shell.currentWidget !== panel) {
      return;
    }
    if (!panel.sessionContext.session?.kernel) {
      return;
    }
    done.add(panel);
    await app.commands.execute('notebook:run-all-cells');
  }

  function activate(app) {
    const attempt = panel =>
      consider(app, panel).catch(error =>
        console.info(`${NAME}: the workbook was not run on opening`, error)
      );
    try {
      const style = document.createElement('style');
      style.textContent = STYLE;
      document.head.appendChild(style);
      app.shell.currentChanged.connect((_, change) => void attempt(change.newValue));
      app.restored.then(() => attempt(app.shell.currentWidget));
    } catch (error) {
      console.info(`${NAME}: not at home in this JupyterLab`, error);
    }
  }

  const plugin = { id: `${NAME}:plugin`, autoStart: true, activate };
  window._JUPYTERLAB = window._JUPYTERLAB || {};
  window._JUPYTERLAB[NAME] = {
    init: () => Promise.resolve(),
    get: () => Promise.resolve(() => ({ __esModule: true, default: plugin }))
  };
})();
