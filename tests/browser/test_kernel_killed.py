"""JupyterLab without the course's extension: a page reads and runs as any notebook. When its kernel dies under a
console while its slider moves, nothing is lost, and running the page brings it back."""

import os
import signal

import psutil
import pytest

pytestmark = [
    pytest.mark.browser,
    pytest.mark.filterwarnings("default"),
]


def kernel_process(book):
    """The process of the page's kernel: the one that was started with its connection file."""
    (kernel,) = [session["kernel"]["id"] for session in book.course.ask("api/sessions") if book.stem in session["path"]]
    found = []
    for process in psutil.process_iter():
        try:
            if any(f"kernel-{kernel}.json" in word for word in process.cmdline()):
                found.append(process)
        except psutil.Error:  # it ended while we looked, or is not ours to see
            continue
    assert len(found) == 1
    return found[0]


@pytest.fixture(scope="module")
def book(open_afresh):
    found = open_afresh("05_bypass", plain=True)
    found.run_all()
    yield found
    found.page.context.close()


def test_a_page_reads_and_runs_as_any_notebook(book):
    assert book.page.locator("#course-bar").count() == 0
    assert book.consoles().count() > 5
    assert book.errors() == []


@pytest.mark.skipif(os.name == "nt", reason="kill -9 is of POSIX systems")
def test_the_page_comes_back(book):
    console = next(
        console
        for console in book.consoles().all()
        if console.locator("[role=slider]").count() and console.locator("[role=status]").first.inner_text()
    )
    first = console.locator("[role=status]").first.inner_text()
    slider = console.locator("[role=slider]").first
    slider.focus()
    for _ in range(4):
        book.page.keyboard.press("ArrowLeft")
    dead = kernel_process(book)
    os.kill(dead.pid, signal.SIGKILL)
    for _ in range(4):
        book.page.keyboard.press("ArrowLeft")
    dialog = book.page.locator(".jp-Dialog")
    dialog.wait_for(timeout=30_000)
    assert "restart" in dialog.inner_text().lower(), "the reader is told"
    dialog.get_by_role("button").first.click()
    book.course.wait_until_idle(book.stem)
    assert kernel_process(book).pid != dead.pid
    book.run_all()
    assert book.errors() == []
    again = book.consoles().filter(has=book.page.locator("[role=slider]")).first
    assert again.locator("[role=status]").first.inner_text() == first, "the console begins as it began"
    again.locator("[role=slider]").first.focus()
    book.page.keyboard.press("ArrowLeft")
    book.page.wait_for_timeout(600)
    assert again.locator("[role=status]").first.inner_text() != first, "and answers"
