"""The trainer's page as a trainer uses it: hands counted by keys, a kernel that dies in the middle, links of a plan."""

import os
import signal

import pytest
from test_kernel_killed import kernel_process

pytestmark = [pytest.mark.browser, pytest.mark.filterwarnings("default")]


def console(book, heading):
    return book.consoles().filter(has=book.page.get_by_role("heading", name=heading, exact=True)).first


def state(vote):
    return " ".join(vote.locator("[role=status]").first.inner_text().split())


def sources(book):
    return book.page.evaluate(
        "() => window.jupyterapp.shell.currentWidget.content.widgets.map(cell => cell.model.sharedModel.getSource())"
    )


@pytest.fixture(scope="module")
def room(open_afresh, request):
    """The trainer's page; once without the course's extension, then with it."""
    book = open_afresh("classroom", plain=request.param == "bare")
    book.run_all()
    yield book
    book.page.context.close()


BARE, WITH_BAR = (pytest.mark.parametrize("room", [each], indirect=True) for each in ("bare", "with the bar"))


@BARE
def test_a_step_leads_to_its_lesson(room):
    book, plan = room, console(room, "Session plan")
    for _ in range(2):
        plan.get_by_role("button", name="Next step").click()
    link = plan.get_by_role("link", name="02 Jets")
    with book.page.context.expect_page() as opened:
        link.click()
    opened.value.wait_for_selector(".jp-NotebookPanel .jp-Cell", timeout=60_000)
    assert "02_orifice_flow" in opened.value.url
    opened.value.close()
    plan.get_by_label("Begins at", exact=True).fill("13:00")
    plan.get_by_label("Begins at", exact=True).press("Enter")
    plan.get_by_text("13:06 to 13:11").first.wait_for(timeout=10_000)
    assert book.errors() == []


@BARE
def test_hands_are_counted_by_keys_and_survive_a_dead_kernel(room):
    book, before = room, sources(room)
    vote = console(book, "Room vote")
    vote.get_by_label("Count here", exact=True).click()
    book.page.keyboard.type("112333")
    book.page.keyboard.press("Backspace")
    book.page.keyboard.type("12345" * 4)  # as fast as keys come
    wanted = "First vote, 25 have voted. 6 for 1, 5 for 2, 6 for 3, 4 for 4, 4 for 5."
    vote.get_by_text(wanted).first.wait_for(timeout=10_000)
    assert "✔" not in vote.inner_text()
    # A 1 outside a field would have turned the cell into a heading: the page's own keys are kept off.
    assert sources(book) == before

    if os.name != "nt":
        os.kill(kernel_process(book).pid, signal.SIGKILL)
        dialog = book.page.locator(".jp-Dialog")
        dialog.wait_for(timeout=30_000)
        dialog.get_by_role("button").first.click()
        book.course.wait_until_idle(book.stem)
    book.run_all()
    vote = console(book, "Room vote")
    assert "left unfinished" in state(vote) and wanted in state(vote)

    vote.get_by_role("button", name="Show the answer", exact=True).click()
    vote.get_by_text("Right is 3").first.wait_for(timeout=10_000)
    assert "✔ right" in vote.locator("svg").first.inner_html()
    assert book.errors() == []


#: Words of what is shown that are under a 25th of the window's height, or outside the window.
UNREADABLE = """() => {
  const bad = [], box = document.querySelector('.jl-show:popover-open');
  for (const each of box.querySelectorAll('*')) {
    const said = [...each.childNodes].some(node => node.nodeType === 3 && node.textContent.trim());
    const at = each.getBoundingClientRect(), look = getComputedStyle(each);
    if (!said || !at.width || look.visibility === 'hidden' || ['STYLE', 'OPTION'].includes(each.tagName)) continue;
    const svg = each.closest('svg');
    const scale = svg ? svg.getBoundingClientRect().width / svg.viewBox.baseVal.width : 1;
    const outside = at.right > innerWidth + 1 || at.bottom > innerHeight + 1 || at.left < -1 || at.top < -1;
    if (outside || parseFloat(look.fontSize) * scale < innerHeight / 25 - 0.3) bad.push(each.textContent);
  }
  const main = box.querySelector('.jl-main');
  return main.scrollHeight > main.clientHeight + 2 ? [...bad, 'more than fits'] : bad;
}"""
SIZES = ((1280, 720), (1024, 768))


