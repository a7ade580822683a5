// Ties the page to JupyterLab: which notebook is in front, what its keys do, when the server is gone.
import {ask, base, choose, face, pathOf, stemOf} from './server.js';
import {deeds, showPage, showProgress, showWorkbench, state, tell} from './bar.js';
import {fold, unfold} from './fold.js';
import {LivePage} from './run.js';
import {watchSketches} from './sketch.js';
import {askInTurn} from './turn.js';

const html = document.documentElement;
const reading = () => html.classList.contains('course-reading');

export async function plugins(take) {
  if (!face.pages.length) {
    return []; // the server's half is not there: JupyterLab as it is
  }
  const [{IConnectionLost}, {INotebookTracker}, {CodeCell}, {IThemeManager}] = await Promise.all(
    ['application', 'notebook', 'cells', 'apputils'].map(name => take(`@jupyterlab/${name}`))
  );
  return [
    {
      id: 'jetlib-page:page',
      autoStart: true,
      requires: [INotebookTracker],
      optional: [IThemeManager],
      activate: (app, tracker, themes) => activate(app, tracker, themes, CodeCell)
    },
    {id: 'jetlib-page:lost', autoStart: true, provides: IConnectionLost, activate: () => lost}
  ];
}

function activate(app, tracker, themes, CodeCell) {
  const live = new Map(); // NotebookPanel -> LivePage
  watchSketches();
  let workbench = sessionStorage.getItem('course-workbench') === 'yes';
  let shown = null;

  /** Show what is in front the way it should be: a page of the course as a page, everything else on the workbench. */
  const settle = () => {
    const panel = app.shell.currentWidget;
    const stem = panel && panel.context ? stemOf(panel.context.path) : null;
    if (!stem || workbench) {
      showWorkbench();
      window.dispatchEvent(new Event('resize'));
      const own = panel && panel.context ? `${base}lab/tree/${panel.context.path.split('/').map(encodeURIComponent).join('/')}` : '';
      if (own && !stem && location.pathname !== own) {
        pushState.call(history, null, '', own); // what JupyterLab said of it was said while a page was still read
      }
    } else {
      leave();
      showPage(stem);
      arrive(panel, stem);
      address(stem);
    }
  };
  /** The address says which page is in front; JupyterLab's own may still speak of its list of files. */
  const address = stem => {
    const wanted = `${base}lab/tree/${pathOf(stem)}`;
    if (location.pathname !== wanted) {
      const onward = stemOf(location.pathname) && stemOf(location.pathname) !== stem;
      (onward ? pushState : history.replaceState).call(history, null, '', wanted);
    }
    document.title = face.pages.find(page => page.stem === stem).name;
  };
  // Back and forward go from page to page: JupyterLab's own entries would stand between them.
  const pushState = history.pushState;
  history.pushState = (...entry) => reading() || pushState.apply(history, entry);
  const leave = () => shown && sessionStorage.setItem(`course-scroll:${shown}`, String(window.scrollY));
  const arrive = (panel, stem) => {
    if (shown !== stem) {
      shown = stem;
      document.querySelector('#course-page')?.removeAttribute('id');
      panel.node.id = 'course-page';
      if (!location.hash) {
        stay(Number(sessionStorage.getItem(`course-scroll:${stem}`)) || 0, () => live.get(panel));
      }
    }
    const page = live.get(panel);
    if (page && page.told) {
      tell(...page.told);
    }
  };

  const added = (_, panel) => {
    const stem = stemOf(panel.context.path);
    if (!stem) {
      return;
    }
    live.set(panel, new LivePage(panel, stem, CodeCell, () => app.shell.currentWidget === panel));
    live.get(panel).tidy = quiet(panel);
    panel.context.ready.then(() => fold(panel));
    panel.disposed.connect(() => live.delete(panel));
  };
  tracker.widgetAdded.connect(added);
  tracker.forEach(panel => added(null, panel));
  app.shell.currentChanged.connect(settle);
  app.restored.then(settle);
  window.addEventListener('popstate', () => {
    const stem = stemOf(location.pathname);
    if (reading() && stem && stem !== shown) {
      deeds.open(stem);
    }
  });
  setInterval(() => {
    if (reading() && shown) {
      address(shown);
      const page = live.get(app.shell.currentWidget);
      page?.tidy();
      page && askInTurn(page.panel.node);
      showProgress(page?.progress);
      if (document.activeElement?.matches('.jp-Notebook, .jp-Cell')) {
        document.querySelector('#course-bar').focus({preventScroll: true});
      }
    }
  }, 500);
  window.addEventListener('pagehide', () => {
    leave();
    live.forEach(page => page.remember());
  });

  // Keys and the right button belong to the reader while a page is read, not to JupyterLab.
  for (const name of ['evtKeydown', 'evtKeyup', 'evtContextMenu']) {
    const usual = app[name];
    app[name] = event => reading() || usual.call(app, event);
  }

  deeds.open = async (stem, hash = '') => {
    await app.commands.execute('docmanager:open', {path: pathOf(stem)});
    if (hash) {
      land(hash, () => live.get(app.shell.currentWidget));
    }
  };
  if (location.hash) {
    land(location.hash, () => live.get(app.shell.currentWidget));
  }
  // A link to another page opens it here, wherever on the page it stands.
  const followed = event => {
    const link = reading() && event.target.closest('#course-page a[href]');
    const stem = link && link.origin === location.origin && stemOf(link.pathname);
    if (stem && stem !== shown && !(event.ctrlKey || event.metaKey || event.shiftKey || event.button)) {
      event.preventDefault();
      event.stopPropagation();
      link.blur(); // JupyterLab takes what has the focus for what is in front
      setTimeout(() => deeds.open(stem, link.hash));
    }
  };
  document.addEventListener('click', followed, true);
  deeds.theme = () => {
    const theme = document.body.dataset.jpThemeLight === 'true' ? 'dark' : 'light';
    themes.setTheme(`JupyterLab ${theme === 'dark' ? 'Dark' : 'Light'}`);
    choose({theme});
  };
  deeds.units = system => live.forEach(page => page.useUnits(system));
  deeds.code = () => live.forEach((_, panel) => showCode(panel));
  deeds.copied = path => {
    app.commands.execute('docmanager:open', {path});
  };
  deeds.workbench = wanted => {
    workbench = wanted;
    sessionStorage.setItem('course-workbench', wanted ? 'yes' : 'no');
    if (!wanted && !(app.shell.currentWidget && stemOf(app.shell.currentWidget.context?.path))) {
      deeds.open(state.stem || face.pages[0].stem);
    }
    settle();
  };
  if (themes && face.choices.theme) {
    themes.setTheme(`JupyterLab ${face.choices.theme === 'dark' ? 'Dark' : 'Light'}`);
  }
}

