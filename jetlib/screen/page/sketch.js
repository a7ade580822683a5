// A curve drawn on its graph by pointer, finger or keys. What is drawn is typed into the entries under the graph, so
// that the page's kernel hears of it as of anything typed.
const SVG = 'http://www.w3.org/2000/svg';
const KEYS = {ArrowUp: 1, ArrowDown: -1, PageUp: 5, PageDown: -5, Home: -1e9, End: 1e9};
const STEPS = 40; // from the foot of the axis to its top, by keys
let held = null; // {card, at}: the point that has the keys

/** Make every graph on the page one to draw on, also those that come later. */
export function watchSketches() {
  const look = () => document.querySelectorAll('.course-sketch[data-sketch]:not(.course-live)').forEach(begin);
  new MutationObserver(look).observe(document.body, {childList: true, subtree: true});
  look();
}

function begin(holder) {
  holder.classList.add('course-live');
  const card = holder.closest('.course-predict');
  const graph = JSON.parse(holder.dataset.sketch);
  const values = graph.points.map(point => point[2]);
  const over = holder.querySelector('svg').cloneNode(false);
  over.setAttribute('role', 'group');
  over.setAttribute('aria-label', 'Draw here: drag, or use the arrow keys on each point');
  over.classList.add('course-over');
  const make = (name, traits, parent = over) => {
    const made = document.createElementNS(SVG, name);
    Object.entries(traits).forEach(trait => made.setAttribute(...trait));
    return parent.appendChild(made);
  };
  const {left, top, width, height, axis, most, unit} = graph;
  make('rect', {x: left - 20, y: top - 10, width: width + 40, height: height + 20, fill: 'transparent'});
  const line = make('polyline', {fill: 'none', stroke: 'currentColor', 'stroke-width': 2, 'stroke-dasharray': '4 4'});
  const handles = graph.points.map(([x, name], at) => {
    const handle = make('g', {role: 'slider', tabindex: 0, 'aria-label': name, 'aria-orientation': 'vertical'});
    handle.classList.add('course-handle');
    make('circle', {cx: x, r: 22, fill: 'transparent'}, handle);
    make('circle', {cx: x, r: 8, 'stroke-width': 3}, handle);
    handle.addEventListener('focus', () => (held = {card, at}));
    return handle;
  });
  const down = value => top + height * (1 - (value ?? 0) / axis);
  const show = () => {
    handles.forEach((handle, at) => {
      handle.querySelectorAll('circle').forEach(circle => circle.setAttribute('cy', down(values[at])));
      handle.classList.toggle('course-unset', values[at] === null);
      handle.setAttribute('aria-valuemin', 0);
      handle.setAttribute('aria-valuemax', most);
      handle.setAttribute('aria-valuenow', values[at] ?? 0);
      handle.setAttribute('aria-valuetext', values[at] === null ? 'not drawn yet' : `${values[at]} ${unit}`);
    });
    const drawn = graph.points.map(([x], at) => [x, values[at]]).filter(point => point[1] !== null);
    line.setAttribute('points', drawn.map(([x, value]) => `${x},${down(value)}`).join(' '));
  };
  const set = (at, value) => {
    values[at] = Number(Math.min(Math.max(value, 0), most).toPrecision(3));
    values[at] = Math.min(values[at], most);
    show();
  };
  const type = changed => {
    const entries = card.querySelectorAll('.course-typed input[type=text]');
    for (const at of changed) {
      entries[at].value = `${values[at]} ${unit}`;
      ['input', 'change'].forEach(kind => entries[at].dispatchEvent(new Event(kind, {bubbles: true})));
    }
  };

  let last = null; // [x, value] where the hand was
  const touched = new Set();
  const hand = event => {
    const place = new DOMPoint(event.clientX, event.clientY).matrixTransform(over.getScreenCTM().inverse());
    return [place.x, axis * (1 - (place.y - top) / height)];
  };
  const draw = event => {
    const [x, value] = hand(event);
    const from = last ?? [x, value];
    const near = Math.min(...graph.points.map(point => Math.abs(point[0] - x)));
    graph.points.forEach(([px], at) => {
      const passed = px >= Math.min(from[0], x) && px <= Math.max(from[0], x);
      if (passed || (!last && Math.abs(px - x) === near)) {
        const share = from[0] === x ? 1 : (px - from[0]) / (x - from[0]);
        set(at, passed ? from[1] + share * (value - from[1]) : value);
        touched.add(at);
      } else if (last && touched.has(at) && Math.abs(px - x) < 12) {
        set(at, value); // a point under the hand goes with it
      }
    });
    last = [x, value];
  };
  over.addEventListener('pointerdown', event => {
    over.setPointerCapture(event.pointerId);
    draw(event);
    const [at] = touched;
    handles[at]?.focus({preventScroll: true});
    event.preventDefault();
  });
  over.addEventListener('pointermove', event => last && draw(event));
  const lift = () => {
    type(touched);
    touched.clear();
    last = null;
  };
  over.addEventListener('pointerup', lift);
  over.addEventListener('pointercancel', lift);
  over.addEventListener('keydown', event => {
    const at = handles.indexOf(event.target);
    if (at >= 0 && event.key in KEYS) {
      set(at, (values[at] ?? 0) + (KEYS[event.key] * axis) / STEPS);
      type([at]);
      event.preventDefault();
    } else if (at >= 0 && ['ArrowLeft', 'ArrowRight'].includes(event.key)) {
      handles[at + (event.key === 'ArrowRight' ? 1 : -1)]?.focus({preventScroll: true});
      event.preventDefault();
    }
  });
  show();
  holder.append(over);
  if (held && held.card === card && [null, document.body].includes(document.activeElement)) {
    handles[held.at].focus({preventScroll: true}); // the graph was drawn anew under the keys
  }
}
