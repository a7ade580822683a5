"""Pages as they were shipped: what is trusted, what is said of the others, and bringing them back."""

import subprocess
import sys
from pathlib import Path

import nbformat
import pytest
import start
import start_pages
import start_place
from nbformat.sign import NotebookNotary
from nbformat.v4 import new_code_cell, new_notebook, new_output

ROOT = Path(__file__).parents[2]
STRANGE = "<img src=x onerror='fetch(`http://elsewhere/`)'>"


@pytest.fixture
def signing(root, monkeypatch):
    """The course with this Python in place of its environment's; what it marked as trusted is asked of nbformat."""
    monkeypatch.setattr(start_pages, "venv_python", lambda root: Path(sys.executable))
    (root / ".venv" / "share" / "jupyter").mkdir(parents=True)
    return root


def write_page(path, text, html=None):
    cell = new_code_cell(text, execution_count=1)
    cell.outputs = [new_output("display_data", data={"text/html": html})] if html else []
    path.write_text(nbformat.writes(new_notebook(cells=[cell])), "utf-8")


def notary(root):
    """Jupyter's own word on what is trusted, as the course's server would have it."""
    return NotebookNotary(data_dir=start_place.environment(root)["JUPYTER_DATA_DIR"])


def is_trusted(root, stem):
    return notary(root).check_signature(nbformat.read(start_pages.page_file(stem, root), as_version=4))


# --- trust ---


def test_what_was_shipped_is_trusted_and_nothing_is_said(signing, capsys):
    start_pages.trust(signing)
    assert capsys.readouterr().out == ""
    assert is_trusted(signing, "00_start_here") and is_trusted(signing, "bench")


def test_a_changed_and_a_foreign_page_are_not_trusted_and_that_is_said(signing, capsys):
    write_page(start_pages.page_file("bench", signing), "1", STRANGE)
    write_page(start_pages.page_file("free_money", signing), "1", STRANGE)
    start_pages.trust(signing)
    out = capsys.readouterr().out
    assert "Changed from the original: bench." in out
    assert "not part of the course: free_money." in out
    assert "opens untrusted" in out and "--restore" in out
    assert not is_trusted(signing, "bench") and not is_trusted(signing, "free_money")
    assert is_trusted(signing, "02_orifice_flow")
    start_pages.trust(signing)
    assert capsys.readouterr().out == out, "said at every start, as long as it is so"
    start_pages.restore("bench", signing)
    assert is_trusted(signing, "bench")


def test_what_the_reader_ran_and_saved_stays_trusted(signing, capsys):
    page = start_pages.page_file("bench", signing)
    write_page(page, "2 + 1", "<b>3</b>")
    # what the server does when somebody saves a page in which they ran every cell
    notary(signing).sign(nbformat.read(page, as_version=4))
    start_pages.trust(signing)
    assert capsys.readouterr().out == "" and is_trusted(signing, "bench")


def test_what_an_earlier_start_script_trusted_is_forgotten(signing, capsys):
    write_page(start_pages.page_file("bench", signing), "1", STRANGE)
    notary(signing).sign(nbformat.read(start_pages.page_file("bench", signing), as_version=4))
    (signing / ".venv" / "signed.json").write_text("{}")
    assert is_trusted(signing, "bench")
    start_pages.trust(signing)
    assert not is_trusted(signing, "bench") and "bench" in capsys.readouterr().out


def test_pages_that_are_no_notebooks_are_not_trusted(signing, capsys):
    start_pages.page_file("bench", signing).write_text("no notebook at all")
    start_pages.page_file("03_hose_friction", signing).unlink()
    (signing / "lessons" / "a folder.ipynb").mkdir()
    start_pages.trust(signing)
    out = capsys.readouterr().out
    assert "original: bench." in out and "Missing: 03_hose_friction." in out


def test_signing_is_done_once(signing, monkeypatch):
    asked = []
    run = subprocess.run
    monkeypatch.setattr(start_pages.subprocess, "run", lambda *words, **more: asked.append(1) or run(*words, **more))
    start_pages.trust(signing)
    start_pages.trust(signing)
    assert len(asked) == 1
    write_page(start_pages.page_file("bench", signing), "2")
    start_pages.trust(signing)
    assert len(asked) == 2


def test_where_pages_cannot_be_signed_it_is_said(signing, monkeypatch, capsys):
    monkeypatch.setattr(start_pages, "venv_python", lambda root: "/bin/false")
    start_pages.trust(signing)
    assert "JupyterLab will ask" in capsys.readouterr().out


# --- the packed copies ---


def test_every_page_of_the_course_has_a_fresh_packed_copy():
    """What the start script trusts and brings back is what the course holds."""
    stems = [path.stem for path in start_pages.course_notebooks(ROOT) if "-kept-" not in path.stem]
    assert start_pages.shipped_pages(ROOT) == stems
    for stem in stems:
        assert start_pages.shipped_bytes(stem, ROOT) == start_pages.plain(
            start_pages.page_file(stem, ROOT).read_bytes()
        )


