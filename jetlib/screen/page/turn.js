// Questions to a console one after another: the next comes once the one before is answered, or all come when asked for.
// A reader without the extension has them all, and what should have been seen folded under the console.
const SEEN = 'What you should have seen';

/** Take up every list of questions on the page that has not been taken up yet. */
export function askInTurn(page) {
  for (const summary of page.querySelectorAll('.jp-RenderedMarkdown summary')) {
    const fold = summary.parentElement;
    if (summary.textContent.trim() === SEEN && !fold.classList.contains('course-answers')) {
      const answers = [...fold.querySelectorAll(':scope > ol > li')];
      const list = questionsOf(fold, answers.length);
      if (list && answers.length > 1) {
        begin(list, fold, answers);
      }
    }
  }
}

/** The list nearest above that has as many questions as there are answers; null without one. */
function questionsOf(fold, count) {
  const cells = [...fold.closest('.jp-Notebook').querySelectorAll('.jp-MarkdownCell')];
  const at = cells.indexOf(fold.closest('.jp-MarkdownCell'));
  const lists = cells.slice(Math.max(at - 1, 0), at + 1).flatMap(cell => [...cell.querySelectorAll('ol')]);
  const above = each => !fold.contains(each) && each.compareDocumentPosition(fold) & Node.DOCUMENT_POSITION_FOLLOWING;
  return lists.filter(each => above(each) && each.children.length === count).pop() || null;
}

function begin(list, fold, answers) {
  const key = `course-turn:${fold.closest('.jp-NotebookPanel').querySelector('h1')?.textContent}:${list.textContent.slice(0, 60)}`;
  const questions = [...list.children];
  let done = Number(sessionStorage.getItem(key)) || 0; // more than there are: all were asked for
  list.parentElement.querySelectorAll('.course-turn, .course-seen').forEach(each => each.remove());
  list.classList.add('course-asked');
  list.setAttribute('aria-live', 'polite');
  fold.classList.add('course-answers');
  const turn = document.createElement('div');
  turn.className = 'course-turn';
  const button = (words, go) => {
    const made = Object.assign(document.createElement('button'), {type: 'button', textContent: words});
    made.addEventListener('click', () => show(go()));
    turn.append(made);
    return made;
  };
  const next = button(SEEN, () => done + 1);
  button(`All ${questions.length} questions`, () => questions.length + 1);
  const hide = (each, away) => (away ? each.setAttribute('hidden', 'until-found') : each.removeAttribute('hidden'));
  const show = now => {
    done = now;
    sessionStorage.setItem(key, String(done));
    const all = done > questions.length;
    questions.forEach((question, at) => {
      hide(question, !all && at > done);
      if (!all && at < done && !question.querySelector('.course-seen')) {
        const seen = Object.assign(document.createElement('div'), {className: 'course-seen', innerHTML: answers[at].innerHTML});
        question.append(seen);
      }
    });
    hide(fold, !all);
    turn.hidden = done >= questions.length;
    next.setAttribute('aria-label', `${SEEN}: question ${done + 1} of ${questions.length}`);
  };
  [...questions, fold].forEach(each => each.addEventListener('beforematch', () => show(questions.length + 1)));
  list.after(turn);
  show(done);
}
