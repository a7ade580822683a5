"""The server's half of the page: course pages that cannot be written, copies that can."""

import asyncio
import functools
from concurrent.futures import ThreadPoolExecutor

import nbformat
import pytest
from tornado.web import HTTPError

from jetlib.screen.page.server import CoursePages, course_page, own_copy

PAGE = "lessons/bench.ipynb"


def pages_in(tmp_path):
    (tmp_path / "lessons").mkdir()
    cells = [nbformat.v4.new_markdown_cell("# Bench")]
    nbformat.write(nbformat.v4.new_notebook(cells=cells, metadata={"jetlib": {}}), tmp_path / PAGE)
    found = CoursePages(root_dir=str(tmp_path))
    found.notary.db_file = ":memory:"
    return found


def test_only_pages_of_the_course_are_course_pages(monkeypatch):
    assert course_page(PAGE) == "bench" and course_page(f"/{PAGE}") == "bench"
    for path in ("lessons/my_bench.ipynb", "bench.ipynb", "lessons/more/bench.ipynb", "data/rigs/x.toml"):
        assert course_page(path) is None
    monkeypatch.setenv("JETLIB_AUTHOR", "1")
    assert course_page(PAGE) is None


def in_a_thread(test):
    """The test in a thread of its own: another test of this process may have a loop running in this one."""

    @functools.wraps(test)
    def alone(tmp_path):
        with ThreadPoolExecutor(1) as pool:
            pool.submit(lambda: test(pages_in(tmp_path), tmp_path)).result()

    del alone.__wrapped__  # pytest reads what it asks for off this one
    return alone


@in_a_thread
def test_a_course_page_is_read_and_never_written(manager, tmp_path):
    before = (tmp_path / PAGE).read_bytes()
    model = asyncio.run(manager.get(PAGE))
    assert model["writable"] is False and model["content"].cells[0].source == "# Bench"
    for action in (
        lambda: manager.save(model, PAGE),
        lambda: manager.delete_file(PAGE),
        lambda: manager.rename_file(PAGE, "lessons/other.ipynb"),
        lambda: manager.create_checkpoint(PAGE),
        lambda: manager.restore_checkpoint("1", PAGE),
    ):
        with pytest.raises(HTTPError, match="page of the course") as refused:
            asyncio.run(action())
        assert refused.value.status_code == 403
    assert (tmp_path / PAGE).read_bytes() == before


@in_a_thread
def test_an_own_copy_is_a_plain_notebook_beside_the_page(manager, tmp_path):
    assert own_copy("bench", manager) == "lessons/my_bench.ipynb"
    assert own_copy("bench", manager) == "lessons/my_bench_2.ipynb"
    model = asyncio.run(manager.get("lessons/my_bench.ipynb"))
    assert model["writable"] and "jetlib" not in model["content"].metadata
    asyncio.run(manager.save(model, "lessons/my_bench.ipynb"))
