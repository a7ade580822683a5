// The bar above a page: where you are, where you can go, and the few things you can set. Plain HTML, no JupyterLab.
import {ask, base, choose, face, pathOf} from './server.js';

const SIZES = [0.9, 1, 1.15, 1.3, 1.5];
const UNITS = {US: 'US: gpm, psi, ft', metric: 'metric: L/min, bar, m'};
const elsewhere = new BroadcastChannel('course-units'); // the course's other windows
const html = document.documentElement;
export const made = (name, {words, press, ...attributes} = {}, ...children) => {
  const element = Object.assign(document.createElement(name), words === undefined ? {} : {textContent: words});
  Object.entries(attributes).forEach(([key, value]) => element.setAttribute(key, value));
  if (press) {
    element.addEventListener('click', press);
  }
  element.append(...children);
  return element;
};
const find = selector => document.querySelector(`#course-bar ${selector}`);

/** What the rest of the extension does for the bar: filled in by plugin.js when JupyterLab is there. */
export const deeds = {open: null, theme: null, code: null, workbench: null, copied: null, units: null};
export const state = {stem: null, code: false};

/** Draw the bar once, before everything else on the page. */
export function drawBar() {
  const entries = face.pages.map(page => made('li', {}, link(page, page.name)));
  const bar = made(
    'header',
    {id: 'course-bar', tabindex: '-1'},
    made('a', {class: 'course-skip', href: '#course-page', words: 'To the page'}),
    made(
      'nav',
      {'aria-label': 'Pages of the course'},
      made('a', {class: 'course-previous'}),
      made('details', {class: 'course-contents'}, made('summary', {words: 'Contents'}), made('ol', {}, ...entries)),
      made('a', {class: 'course-next'})
    ),
    made('button', {class: 'course-back', type: 'button', words: 'Back to the course', press: () => deeds.workbench?.(false)}),
    made('div', {class: 'course-progress', role: 'img', 'aria-label': 'Nothing done on this page yet'}),
    settings(),
    made('div', {class: 'course-line'}, made('span', {role: 'status', 'aria-live': 'polite'}))
  );
  document.body.prepend(bar);
  document.addEventListener('click', event => {
    document.querySelectorAll('#course-bar details[open]').forEach(box => box.contains(event.target) || (box.open = false));
  });
  bar.addEventListener('keydown', event => {
    const box = event.target.closest('details[open]');
    if (event.key === 'Escape' && box) {
      box.open = false;
      box.querySelector('summary').focus();
    }
  });
  new ResizeObserver(() => html.style.setProperty('--course-bar', `${bar.offsetHeight}px`)).observe(bar);
  setText(face.choices.text || 1);
  showUnits();
  elsewhere.addEventListener('message', event => followUnits(event.data));
  if (!face.choices.units) {
    askUnits(bar);
  }
}

/** Units once for the whole course: kept, then told to every page that is open. */
async function chooseUnits(system) {
  await choose({units: system});
  elsewhere.postMessage(system);
  followUnits(system);
}

function followUnits(system) {
  face.choices.units = system;
  document.querySelector('#course-ask')?.remove();
  showUnits();
  deeds.units?.(system);
}

function showUnits() {
  html.dataset.courseUnits = face.choices.units || '';
  document.querySelectorAll('#course-bar [data-units]').forEach(each => {
    each.setAttribute('aria-pressed', String(each.dataset.units === (face.choices.units || 'US')));
  });
}

/** Asked once, at the first start. */
function askUnits(bar) {
  const answers = Object.entries(UNITS).map(([system, words]) =>
    made('button', {type: 'button', words, press: () => chooseUnits(system)})
  );
  const asked = made('span', {words: 'Which units do you work in? You can change this later, in the bar.'});
  bar.after(made('section', {id: 'course-ask', 'aria-label': 'Units'}, asked, ...answers));
}

function settings() {
  const sizes = [['A−', 'Smaller text', -1], ['A+', 'Larger text', 1]].map(([words, label, step]) =>
    made('button', {type: 'button', 'aria-label': label, title: label, words, press: () => resize(step)})
  );
  const more = [
    made('button', {type: 'button', 'data-code': '', 'aria-pressed': 'false', words: 'Show the code', press: toggleCode}),
    made('button', {type: 'button', words: 'My notes', press: () => openNotes()}),
    made('button', {type: 'button', words: 'Print', press: () => window.print()}),
    made('button', {type: 'button', words: 'My own copy', press: () => copy()}),
    made('button', {type: 'button', words: 'Workbench', press: () => deeds.workbench && deeds.workbench(true)})
  ];
  const units = Object.entries(UNITS).map(([system, title]) =>
    made('button', {type: 'button', 'data-units': system, title, words: system, press: () => chooseUnits(system)})
  );
  return made(
    'div',
    {class: 'course-settings'},
    made('div', {class: 'course-units', role: 'group', 'aria-label': 'Units'}, ...units),
    made(
      'details',
      {class: 'course-more'},
      made('summary', {words: 'View'}),
      made(
        'div',
        {},
        made('span', {role: 'group', 'aria-label': 'Size of text'}, ...sizes),
        made('button', {type: 'button', words: 'Light or dark', press: () => deeds.theme && deeds.theme()}),
        ...more
      )
    )
  );
}

