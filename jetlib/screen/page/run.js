// A page of the course that comes alive by itself, and again whenever what calculates behind it has started anew.
import {typeAgain, typedIn} from './keep.js';
import {tell} from './bar.js';

const PATIENCE = 60_000; // ms until a kernel that has not come is called missing
const OFTEN = 3; // starts within a minute, then it is left to the reader
const sleep = ms => new Promise(done => setTimeout(done, ms));

export class LivePage {
  /** `panel`: JupyterLab's NotebookPanel; `CodeCell`: its class; `isShown()`: whether this page is in front. */
  constructor(panel, stem, CodeCell, isShown) {
    Object.assign(this, {panel, stem, CodeCell, isShown});
    this.running = this.stale = false;
    this.starts = [];
    this.typed = JSON.parse(sessionStorage.getItem(`course-typed:${stem}`) || '{}');
    this.begun = this.begin().catch(error => this.fail(error.message));
  }

  get context() {
    return this.panel.sessionContext;
  }

  get cells() {
    return this.panel.content.widgets.filter(cell => cell.model.type === 'code');
  }

  tell(words, button) {
    if (this.isShown()) {
      tell(words, button);
    }
    this.told = [words, button];
  }

  async begin() {
    await this.panel.context.ready;
    this.tell('Getting ready …');
    // A crash is told in the bar. JupyterLab's own box would want a press first.
    this.context.statusChanged.disconnect(this.panel._onSessionStatusChanged, this.panel);
    this.context.statusChanged.connect((_, status) => this.follow(status));
    if (!this.cells.every(cell => cell.model.trusted)) {
      const run = {words: 'Run it', press: () => this.run()};
      this.tell('This page is not the one that came with the course, so it does not run by itself.', run);
      return;
    }
    await Promise.race([this.context.ready, sleep(PATIENCE)]);
    await this.run();
  }

  /** What calculates has stopped, is starting, or is back. */
  follow(status) {
    if (status === 'restarting' || status === 'autorestarting') {
      this.stale = true;
      this.tell('What calculates behind this page has stopped. It is starting again …');
    } else if (status === 'idle' && this.stale && !this.running) {
      this.stale = false;
      const minute = Date.now() - 60_000;
      this.starts = [...this.starts.filter(time => time > minute), Date.now()];
      if (this.starts.length > OFTEN) {
        this.fail('What calculates behind this page keeps stopping.');
      } else {
        this.run();
      }
    } else if (status === 'dead' || (status === 'unknown' && this.ready && !this.context.session)) {
      this.fail('What calculates behind this page has stopped.');
    }
  }

  /** Say what went wrong, with the one button that tries again. Nothing is lost by pressing it. */
  fail(words) {
    this.tell(`${words} You can read on.`, {words: 'Try again', press: () => this.anew()});
  }

  /** Start what calculates afresh, and run the page. */
  async anew() {
    this.tell('Getting ready …');
    this.remember();
    try {
      const kernel = this.context.session && this.context.session.kernel;
      if (kernel && kernel.status !== 'dead' && kernel.status !== 'unknown') {
        await kernel.restart();
      } else {
        await this.context.changeKernel({name: 'python3'});
      }
      this.stale = false;
      await this.run();
    } catch (error) {
      this.fail(`It did not start: ${error.message}`);
    }
  }

  /** Hold on to what is typed, also over a reload of the page. */
  remember() {
    Object.assign(this.typed, typedIn(this.cells));
    sessionStorage.setItem(`course-typed:${this.stem}`, JSON.stringify(this.typed));
  }

  async run() {
    if (this.running) {
      return;
    }
    this.running = true;
    const problems = [];
    try {
      const kernel = this.context.session && this.context.session.kernel;
      if (!kernel) {
        throw new Error('nothing is there to calculate with.');
      }
      const info = await Promise.race([kernel.info, sleep(PATIENCE)]);
      if (!info) {
        throw new Error('what calculates behind this page does not answer.');
      }
      this.remember();
      const cells = this.cells;
      for (const [at, cell] of cells.entries()) {
        this.tell(`Getting ready … ${at} of ${cells.length}`);
        const problem = await this.runOne(cell);
        if (problem) {
          problems.push(problem);
        }
      }
    } catch (error) {
      if (!this.stale) {
        problems.push(error.message);
      }
    } finally {
      this.running = false;
    }
    if (problems.length) {
      this.fail(`Part of this page did not come alive: ${problems[0]}`);
    } else if (this.stale) {
      this.follow(this.context.session.kernel.status);
    } else {
      this.ready = true;
      this.tell('Ready');
    }
  }

  /** Have everything on the page worded in these units. */
  useUnits(system) {
    const code = `from jetlib.screen import use_units\nuse_units(${JSON.stringify(system)})`;
    const kernel = this.context.session && this.context.session.kernel;
    if (kernel) {
      kernel.requestExecute({code, silent: true, store_history: false});
    }
  }

  /** How much of what the page asks is done, {done, total}; null before it has run. */
  get progress() {
    const total = this.panel.node.querySelectorAll('.course-task').length;
    return total ? {done: this.panel.node.querySelectorAll('.course-task.course-done').length, total} : null;
  }

  /** Run one cell where it stands; what went wrong, in words, or nothing. */
  async runOne(cell) {
    const node = cell.node.querySelector('.jp-Cell-outputWrapper');
    node.style.minHeight = `${node.offsetHeight}px`; // the page does not jump while an output is replaced
    try {
      const reply = await this.CodeCell.execute(cell, this.context);
      const {status, ename, evalue, traceback = []} = reply ? reply.content : {status: 'ok'};
      this.restore(cell, node);
      const said = traceback.length === 1 ? traceback[0] : evalue; // one line: the kernel says its errors in words
      return status === 'ok' ? null : said || ename || 'it was interrupted.';
    } catch (error) {
      node.style.minHeight = '';
      throw error;
    }
  }

  /** Once the controls of a cell are drawn, put back what was typed in them. */
  async restore(cell, node) {
    const held = this.typed[cell.model.id];
    const wanted = held ? Object.keys(held).length : 0;
    for (let tries = 0; tries < 40; tries++) {
      await sleep(50);
      if (cell.isDisposed) {
        return; // the page was closed meanwhile
      }
      if (Object.keys(typedIn([cell])[cell.model.id] || {}).length >= wanted && tries > 3) {
        break;
      }
    }
    typeAgain(cell, held);
    node.style.minHeight = '';
  }
}