/** Hold the page where it was left, until it is ready or the reader moves it. */
function stay(where, page) {
  let moved = false;
  const move = () => (moved = true);
  const kinds = ['wheel', 'touchmove', 'keydown', 'pointerdown'];
  kinds.forEach(kind => window.addEventListener(kind, move, {once: true, passive: true}));
  const timer = setInterval(() => {
    if (moved || (page() && !page().isShown())) {
      clearInterval(timer);
      return;
    }
    window.scrollTo(0, where);
    if (page() && page().ready) {
      clearInterval(timer);
    }
  }, 100);
}

/** Go to a place on the page, and again once all of the page has its height, unless the reader has moved by then. */
function land(hash, page) {
  const name = CSS.escape(decodeURIComponent(hash.slice(1)));
  let tries = 0;
  let moved = false;
  ['wheel', 'touchmove', 'keydown', 'pointerdown'].forEach(kind =>
    window.addEventListener(kind, () => (moved = true), {once: true, passive: true})
  );
  const timer = setInterval(() => {
    const ready = page() && page().ready;
    const place = document.querySelector(`#course-page [id="${name}"], #course-page [data-jupyter-id="${name}"]`);
    if (!moved && place) {
      unfold(place);
      place.scrollIntoView();
    }
    if (moved || (ready && place) || tries++ > 600) {
      clearInterval(timer);
    }
  }, 100);
}

/** A notebook that reading cannot change: no editing by mouse, no dragging, nothing to save. */
function quiet(panel) {
  const notebook = panel.content;
  const usual = notebook.handleEvent;
  const own = /^(contextmenu|mouse|key|dblclick|focus|lm-drag|lm-drop)/;
  notebook.handleEvent = event => (reading() && own.test(event.type)) || usual.call(notebook, event);
  // A cell is no place for the keyboard: the first stop is the bar, then what can be worked on the page. JupyterLab
  // counts as in front what had the focus last, so the notebook has it for a moment.
  const focus = notebook._ensureFocus;
  notebook._ensureFocus = (...how) => {
    if (!reading()) {
      focus.apply(notebook, how);
    } else if (document.activeElement === notebook.node || !panel.node.contains(document.activeElement)) {
      notebook.node.focus({preventScroll: true});
      document.querySelector('#course-bar').focus({preventScroll: true});
    }
  };
  // A page that scrolls under the pointer loses the press that it was given.
  for (const node of [panel.node, notebook.node, ...notebook.node.querySelectorAll('div')]) {
    node.focus = how => HTMLElement.prototype.focus.call(node, reading() ? {preventScroll: true} : how);
  }
  /** A page to read, not a list of cells: JupyterLab says otherwise again and again. */
  const tidy = () => {
    if (reading()) {
      notebook.node.tabIndex = -1;
      notebook.node.querySelector('[role=feed]')?.removeAttribute('role');
      notebook.widgets.forEach(cell => ['tabindex', 'aria-label'].forEach(name => cell.node.removeAttribute(name)));
    }
  };
  notebook.activeCellChanged.connect(tidy);
  panel.context.ready.then(() => {
    tidy();
    const model = panel.context.model;
    model.stateChanged.connect((_, change) => {
      if (change.name === 'dirty' && change.newValue) {
        model.dirty = false;
      }
    });
    model.dirty = false;
    notebook.widgets.forEach(cell => (cell.readOnly = true));
  });
  return tidy;
}

function showCode(panel) {
  panel.content.widgets.forEach(cell => {
    if (cell.model.type === 'code') {
      cell.inputHidden = !state.code;
    }
  });
}

/** The server does not answer: say so, ask until it does, and go on. */
async function lost() {
  if (lost.waiting) {
    return;
  }
  lost.waiting = true;
  tell('The course’s window was closed. Start the course again as you did before; this page then goes on by itself.', {
    words: 'Try again',
    press: () => location.reload()
  });
  for (;;) {
    await new Promise(done => setTimeout(done, 2000));
    try {
      await ask('api/status');
      break;
    } catch (error) {
      if (!(error instanceof TypeError)) {
        return; // it answers, and wants a log-in: only the new address helps
      }
    }
  }
  location.reload();
}
