// The course's server, asked over HTTP: pages and choices, notes, own copies, sessions.
const config = JSON.parse(document.getElementById('jupyter-config-data').textContent);

export const base = config.baseUrl;

/** The answer of the server as an object; an Error with its words when it refuses, a TypeError when it is not there. */
export async function ask(path, method = 'GET', body = undefined) {
  const headers = {'Content-Type': 'application/json'};
  if (config.token) {
    headers.Authorization = `token ${config.token}`;
  }
  const xsrf = document.cookie.match('\\b_xsrf=([^;]*)\\b');
  if (xsrf) {
    headers['X-XSRFToken'] = xsrf[1];
  }
  const answer = await fetch(base + path, {method, headers, body: body && JSON.stringify(body), cache: 'no-store'});
  const said = await answer.text();
  if (!answer.ok) {
    let words = said;
    try {
      words = JSON.parse(said).message;
    } catch {
      // not every refusal is JSON
    }
    throw new Error(words || answer.statusText);
  }
  return said ? JSON.parse(said) : {};
}

/** Stem of the page of the course at a path such as "lessons/02_jets.ipynb", or of an address; null for others. */
export function stemOf(path) {
  const found = /(?:^|\/)lessons\/(\w+)\.ipynb(?:$|[?#])/.exec(path || '');
  return found && face.pages.some(page => page.stem === found[1]) ? found[1] : null;
}

export const pathOf = stem => `lessons/${stem}.ipynb`;

/** What the server knows of the course: its pages in order, and the reader's choices. */
export const face = {pages: [], choices: {}};

export async function readFace() {
  Object.assign(face, await ask('jetlib/face'));
}

/** Keep a choice, such as choose({units: 'metric'}); the page goes on when it cannot be kept. */
export async function choose(change) {
  Object.assign(face.choices, change);
  await ask('jetlib/face', 'PUT', change).catch(error => console.warn('choice not kept:', error));
}
