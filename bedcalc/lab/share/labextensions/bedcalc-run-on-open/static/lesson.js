// What a lesson tells its reader in one line above it, and how it comes back to life.
// Loaded by remoteEntry.js; written by hand, no build.

const STOPPED = 'The program behind this page has stopped.';
const SILENT = 'The program behind this page does not answer.';
const LOST = 'The program behind this page cannot be reached.';
const PATIENCE = 20000; // ms without a word after a move, before the page says so

export const STYLE = `
  .bedcalc-line {
    overflow: hidden;
    background: #f6e7b4;
  }
  .bedcalc-line[data-kind='loading'] {
    background: #e9efe4;
  }
  .bedcalc-line > div {
    display: flex;
    flex-wrap: wrap;
    gap: 4px 12px;
    align-items: center;
    box-sizing: border-box;
    padding: 6px 16px;
    font: 15px/22px var(--jp-ui-font-family);
    color: #1d1d1b;
  }
  .bedcalc-line button {
    font: inherit;
    color: inherit;
    padding: 2px 12px;
    border: 1px solid #1d1d1b;
    border-radius: 3px;
    background: #fff;
    cursor: pointer;
  }
`;

// Whether a notebook may be run without being asked: every code cell is, byte for byte,
// one that came with bedcalc, or JupyterLab trusts it. Gives the numbers of the others.
export function foreignCells(panel, ours) {
  const code = panel.content.widgets.filter(cell => cell.model.type === 'code');
  return code
    .map((cell, index) => [index + 1, cell.model])
    .filter(([, model]) => {
      const text = model.sharedModel.getSource();
      return text.trim() && !ours.has(text) && !model.trusted;
    })
    .map(([number]) => number);
}

// The one line above a notebook, with at most one button.
export class Line {
  constructor(panel, Widget) {
    this.panel = panel;
    this.node = document.createElement('div');
    this.node.className = 'bedcalc-line';
    this.node.setAttribute('role', 'status');
    this.words = this.node.appendChild(document.createElement('div'));
    this.widget = new Widget({ node: this.node });
    this.widget.hide();
    panel.contentHeader.addWidget(this.widget);
    new ResizeObserver(() => this.fit()).observe(this.words);
  }

  get kind() {
    return this.widget.isHidden ? '' : this.node.dataset.kind;
  }

  say(kind, text, label = '', act = null) {
    this.node.dataset.kind = kind;
    this.words.replaceChildren(document.createElement('span'));
    this.words.firstChild.textContent = text;
    if (label) {
      const button = document.createElement('button');
      button.textContent = label;
      button.addEventListener('click', act, { once: true });
      this.words.append(button);
    }
    this.widget.show();
    this.fit();
  }

  clear() {
    this.widget.hide();
    this.fit();
  }

  // JupyterLab lays this row out by its least height; words may need a second line.
  fit() {
    this.node.style.minHeight = `${this.words.offsetHeight}px`;
    this.panel.contentHeader.fit();
  }
}

// One lesson: runs it, sees when its program stops, and brings it back.
export class Lesson {
  constructor(panel, line, actions) {
    Object.assign(this, { panel, line, actions });
    this.running = false;
    this.whole = false; // whether the lesson has run and its program still knows it
    const { sessionContext } = panel;
    sessionContext.statusChanged.connect((_, status) => this.status(status));
    sessionContext.connectionStatusChanged.connect((_, s) => this.connection(s));
    sessionContext.kernelChanged.connect((_, { newValue }) => {
      if (!newValue) this.stopped(STOPPED);
    });
    sessionContext.iopubMessage.connect(() => this.heard());
    actions.executed.connect((_, { notebook, cell, success }) =>
      this.executed(notebook, cell, success));
    for (const move of ['pointerup', 'change', 'keyup']) {
      panel.content.node.addEventListener(move, event => this.moved(event), true);
    }
  }

