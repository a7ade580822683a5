// A vote in a room: while the trainer's question is up, this seat answers it above whatever page is open.
import {ask, face} from './server.js';
import {made} from './bar.js';

const EVERY = 3000; // ms from look to look
let drawn = '';

/** Look for a question from now on; only at a seat of a room. */
export function watchVotes() {
  if (face.votes) {
    look();
    setInterval(look, EVERY);
  }
}

async function look() {
  // A page that is left open does not keep its server running: a look is no work.
  const said = await ask('jetlib/vote?no_track_activity=1').catch(() => null);
  if (said) {
    draw(said);
  }
}

function draw({asked, choice}) {
  const system = face.choices.units || 'US';
  const now = JSON.stringify([asked, choice, system]);
  if (now === drawn) {
    return;
  }
  drawn = now;
  const old = document.querySelector('#course-vote');
  const pressed = old?.contains(document.activeElement) ? [...old.querySelectorAll('button')].indexOf(document.activeElement) : -1;
  old?.remove();
  if (!asked) {
    return;
  }
  const ways = asked.options[system].map((words, at) =>
    made('button', {type: 'button', 'aria-pressed': String(at === choice), words: `${at + 1}: ${words}`, press: () => cast(asked, at)})
  );
  const told = choice === null ? 'Your vote is asked for.' : `You voted for ${choice + 1}. You can change it until the answer is shown.`;
  const question = made('p', {words: asked.ask[system]});
  const box = made('section', {id: 'course-vote', 'aria-label': 'Vote of the room'}, question, ...ways);
  box.append(made('span', {role: 'status', words: told}));
  document.querySelector('#course-bar').after(box);
  ways[pressed]?.focus({preventScroll: true});
}

async function cast(asked, at) {
  try {
    draw(await ask('jetlib/vote', 'PUT', {key: asked.key, choice: at}));
  } catch (error) {
    document.querySelector('#course-vote [role=status]').textContent = `Not counted: ${error.message}`;
    drawn = '';
  }
}
