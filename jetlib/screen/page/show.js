// One thing at a time for a room: a box of the page shown over the whole window, the keys of a presenter's remote,
// clocks that run down, and the trainer's notes in a window of their own. The page's Python says what is in the boxes.
const SMALLEST = 25; // type is at least this part of the window's height
const SIZES = [8, 7, 6, 5.5, 5, 4.5, 4.1]; // of words, in hundredths of the window's height: the largest that fits
const shown = () => document.querySelector('.jl-show:popover-open');
const press = (box, name) => [...box.querySelectorAll(`button.${name}`)].find(each => each.offsetParent && !each.disabled)?.click();
let notes = null;
let resized = null;

export function begin() {
  document.documentElement.classList.add('course-shows');
  document.addEventListener('click', clicked, true);
  window.addEventListener('keydown', keyed, true);
  window.addEventListener('resize', fit);
  resized = new ResizeObserver(fit);
  new MutationObserver(changes => {
    const box = shown();
    if (box && changes.some(change => box.querySelector('.jl-main')?.contains(change.target))) {
      fit();
    }
  }).observe(document.body, {childList: true, subtree: true});
  setInterval(tick, 500);
  window.addEventListener('pagehide', () => notes?.close());
}

function clicked(event) {
  const button = event.target.closest?.('.jl-show-open, .jl-show-close, .jl-notes-open');
  if (button?.classList.contains('jl-show-open')) {
    open(button.closest('.jl-room').querySelector('.jl-show'));
  } else if (button?.classList.contains('jl-show-close')) {
    close();
  } else if (button) {
    openNotes();
  }
}

function open(box) {
  box.setAttribute('popover', 'manual');
  box.showPopover();
  box.tabIndex = -1;
  box.focus();
  document.body.style.overflow = 'hidden';
  resized.disconnect();
  resized.observe(box.querySelector('.jl-main'));
  fit();
}

function close() {
  const box = shown();
  box?.classList.remove('jl-blank');
  box?.hidePopover();
  document.body.style.overflow = '';
}

/** A remote sends Page down, Page up, a full stop or b, and F5; hands are counted by figures. */
function keyed(event) {
  const box = shown();
  if (!box || event.ctrlKey || event.altKey || event.metaKey) {
    return;
  }
  const typing = event.target.matches('input, select, textarea, [role=slider]');
  const counter = box.querySelector('.jl-count input:not([disabled])');
  const turn = {PageDown: 'jl-next', PageUp: 'jl-back', ...(typing ? {} : {ArrowRight: 'jl-next', ArrowLeft: 'jl-back'})};
  if (turn[event.key]) {
    press(box, turn[event.key]);
  } else if (event.key === 'Escape') {
    close();
  } else if (event.key === 'F5') {
    box.classList.remove('jl-blank');
  } else if (!typing && (event.key === 'b' || event.key === '.')) {
    box.classList.toggle('jl-blank');
  } else if (!typing && counter?.offsetParent && /^[0-9]$|^Backspace$/.test(event.key)) {
    counter.focus({preventScroll: true}); // the key itself then lands in the field
    return;
  } else {
    return;
  }
  event.preventDefault();
  event.stopPropagation();
}

/** Words and pictures as large as the window lets them be, their words large enough for the last row, none over another. */
function fit() {
  cancelAnimationFrame(fit.asked);
  fit.asked = requestAnimationFrame(() => {
    const main = shown()?.querySelector('.jl-main');
    const pictures = [...(main?.querySelectorAll('svg') ?? [])];
    pictures.forEach(enlarge);
    for (const size of main && !pictures.length ? SIZES : []) {
      main.style.setProperty('--jl-type', `${size}vh`);
      if (main.scrollHeight <= main.clientHeight) {
        break;
      }
    }
  });
}

