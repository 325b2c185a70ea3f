// Runs a workbook when it is opened, and folds its code away. Written by hand, no build.
//
// Only for notebooks whose own metadata says "bedcalc_run_on_open": true, and only if
// their code is ours (bedcalc/lab/lessons.py) or trusted by JupyterLab. Everything is
// guarded: where JupyterLab differs from what is expected, the notebook simply opens.
(() => {
  'use strict';

  const NAME = 'bedcalc-run-on-open';
  const FLAG = 'bedcalc_run_on_open';
  const CLASS = 'bedcalc-workbook';

  // Folded code leaves a small word at the right instead of a grey bar with its first
  // line; a click on it shows the code. Buttons that move or delete a cell stay away from
  // readers (the menus have them). Lines of prose keep a length that can be read.
  const STYLE = `
    .${CLASS} .jp-InputPlaceholder .jp-Placeholder-content {
      border: none;
      background: transparent;
      box-shadow: none;
      min-height: 0;
      padding: 0;
    }
    .${CLASS} .jp-InputPlaceholder .jp-Placeholder-contentContainer {
      display: flex;
      justify-content: flex-end;
      align-items: center;
      gap: 2px;
      height: 16px;
      padding: 0 4px;
      overflow: hidden;
    }
    .${CLASS} .jp-InputPlaceholder .jp-PlaceholderText {
      font-size: 0;
    }
    .${CLASS} .jp-InputPlaceholder .jp-PlaceholderText::before {
      content: 'code';
      font: 11px/16px var(--jp-ui-font-family);
      color: var(--jp-ui-font-color2);
    }
    .${CLASS} .jp-InputPlaceholder:hover .jp-PlaceholderText::before {
      content: 'show the code';
      color: var(--jp-ui-font-color1);
      text-decoration: underline;
    }
    .${CLASS} .jp-InputPlaceholder .jp-MoreHorizIcon {
      position: static;
      margin: 0;
      display: flex;
    }
    .${CLASS} .jp-CodeCell:has(.jp-InputPlaceholder) .jp-OutputPrompt {
      visibility: hidden;
    }
    .${CLASS} .jp-cell-toolbar {
      display: none;
    }
    .${CLASS} .jp-RenderedMarkdown > :is(p, ul, ol, blockquote) {
      max-width: 46em;
    }
  `;

  const beside = new URL('lesson.js', document.currentScript.src);
  const done = new WeakSet();
  const wanted = new Map(); // the heading that a link into a workbook asked for last
  const lines = new WeakMap(); // notebook → its line, and what of its code is not ours
  let shared = {};

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
    const told = await openLine(panel);
    await panel.sessionContext.ready;
    // Only a notebook in view is run. Another may be there by now; this one is then
    // considered again when a person comes back to it.
    if (done.has(panel) || !panel.isVisible) {
      return;
    }
    done.add(panel);
    const { NotebookActions } = await loaded('@jupyterlab/notebook');
    const { Lesson } = await import(beside);
    const run = async () => {
      panel.node.classList.add(CLASS);
      await new Lesson(panel, told.line, NotebookActions).run();
      await goTo(panel, wanted.get(panel.context.path));
    };
    if (!told.foreign.length) {
      await run();
      return;
    }
    panel.node.dataset.bedcalcRun = 'foreign';
    const cells = told.foreign.length > 1 ? 'code cells' : 'code cell';
    told.line.say(
      'foreign',
      `This notebook was not run, because ${cells} ${numbers(told.foreign)} did not come `
      + 'with bedcalc. Read the code first, then run it if you trust it.',
      'Run it',
      () => void run().catch(failed)
    );
  }

  function numbers(list) {
    return list.length > 6 ? `${list.slice(0, 5).join(', ')} and more` : list.join(', ');
  }

  // The line above a flagged notebook. Of ours it says at once that it is being loaded.
  function openLine(panel) {
    if (!lines.has(panel)) {
      lines.set(panel, makeLine(panel));
    }
    return lines.get(panel);
  }

  async function makeLine(panel) {
    const { Widget } = await loaded('@lumino/widgets');
    const { Line, foreignCells } = await import(beside);
    const told = {
      line: new Line(panel, Widget),
      foreign: foreignCells(panel, ownCode())
    };
    if (!told.foreign.length) {
      panel.node.classList.add(CLASS);
      told.line.say('loading', 'Loading the lesson …');
    }
    return told;
  }

  // A module that JupyterLab itself has loaded and shares with its extensions.
  async function loaded(name) {
    const versions = Object.values(shared[name]);
    const entry = versions.find(version => version.loaded) || versions[0];
    return (await entry.get())();
  }

  // JupyterLab goes to the heading of a link before the workbook has run and grown.
  // A link into another file is written as its download, with the heading at the end.
  function listenForLinks() {
    document.addEventListener('click', event => {
      const link = event.target.closest?.('.jp-RenderedMarkdown a[href*="/files/"]');
      if (link) {
        const { pathname, hash } = new URL(link.href);
        wanted.set(decodeURIComponent(pathname.split('/files/')[1]), hash);
      }
    }, true);
  }

  // Go to the heading once more, and again while pictures above it still grow, until a
  // person takes over.
  async function goTo(panel, heading) {
    if (!heading || !panel.setFragment) {
      return;
    }
    let taken = false;
    for (const hand of ['wheel', 'keydown', 'pointerdown']) {
      panel.node.addEventListener(hand, () => { taken = true; }, { once: true });
    }
    for (const pause of [0, 300, 700, 1000, 2000, 3000]) {
      await new Promise(go => setTimeout(go, pause));
      if (taken || !panel.isVisible) {
        return;
      }
      panel.setFragment(heading);
    }
  }

  function fromPage(name) {
    const page = document.getElementById('jupyter-config-data');
    return JSON.parse(page.textContent)[name];
  }

  function ownCode() {
    try {
      return new Set(JSON.parse(fromPage('bedcalcCode')));
    } catch (error) {
      return new Set();
    }
  }

  function failed(error) {
    console.info(`${NAME}: the workbook was not run on opening`, error);
  }

  function activate(app) {
    const attempt = panel => consider(app, panel).catch(failed);
    try {
      const style = document.createElement('style');
      style.textContent = STYLE;
      import(beside).then(lesson => { style.textContent += lesson.STYLE; }, failed);
      document.head.appendChild(style);
      app.shell.currentChanged.connect((_, change) => void attempt(change.newValue));
      app.restored.then(() => attempt(app.shell.currentWidget));
    } catch (error) {
      console.info(`${NAME}: not at home in this JupyterLab`, error);
    }
  }

  // A widget made with anywidget stays blank for good if its module is not there within
  // two seconds, which a slow or busy machine misses. Those calls get a minute.
  function bePatient() {
    const real = AbortSignal.timeout;
    if (typeof real === 'function' && !real.patient) {
      const patient = wait => real.call(AbortSignal, wait === 2000 ? 60000 : wait);
      patient.patient = true;
      AbortSignal.timeout = patient;
    }
  }

  try {
    bePatient();
  } catch (error) {
    console.info(`${NAME}: widgets keep their own patience`, error);
  }
  listenForLinks();
  const plugin = { id: `${NAME}:plugin`, autoStart: true, activate };
  window._JUPYTERLAB = window._JUPYTERLAB || {};
  window._JUPYTERLAB[NAME] = {
    init: scope => {
      shared = scope;
      return Promise.resolve();
    },
    get: () => Promise.resolve(() => ({ __esModule: true, default: plugin }))
  };
})();