@WITH_BAR
def test_a_plan_is_shown_one_thing_at_a_time_with_a_remote_and_notes_apart(room):
    book, page, plan = room, room.page, console(room, "Session plan")
    book.resize(*SIZES[0])
    plan.get_by_label("Plan", exact=True).select_option(label="20 min: Bypass: water that does no work")
    with page.context.expect_page() as opened:
        plan.get_by_role("button", name="Trainer's notes").click()
    notes = opened.value
    plan.get_by_role("button", name="Show this step").click()
    shown = page.locator(".jl-show:popover-open")
    seen = []
    for _ in range(20):
        page.wait_for_timeout(400)
        title = shown.locator(".jl-headline span").first.inner_text()
        for wide, high in SIZES:
            page.set_viewport_size({"width": wide, "height": high})
            page.wait_for_timeout(300)
            assert page.evaluate(UNREADABLE) == [], f"{title} at {wide} x {high}"
        if "vote" in title and shown.locator(".jl-options").count():
            place = "() => [scrollY, document.querySelector('.jl-options').getBoundingClientRect().left]"
            before = page.evaluate(place)
            page.keyboard.type("1123")  # no field has the focus
            shown.get_by_text("2  (50 %)").wait_for(timeout=10_000)
            assert page.evaluate(place) == before
            notes.get_by_text("Right:").wait_for(timeout=5_000)
            assert "Right:" not in shown.inner_text()
        seen.append(" ".join(shown.locator(".jl-main").inner_text().split()))
        if title.startswith("6 / 6"):
            break
        page.keyboard.press("PageDown")
    assert len(seen) > 8 and any("✔" in words for words in seen)
    page.keyboard.press(".")
    assert "jl-blank" in shown.get_attribute("class")
    page.keyboard.press(".")
    notes.get_by_role("button", name="◀ Back").click()
    shown.get_by_text("5 / 6").wait_for(timeout=10_000)
    assert " ".join(shown.locator(".jl-main").inner_text().split()) in seen, "a thing of the step before"
    page.keyboard.press("Escape")
    assert shown.count() == 0
    notes.close()
    assert book.errors() == []


@WITH_BAR
def test_a_callout_is_shown_fork_by_fork_and_tells_nothing(room):
    book, page, card = room, room.page, console(room, "A callout for the class")
    card.get_by_role("button", name="Let the seats vote").click()
    seat = page.get_by_role("region", name="Vote of the room")
    seat.get_by_role("button", name="1: Go: do the job").click()
    seat.get_by_text("You voted for 1").wait_for(timeout=10_000)
    card.get_by_role("button", name="Show it alone").click()
    shown, ways = page.locator(".jl-show:popover-open"), page.locator(".jl-show:popover-open .jl-options")

    def looked_at(part):
        for wide, high in SIZES:
            page.set_viewport_size({"width": wide, "height": high})
            page.wait_for_timeout(200)
            assert page.evaluate(UNREADABLE) == [], f"{part} at {wide} x {high}"
        return shown.locator(".jl-main").inner_text()

    def voted(hands):
        if not ways.count():
            page.keyboard.press("PageDown")
        shown.get_by_label("Hands", exact=True).wait_for(timeout=10_000)
        page.keyboard.type(hands)  # no field has the focus
        shown.locator(".jl-bar").first.wait_for(timeout=10_000)
        seen.append(looked_at(hands))
        shown.get_by_role("button", name="Do what most want").click()
        ways.wait_for(state="detached", timeout=10_000)

    seen = [looked_at("call")]
    page.keyboard.press("PageDown")
    shown.get_by_role("combobox").select_option(index=1)
    shown.get_by_role("button", name="Do it").click()
    shown.get_by_text("White plastic").wait_for(timeout=10_000)
    page.keyboard.press("PageDown")
    shown.get_by_label("Nozzle", exact=True).select_option(label="with extension")
    shown.get_by_text("Your plan: Yard trailer, with extension").wait_for(timeout=10_000)
    seen.append(looked_at("plan"))
    page.keyboard.press("PageDown")
    ways.wait_for(timeout=10_000)
    for hands in ("9 1 0", "7", "8", "0 0 0 0 5"):  # go, nozzle in, idle, and out with the jets on
        voted(hands)
        assert (hands == "9 1 0") == ("10" in seen[-1]), "nine hands and a seat"
        seat.wait_for(state="detached", timeout=10_000)
        seen.append(looked_at(f"after {hands}"))
    assert "flies back" in seen[-1] and "What was true" not in " ".join(seen)
    page.keyboard.press("PageDown")
    shown.get_by_text("What was true").wait_for(timeout=10_000)
    looked_at("truth")
    assert book.errors() == []
