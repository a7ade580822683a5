// What goes deeper than a lesson's core is folded until it is asked for. The browser's search finds what is folded, too.
const HEADING = /^## Go deeper\b/m;
const words = cell => (cell.model.type === 'markdown' ? cell.model.sharedModel.getSource() : '');

/** Fold what stands under the page's heading "Go deeper", and put a button in its place that opens it. */
export function fold(panel) {
  const cells = panel.content.widgets;
  const from = cells.findIndex(cell => HEADING.test(words(cell)));
  if (from < 0) {
    return;
  }
  const after = cells.findIndex((cell, at) => at > from && /^## /m.test(words(cell)));
  const deeper = cells.slice(from, after < 0 ? undefined : after);
  const button = document.createElement('button');
  button.type = 'button';
  button.className = 'course-deeper';
  button.innerHTML = 'Go deeper <small>More on this, for today or another day</small>';
  const key = `course-deeper:${panel.context.path}`;
  const show = open => {
    button.setAttribute('aria-expanded', String(open));
    deeper.forEach(cell => {
      cell.node.classList.toggle('course-folded', !open);
      open ? cell.node.removeAttribute('hidden') : cell.node.setAttribute('hidden', 'until-found');
    });
    sessionStorage.setItem(key, open ? 'open' : 'folded');
  };
  button.addEventListener('click', () => show(button.getAttribute('aria-expanded') !== 'true'));
  deeper.forEach(cell => cell.node.addEventListener('beforematch', () => show(true)));
  deeper[0].node.before(button);
  show(sessionStorage.getItem(key) === 'open');
}

/** Open what this place on the page is folded in, if it is. */
export function unfold(place) {
  if (place.closest('.course-folded')) {
    place.closest('.jp-NotebookPanel').querySelector('.course-deeper').click();
  }
}
