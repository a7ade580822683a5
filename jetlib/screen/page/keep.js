// What a reader typed, ticked or chose, taken from the page and put back after its cells have run again.
const FIELDS = 'input[type=text], textarea, select, input[type=radio], input[type=checkbox]';
const now = field => (/radio|checkbox/.test(field.type) ? field.checked : field.value);

/** The fields of a cell with what they hold, in order; a field's name is what stands around it. */
function fieldsOf(cell) {
  const seen = {};
  return [...cell.node.querySelectorAll('.jp-OutputArea-output')].flatMap(output =>
    [...output.querySelectorAll(FIELDS)].map(field => {
      const row = field.closest('.jupyter-widgets');
      const label = field.closest('label') || (row && row.querySelector('.widget-label'));
      const card = field.closest('.course-card') || output;
      const question = card.querySelector('.course-question');
      const words = [question, label].map(part => (part ? part.textContent.trim() : '')).join('|') + `|${field.type}`;
      seen[words] = (seen[words] || 0) + 1;
      return {field, name: `${words}|${seen[words]}`};
    })
  );
}

/** What every field of these cells holds: an object by cell id. */
export function typedIn(cells) {
  const held = {};
  for (const cell of cells) {
    const fields = fieldsOf(cell);
    if (fields.length) {
      held[cell.model.id] = Object.fromEntries(fields.map(({field, name}) => [name, now(field)]));
    }
  }
  return held;
}

/** Put back what a cell's fields held, as if it were typed again. What has another question now is left alone. */
export function typeAgain(cell, held) {
  for (const {field, name} of held ? fieldsOf(cell) : []) {
    const value = held[name];
    if (value === undefined || value === now(field) || field.disabled) {
      continue;
    }
    if (typeof value === 'boolean') {
      if (value || field.type === 'checkbox') {
        field.click();
      }
      continue;
    }
    field.value = value;
    for (const kind of ['input', 'change']) {
      field.dispatchEvent(new Event(kind, {bubbles: true}));
    }
  }
}
