"""A console on the page moved as a reader would, and each time compared with its twin in the test's process."""

import contextlib
from collections import defaultdict
from html import unescape

from playwright.sync_api import TimeoutError, expect
from twins import between, first_slider, title_of

from jetlib.screen.controls.console import Choice

PATIENCE = 30.0  # seconds for a change to show; it takes a tenth of one where the machine is not busy
POLLING = 50  # ms from one look to the next; without it the browser would look, and draw, 60 times a second


#: Names the live consoles, so that each is found again without a search of the whole page; the headings they bear.
NAME = """(boxes, stem) => boxes.map((box, at) => {
    box.dataset.box = `${stem} ${at}`;
    return box.querySelector('[role=heading]')?.textContent.trim() ?? '';
})"""
#: Whether a console says these words, to a screen reader and as its picture's alt text.
SAYS = """([box, words]) => {
    const even = said => said?.trim().replaceAll(/\\s+/g, ' ');
    return even(box.querySelector('[role=status]').innerText) === words
        && even(box.querySelector('svg[role=img]').ariaLabel) === words;
}"""


def moved_like(book, twins):
    """Move the consoles on the page and their twins alike: by key, typing, pointer, in a list, to other units.

    Returns for each console all that it said on the way. Consoles of one title are told apart by their order.
    """
    places = defaultdict(list)
    for at, heading in enumerate(book.consoles().evaluate_all(NAME, book.stem)):
        places[heading].append(book.page.locator(f"[data-box='{book.stem} {at}']"))
    boxes = [places[_words_in(title_of(twin))].pop(0) for twin in twins]
    said = [_moved_alone(book.page, box, twin) for box, twin in zip(boxes, twins, strict=True)]
    for system in ("metric", "US") if twins else ():  # the page's one switch: all that is on it follows
        book.use_units(system)
        for box, twin, before in zip(boxes, twins, said, strict=True):
            twin.use_units(system)
            before.append(_same(box, twin, f"in {system} units"))
    return said


def _moved_alone(page, box, twin):
    """What one console said while it was moved, and its twin with it."""
    box.scroll_into_view_if_needed()
    said = [_same(box, twin, "as it begins")]
    control = first_slider(twin)
    if control is not None:
        field = twin._fields[control.name]
        row = box.locator(".widget-hbox", has=page.get_by_label(control.label, exact=True)).last
        entry, handle = row.get_by_label(control.label, exact=True), row.locator("[role=slider]")

        handle.focus()
        forward = field.slider.value < field.slider.max
        page.keyboard.press("ArrowRight" if forward else "ArrowLeft")
        field.slider.value += 1 if forward else -1
        said.append(_same(box, twin, "after a key"))
        # Nobody types over a number that has yet to come: the entry follows the handle first.
        expect(entry).to_have_value(field.entry.value, timeout=1000 * PATIENCE)

        typed = between(twin, control, 0.4)
        entry.fill(typed)
        entry.press("Enter")
        twin.set(**{control.name: typed})
        said.append(_same(box, twin, f"after typing {typed}"))
        assert entry.input_value() == typed

        _drag(page, handle)
        dragged_to = handle.get_attribute("aria-valuenow")
        field.slider.value = int(float(dragged_to))
        said.append(_same(box, twin, f"after dragging to {dragged_to}"))
        expect(entry).to_have_value(field.entry.value, timeout=1000 * PATIENCE)  # the entry follows the handle
        assert handle.get_attribute("aria-valuenow") == dragged_to, "the handle stays where it was let go"
    listed = next((each for each in twin.controls.values() if isinstance(each, Choice) and len(each.options) > 1), None)
    if listed is not None:
        box.get_by_label(listed.label, exact=True).select_option(index=1)
        twin.set(**{listed.name: listed.options[1][1]})
        said.append(_same(box, twin, f"with {listed.options[1][0]}"))
    return said


def spoken(box):
    """What a console says to a screen reader."""
    return " ".join(box.locator("[role=status]").first.inner_text().split())


def _words_in(html):
    return unescape(html[html.index(">") + 1 : html.rindex("<")]).strip()


def _same(box, twin, when):
    """Wait until the console says what its twin says, and its picture's alt text with it; return that."""
    wanted = " ".join(twin.words.split())
    with contextlib.suppress(TimeoutError):
        box.page.wait_for_function(SAYS, arg=[box.element_handle(), wanted], polling=POLLING, timeout=1000 * PATIENCE)
    assert spoken(box) == wanted, when
    alt = box.locator("svg[role=img]").first.get_attribute("aria-label")
    assert " ".join(alt.split()) == wanted, f"alt text {when}"
    return wanted


def _drag(page, handle):
    box = handle.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 45, y, steps=6)
    page.mouse.up()
