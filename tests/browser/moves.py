"""A console on the page moved as a reader would, and each time compared with its twin in the test's process."""

import time
from collections import Counter

from playwright.sync_api import expect
from twins import between, first_slider, title_of

from jetlib.screen.controls.console import Choice

PATIENCE = 30.0  # seconds for a change to show; it takes a tenth of one where the machine is not busy


def moved_like(book, twins):
    """Move the consoles on the page and their twins alike: by key, typing, pointer, in a list, to other units.

    Returns for each console all that it said on the way. Consoles of one title are told apart by their order.
    """
    seen, boxes = Counter(), []
    for twin in twins:
        title = title_of(twin)
        titled = book.page.get_by_text(_words_in(title), exact=True)
        boxes.append(book.consoles().filter(has=titled).nth(seen[title]))
        seen[title] += 1
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

        before = said[-1]
        _drag(page, handle)
        said.append(_settled(box, before))
        field.slider.value = int(float(handle.get_attribute("aria-valuenow")))
        assert entry.input_value() == field.entry.value, "the entry follows the handle"
        said.append(_same(box, twin, "after dragging"))
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
    return html[html.index(">") + 1 : html.rindex("<")].replace("&amp;", "&").replace("&#x27;", "'")


def _same(box, twin, when):
    """Wait until the console says what its twin says, and return it. The picture's alt text goes with it."""
    wanted, until = " ".join(twin.words.split()), time.monotonic() + PATIENCE
    while spoken(box) != wanted and time.monotonic() < until:
        time.sleep(0.05)
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


def _settled(box, before):
    """What is said once a drag has come to rest; it may be what was said before."""
    said, until = before, time.monotonic() + 1.0
    while time.monotonic() < until:
        now = spoken(box)
        if now != said:
            said, until = now, time.monotonic() + 0.4
        time.sleep(0.05)
    return said
