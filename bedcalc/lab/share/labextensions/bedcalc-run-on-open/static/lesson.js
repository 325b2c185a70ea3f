// What a lesson tells its reader in one line above it, and how it comes back to life.
// Loaded by remoteEntry.js; written by hand, no build.

const STOPPED = 'The program behind this page has stopped.';
const SILENT = 'The program behind this page does not answer.';
const LOST = 'The program behind this page cannot be reached.';
const PATIENCE = 20000; // ms without a word after a move, before the page says so
const LONG = 60000; // ms without a word while the lesson is being run

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
    this.turn = 0; // of running the lesson; an earlier one may still wait for answers
    this.running = false;
    this.whole = false; // whether the lesson has run and its program still knows it
    this.gone = false; // whether its program stopped while the lesson was run
    this.silent = false; // whether it takes a new program to go on
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
    const turn = ++this.turn;
    this.whole = this.gone = false;
    this.running = true;
    this.loading();
    if (!panel.sessionContext.session?.kernel) {
      this.stopped(STOPPED);
      this.running = false;
      return;
    }
    const watch = this.watchRun();
    try {
      // Not the command "run all cells": that one scrolls to the end of the workbook.
      await this.actions.runCells(
        panel.content, panel.content.widgets, panel.sessionContext);
    } finally {
      clearInterval(watch);
      if (turn === this.turn) this.running = false;
    }
    if (turn !== this.turn || this.gone) return; // it stopped on the way, and says so
    this.whole = this.hasRun();
    if (this.whole) {
      this.awake();
    } else {
      this.stopped(SILENT);
    }
  }

  loading() {
    this.panel.node.dataset.bedcalcRun = 'running';
    this.line.say('loading', 'Loading the lesson …');
  }

  // Whether every cell has run, or one shows the error at which it ended.
  hasRun() {
    const code = this.panel.content.widgets.filter(c => c.model.type === 'code');
    return code.some(c => c.model.outputs.toJSON().some(o => o.output_type === 'error'))
      || code.every(c => c.model.executionCount || !c.model.sharedModel.getSource().trim());
  }

  // An answer may be lost while the page is busy; the lesson would then load for ever.
  watchRun() {
    this.last = Date.now();
    return setInterval(() => {
      const busy = this.panel.sessionContext.session?.kernel?.status === 'busy';
      if (busy) this.last = Date.now();
      if (Date.now() - this.last > LONG && this.line.kind === 'loading') {
        this.stopped(SILENT);
      }
    }, 5000);
  }

  status(status) {
    if (['restarting', 'autorestarting', 'dead', 'terminating'].includes(status)) {
      this.stopped(STOPPED);
    }
  }

  // A short break, as after a sleep of the machine, JupyterLab fixes by itself. It goes on
  // trying for minutes; the page says so sooner.
  connection(status) {
    if (status === 'connecting') {
      this.apart ||= setTimeout(() => this.stopped(LOST), PATIENCE);
      return;
    }
    clearTimeout(this.apart);
    this.apart = 0;
    if (status === 'disconnected') {
      this.stopped(LOST);
    } else if (this.line.node.textContent.startsWith(LOST)) {
      this.awake();
    }
  }

  stopped(words) {
    clearTimeout(this.waiting);
    this.waiting = 0;
    if (this.starting || this.panel.isDisposed) return;
    if (!this.running && !this.whole && words === LOST) return;
    if (words === STOPPED) {
      this.whole = false;
      this.gone = true;
    }
    this.silent = words !== STOPPED;
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
    this.last = Date.now();
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
    } else if (this.running && !this.gone) {
      this.loading(); // it goes on where it was
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
    this.starting = true;
    this.turn += 1; // an earlier run may end now, and has nothing more to say
    this.running = false;
    this.line.say('loading', 'Starting the program again …');
    try {
      if (!this.silent) await this.settled(10000); // it may be on its way already
      if (this.silent || !this.isWell()) {
        await this.newProgram();
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
        + 'bedcalc. If it is closed, start bedcalc again and go on in the page that it '
        + 'opens. Your garden is saved.',
        'Start again', () => void this.again());
    }
  }

  async newProgram() {
    const { sessionContext } = this.panel;
    if (await this.isKnown()) {
      await sessionContext.restartKernel();
    } else {
      await sessionContext.startKernel();
    }
  }

  // A server that was started anew knows nothing of the earlier program; JupyterLab lets
  // go of that once it has asked.
  async isKnown() {
    const { session, sessionManager } = this.panel.sessionContext;
    await sessionManager.refreshRunning();
    return [...sessionManager.running()].some(one => one.id === session?.id);
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