  async run() {
    const { panel } = this;
    this.running = true;
    this.whole = false;
    panel.node.dataset.bedcalcRun = 'running';
    this.line.say('loading', 'Loading the lesson …');
    try {
      // Not the command "run all cells": that one scrolls to the end of the workbook.
      await this.actions.runCells(
        panel.content, panel.content.widgets, panel.sessionContext);
    } finally {
      this.running = false;
    }
    if (this.line.kind !== 'loading') return; // it stopped on the way, and says so
    panel.node.dataset.bedcalcRun = 'done';
    this.whole = true;
    this.line.clear();
  }

  status(status) {
    if (['restarting', 'autorestarting', 'dead', 'terminating'].includes(status)) {
      this.stopped(STOPPED);
    }
  }

  // A short break, as after a sleep of the machine, JupyterLab mends by itself.
  connection(status) {
    if (status === 'disconnected') {
      this.stopped(LOST);
    } else if (status === 'connected' && this.line.node.textContent.startsWith(LOST)) {
      this.awake();
    }
  }

  stopped(words) {
    clearTimeout(this.waiting);
    this.waiting = 0;
    if (this.starting || this.panel.isDisposed) return;
    if (!this.running && !this.whole && words !== STOPPED) return;
    if (words === STOPPED) this.whole = false;
    this.panel.node.dataset.bedcalcRun = 'stopped';
    this.line.say('stopped', words, 'Start again', () => void this.again());
  }

  // After a move of the reader the program always says something; a sleeping one does not.
  moved(event) {
    const busy = this.panel.sessionContext.session?.kernel?.status === 'busy';
    const place = event.target.closest?.('.jp-OutputArea');
    if (!place || !this.whole || busy || this.waiting) return;
    if (!event.target.closest('input, select, button, label, .noUi-target')) return;
    this.panel.sessionContext.session?.kernel?.requestKernelInfo().catch(() => undefined);
    this.waiting = setTimeout(() => this.stopped(SILENT), PATIENCE);
  }

  heard() {
    clearTimeout(this.waiting);
    this.waiting = 0;
    if (this.line.kind === 'stopped' && this.line.node.textContent.startsWith(SILENT)) {
      this.awake();
    }
  }

  awake() {
    if (this.whole) {
      this.panel.node.dataset.bedcalcRun = 'done';
      this.line.clear();
    }
  }

  // Somebody ran the lesson from the menu: its last cell is done, all is well again.
  executed(notebook, cell, success) {
    if (this.running || notebook !== this.panel.content || !success) return;
    const last = notebook.widgets.filter(one => one.model.type === 'code').at(-1);
    if (cell === last && this.line.kind) {
      this.whole = true;
      this.awake();
    }
  }

  async again() {
    const { sessionContext } = this.panel;
    this.starting = true;
    this.line.say('loading', 'Starting the program again …');
    try {
      const silent = this.whole; // it knows the lesson, and yet a button was needed
      if (!silent) await this.settled(10000); // it may be on its way already
      if (silent || !this.isWell()) {
        const known = sessionContext.session?.kernel;
        await (known ? sessionContext.restartKernel() : sessionContext.startKernel());
        await this.settled(60000);
      }
      if (!this.isWell()) throw new Error('the kernel did not answer');
      this.starting = false;
      await this.run();
    } catch (error) {
      console.info('bedcalc-run-on-open: not started again', error);
      this.starting = false;
      this.line.say('stopped',
        'The program could not be started. Look at the window where you started '
        + 'bedcalc; if it is closed, start bedcalc again, then reload this page.',
        'Start again', () => void this.again());
    }
  }

  isWell() {
    const kernel = this.panel.sessionContext.session?.kernel;
    return kernel?.connectionStatus === 'connected'
      && ['idle', 'busy'].includes(kernel.status);
  }

  // Wait until the program is up, for so many ms at most.
  async settled(most) {
    const end = Date.now() + most;
    while (!this.isWell() && Date.now() < end) {
      const kernel = this.panel.sessionContext.session?.kernel;
      if (!kernel || kernel.status === 'dead') return;
      await new Promise(go => setTimeout(go, 100));
    }
  }
}