function link(page, words) {
  const href = `${base}lab/tree/${pathOf(page.stem)}`;
  return made('a', {
    href,
    words,
    'data-stem': page.stem,
    press: event => {
      if (deeds.open && !event.ctrlKey && !event.metaKey && !event.shiftKey) {
        event.preventDefault();
        event.target.closest('details')?.removeAttribute('open');
        deeds.open(page.stem);
      }
    }
  });
}

/** Show the page as a page, with its neighbours in the bar. */
export function showPage(stem) {
  html.classList.add('course-reading');
  html.classList.remove('course-workbench');
  if (state.stem === stem) {
    return;
  }
  state.stem = stem;
  showCode();
  const lessons = face.pages.filter(page => /^\d/.test(page.stem));
  const at = lessons.findIndex(page => page.stem === stem);
  step('previous', at > 0 ? lessons[at - 1] : at < 0 ? lessons[0] : null);
  step('next', at >= 0 ? lessons[at + 1] : null);
  document.querySelectorAll('#course-bar [data-stem]').forEach(each => {
    each.toggleAttribute('aria-current', each.dataset.stem === stem && !!each.closest('ol'));
  });
  showProgress(null);
}

function step(name, page) {
  const old = find(`.course-${name}`);
  const fresh = page ? link(page, page.name) : made('span');
  fresh.className = `course-${name}`;
  fresh.ariaLabel = page && `${name === 'next' ? 'Next' : 'Previous'}: ${page.name}`;
  old.replaceWith(fresh);
}

/** JupyterLab as it is, with a way back. */
export function showWorkbench() {
  html.classList.remove('course-reading');
  html.classList.add('course-workbench');
}

/** One thin line of words in the bar, with at most one button. "Ready" goes away by itself. */
export function tell(words, button = null) {
  const line = find('.course-line');
  if (!line) {
    return;
  }
  line.querySelector('span').textContent = words;
  line.querySelector('button')?.remove();
  line.classList.toggle('course-trouble', !!button);
  line.classList.toggle('course-settled', words === 'Ready' || !words);
  if (button) {
    line.append(made('button', {type: 'button', words: button.words, press: button.press}));
  }
}

/** How far this page is: {done, total}, or null when that is not known yet. */
export function showProgress(progress) {
  const meter = find('.course-progress');
  const {done = 0, total = 0} = progress || {};
  if (meter.dataset.shown === `${done}/${total}`) {
    return;
  }
  meter.dataset.shown = `${done}/${total}`;
  meter.hidden = !total;
  meter.style.setProperty('--done', total ? done / total : 0);
  meter.textContent = total ? `${done} of ${total}` : '';
  meter.setAttribute('aria-label', `${done} of ${total} tasks on this page done`);
}

function resize(step) {
  const at = SIZES.indexOf(face.choices.text || 1) + step;
  if (SIZES[at]) {
    setText(SIZES[at]);
    choose({text: SIZES[at]});
  }
}

function setText(size) {
  html.style.setProperty('--course-text', size);
}

function toggleCode(event) {
  state.code = !state.code;
  event.target.setAttribute('aria-pressed', String(state.code));
  showCode();
  deeds.code?.(state.code);
}

/** The code is in sight where it is asked for, and on the page where it is what is read. */
function showCode() {
  html.classList.toggle('course-code', state.code || state.stem === 'your_own_sums');
}

async function openNotes() {
  document.querySelector('#course-notes')?.remove();
  const stem = state.stem;
  const field = made('textarea', {rows: 8, 'aria-label': 'My notes on this page'});
  const said = made('span', {role: 'status'});
  let timer;
  const keep = async () => {
    try {
      await ask(`jetlib/notes/${stem}`, 'PUT', {text: field.value});
      said.textContent = 'Kept with your progress.';
    } catch (error) {
      said.textContent = `Not kept: ${error.message}`;
    }
  };
  field.addEventListener('input', () => {
    said.textContent = '';
    clearTimeout(timer);
    timer = setTimeout(keep, 500);
  });
  const close = made('button', {type: 'button', words: 'Close', press: () => box.remove()});
  const box = made('section', {id: 'course-notes', 'aria-label': 'My notes'}, field, said, close);
  find('.course-line').before(box);
  try {
    field.value = (await ask(`jetlib/notes/${stem}`)).text;
  } catch (error) {
    said.textContent = `Your notes cannot be read: ${error.message}`;
    field.disabled = true;
  }
  field.focus();
}

async function copy() {
  try {
    const {path} = await ask(`jetlib/copy/${state.stem}`, 'POST');
    deeds.copied?.(path);
  } catch (error) {
    tell(`No copy was made: ${error.message}`, {words: 'Try again', press: copy});
  }
}
