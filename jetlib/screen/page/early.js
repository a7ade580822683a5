// What can be done before JupyterLab is there: the bar is drawn, the page's kernel is started.
import {ask, face, pathOf, readFace, stemOf} from './server.js';
import {drawBar, showPage, tell} from './bar.js';
import {begin as beginShow} from './show.js';
import {watchVotes} from './vote.js';

export async function begin() {
  try {
    await readFace();
  } catch (error) {
    console.warn('The course’s own server half is not there; this is plain JupyterLab.', error);
    return;
  }
  drawBar();
  beginShow();
  watchVotes();
  const stem = stemOf(location.pathname);
  if (!stem) {
    return;
  }
  showPage(stem);
  tell('Getting ready …');
  const notebook = {path: pathOf(stem), name: `${stem}.ipynb`, type: 'notebook', kernel: {name: 'python3'}};
  // JupyterLab waits for this, or it would start another. Should it fail, JupyterLab starts one itself.
  await startKernel(notebook).catch(() => undefined);
}

/** A kernel for the page. One that is left from before is full of controls that nobody sees, so it goes first. */
async function startKernel(notebook) {
  const sessions = await ask('api/sessions');
  const left = sessions.find(session => session.path === notebook.path);
  if (left && left.kernel && left.kernel.connections === 0) {
    await ask(`api/sessions/${left.id}`, 'DELETE');
  }
  await ask('api/sessions', 'POST', notebook);
}