function enlarge(svg) {
  const tables = [...svg.querySelectorAll('.jl-cells')];
  if (tables.length && !svg.dataset.cut) { // a table's many small words are read out beside the picture
    tables.forEach(each => (each.style.display = 'none'));
    const rest = svg.getBBox();
    const view = svg.viewBox.baseVal;
    if (rest.height > 0.3 * view.height) {
      svg.setAttribute('viewBox', `${view.x} ${view.y} ${view.width} ${rest.y + rest.height + 8 - view.y}`);
    } else {
      tables.forEach(each => (each.style.display = ''));
    }
    svg.dataset.cut = 'yes';
  }
  const view = svg.viewBox.baseVal;
  const room = svg.closest('.jl-main').getBoundingClientRect();
  if (!view?.width || !room.width) {
    return;
  }
  const others = [...svg.closest('.jl-main').querySelectorAll('.jl-beside')].reduce((sum, each) => sum + each.offsetHeight, 20);
  const scale = Math.min(room.width / view.width, (room.height - others) / view.height);
  Object.assign(svg.style, {
    width: `${view.width * scale}px`, height: `${view.height * scale}px`, minWidth: 0, maxWidth: 'none', maxHeight: 'none',
    display: 'block', margin: '0 auto'
  });
  const least = window.innerHeight / SMALLEST / scale;
  const words = [...svg.querySelectorAll('text')];
  words.forEach((each, at) => {
    each.dataset.size ??= parseFloat(getComputedStyle(each).fontSize);
    each.dataset.at = at;
    each.style.fontSize = `${Math.max(each.dataset.size, least)}px`;
    each.style.visibility = '';
    each.style.translate = '';
  });
  const kept = [];
  const heavy = each => Number(each.dataset.size) + (getComputedStyle(each).fontWeight >= 600 ? 100 : 0);
  words.sort((one, other) => heavy(other) - heavy(one) || one.dataset.at - other.dataset.at);
  const frame = svg.getBoundingClientRect();
  for (const each of words) {
    let box = each.getBoundingClientRect();
    const over = box.right > frame.right ? frame.right - box.right : box.left < frame.left ? frame.left - box.left : 0;
    if (over) {
      each.style.translate = `${over / scale}px 0`;
      box = each.getBoundingClientRect();
    }
    const meets = kept.some(
      other => box.left < other.right + 6 && other.left < box.right + 6 && box.top < other.bottom - 2 && other.top < box.bottom - 2
    );
    if (meets || box.width > frame.width + 1) {
      each.style.visibility = 'hidden';
    } else {
      kept.push(box);
    }
  }
}

/** Clocks, and what to leave out when the lesson runs late. */
function tick() {
  const now = Date.now() / 1000;
  document.querySelectorAll('.jl-clock[data-ends]').forEach(clock => {
    const left = Math.round(Number(clock.dataset.ends) - now);
    const [minutes, seconds] = [Math.floor(Math.abs(left) / 60), Math.abs(left) % 60];
    say(clock, `${left < 0 ? 'over by ' : ''}${minutes}:${String(seconds).padStart(2, '0')}`);
  });
  document.querySelectorAll('.jl-late[data-due]').forEach(place => {
    const late = (now - Number(place.dataset.due)) / 60;
    const all = JSON.parse(place.dataset.words);
    const at = Object.keys(all).map(Number).filter(minutes => minutes <= late).pop();
    say(place, at === undefined ? '' : all[at]);
  });
  mirror();
}

function say(place, words) {
  if (place.textContent !== words) {
    place.textContent = words;
  }
}

function openNotes() {
  notes = window.open('', 'course-notes', 'popup,width=900,height=760');
  if (!notes) {
    return;
  }
  notes.document.title = 'Trainer’s notes';
  notes.document.body.innerHTML =
    '<main style="font:18px/1.45 system-ui,sans-serif;max-width:46em;margin:1em auto;padding:0 1em"></main>' +
    '<nav style="position:sticky;bottom:0;background:Canvas;padding:10px;display:flex;gap:12px"></nav>';
  notes.document.documentElement.style.colorScheme = 'light';
  const bar = notes.document.querySelector('nav');
  for (const [words, act] of [
    ['◀ Back', () => press(shown() ?? document, 'jl-back')],
    ['Next ▶', () => press(shown() ?? document, 'jl-next')],
    ['Black screen', () => shown()?.classList.toggle('jl-blank')]
  ]) {
    const button = notes.document.createElement('button');
    Object.assign(button, {textContent: words, onclick: act});
    button.style.cssText = 'font:inherit;padding:8px 18px';
    bar.append(button);
  }
  notes.addEventListener('keydown', event => {
    const turn = {PageDown: 'jl-next', ArrowRight: 'jl-next', PageUp: 'jl-back', ArrowLeft: 'jl-back'}[event.key];
    if (turn) {
      press(shown() ?? document, turn);
    }
  });
  mirror();
}

/** The notes are on the page too, never shown there; what they say is copied into their own window. */
function mirror() {
  const page = notes && !notes.closed && notes.document.querySelector('main');
  const source = document.querySelector('.jl-trainer-notes .widget-html-content');
  if (page && source && page.innerHTML !== source.innerHTML) {
    page.innerHTML = source.innerHTML;
  }
}
