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


def test_hands_are_counted_by_keys_and_survive_a_dead_kernel(open_notebook):
    book = open_notebook("classroom")
    book.run_all()
    before = sources(book)
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


def test_a_step_leads_to_its_lesson(open_notebook):
    book = open_notebook("classroom")
    book.run_all()
    plan = console(book, "Session plan")
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