def test_packing_changes_nothing_that_is_fresh(root):
    page = start_pages.page_file("bench", root)
    packed = start_pages.packed_file("bench", root)
    before = packed.read_bytes()
    page.write_bytes(page.read_bytes().replace(b"\n", b"\r\n"))
    assert not start_pages.pack(page, root) and packed.read_bytes() == before
    packed.write_bytes(b"damaged")
    assert start_pages.pack(page, root) and packed.read_bytes() == before


# --- bringing pages back ---


def test_line_ends_of_another_system_are_no_change(root, capsys):
    page = start_pages.page_file("bench", root)
    page.write_bytes(page.read_bytes().replace(b"\n", b"\r\n"))
    assert start_pages.not_as_shipped(root) == ([], [], [])
    start_pages.restore(root=root)
    assert "Nothing to restore" in capsys.readouterr().out


def test_pages_come_back_and_what_was_written_is_kept(root, capsys):
    before = {path.name: path.read_bytes() for path in start_pages.course_notebooks(root)}
    for writing in (b"mine", b"mine too", b"mine too"):
        start_pages.page_file("bench", root).write_bytes(writing)
        start_pages.page_file("02_orifice_flow", root).unlink(missing_ok=True)
        start_pages.restore(root=root)
    after = {path.name: path.read_bytes() for path in start_pages.course_notebooks(root)}
    kept = {"bench-kept-1.ipynb": b"mine", "bench-kept-2.ipynb": b"mine too"}
    assert after == before | kept, "the first is never lost, and the same is not kept twice"
    assert "kept in lessons/bench-kept-1.ipynb" in capsys.readouterr().out
    assert start_pages.find_page("bench", root) == "bench"
    assert start_pages.find_page("be", root) == "bench", "a copy that was put aside is not in the way"


def test_one_page_comes_back_alone(root, capsys):
    for stem in ("bench", "02_orifice_flow"):
        start_pages.page_file(stem, root).write_bytes(b"mine")
    start_pages.restore("02", root)
    assert start_pages.not_as_shipped(root) == (["bench"], [], ["02_orifice_flow-kept-1"])
    start_pages.restore("02", root)
    assert "that page is as it was made" in capsys.readouterr().out


def test_a_page_that_may_only_be_read_comes_back(root):
    page = start_pages.page_file("bench", root)
    page.write_bytes(b"mine")
    page.chmod(0o444)
    start_pages.restore("bench", root)
    assert start_pages.not_as_shipped(root)[0] == []


@pytest.mark.parametrize("name", ["no_such", "0", "../README", "", "free_money"])
def test_what_the_course_never_had_is_not_brought_back(root, name):
    start_pages.page_file("free_money", root).write_text("{}")
    with pytest.raises(start_place.SetupProblem, match="02_orifice_flow"):
        start_pages.restore(name, root)


def test_damaged_or_missing_packed_copies_are_said(root):
    start_pages.page_file("bench", root).write_bytes(b"mine")
    start_pages.packed_file("bench", root).write_bytes(b"\x1f\x8b\x08damaged")
    with pytest.raises(start_place.SetupProblem, match="Get the course again"):
        start_pages.restore("bench", root)
    assert start_pages.page_file("bench", root).read_bytes() == b"mine"
    for path in (root / "data" / "pages").iterdir():
        path.unlink()
    with pytest.raises(start_place.SetupProblem, match="Get the course again"):
        start_pages.restore(root=root)


def test_the_command_needs_no_environment(monkeypatch, capsys):
    asked = []
    monkeypatch.setattr(start, "stop_like_ctrl_c", lambda: None)
    monkeypatch.setattr(start, "settle", lambda **_: pytest.fail("no environment is needed"))
    monkeypatch.setattr(start, "restore", asked.append)
    assert start.main(["--restore", "03"]) == 0 and start.main(["--restore"]) == 0
    assert asked == ["03", None]


# --- which page is meant ---


@pytest.mark.parametrize(
    ("name", "page"),
    [
        ("00_start_here", "00_start_here"),
        ("03", "03_hose_friction"),
        ("bench", "bench"),
        ("bench.ipynb", "bench"),
        ("lessons/02_orifice_flow.ipynb", "02_orifice_flow"),
        (r"lessons\02_orifice_flow.ipynb", "02_orifice_flow"),
    ],
)
def test_find_page(root, name, page):
    assert start_pages.find_page(name, root) == page


def test_find_page_names_the_choices(root):
    for name in ("0", "valves"):
        with pytest.raises(start_place.SetupProblem, match="02_orifice_flow"):
            start_pages.find_page(name, root)
    (root / "lessons" / "00_start_here.ipynb").unlink()
    with pytest.raises(start_place.SetupProblem, match="--restore 00_start_here"):
        start_pages.find_page("00_start_here", root)
