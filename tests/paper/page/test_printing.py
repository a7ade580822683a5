"""From the command line to HTML and PDF, and what the printed pages look like as far as text can tell."""

import re
import shutil
from functools import cache

import pypdf
import pytest

import jetlib
from jetlib.errors import JetlibError
from jetlib.paper.__main__ import main
from jetlib.paper.page import document as browsers
from jetlib.paper.page.document import Document, Section, write

POINTS = {"A4": (595, 842), "Letter": (612, 792)}


@pytest.fixture(scope="module")
def pages_of(documents, texts, tmp_path_factory):
    """pages_of(name): (page, its text) of each page of one of `documents`, printed once."""

    @cache
    def printed(name):
        written = write(documents[name], tmp_path_factory.mktemp("printed"))
        assert [path.suffix for path in written] == [".html", ".pdf"]
        return tuple(zip(pypdf.PdfReader(written[1]).pages, texts(written[1]), strict=True))

    return printed


@pytest.mark.parametrize("name", ["A4, US", "A4, metric", "sheets"])
def test_every_printed_page_has_its_footer_and_no_heading_stands_alone(documents, name, pages_of, browser):
    document = documents[name]
    pages = pages_of(name)
    assert 2 <= len(pages) <= 25
    tags = re.findall(r"<h[123][^>]*>(.*?)</h[123]>", document.html())
    headings = {re.sub(r"\W", "", re.sub(r"<[^>]+>", "", tag)) for tag in tags}
    starts = 0
    for number, (page, _) in enumerate(pages, start=1):
        text = page.extract_text(extraction_mode="layout")  # lines as they stand, the foot at the end
        assert page.mediabox.width == pytest.approx(POINTS[document.paper][0], abs=1.5)
        assert page.mediabox.height == pytest.approx(POINTS[document.paper][1], abs=1.5)
        assert f"page {number} of {len(pages)}" in " ".join(text.split())
        assert f"jetlib {jetlib.__version__} | {document.system} units" in " ".join(text.split())
        lines = [line.strip() for line in text.split("\n") if line.strip()]
        foot = max(at for at, line in enumerate(lines) if line.endswith(f"page {number} of {len(pages)}"))
        assert foot >= len(lines) - 3
        named = "Name _____" in text
        body = [words for line in lines[named:foot] if (words := re.sub(r"\W", "", line))]
        assert len(body) >= 4, f"page {number} is all but empty"
        assert body[-1] not in headings, f"{lines[foot - 1]!r} stands alone at the foot of page {number}"
        starts += body[0] in headings
    assert starts  # headings are found at all


def test_a_sheet_begins_on_a_page_of_its_own_and_keeps_its_seed(documents, pages_of, browser):
    document = documents["sheets"]
    texts = [" ".join(text.split()) for _, text in pages_of("sheets")]
    seat = 0
    for text in texts:
        if "Name" in text and "Caution" in text.title():
            seat += 1
        own = document.sections[seat - 1]
        assert f"{own.title} | seed {own.seed} |" in text
    assert seat == len(document.sections)


def test_without_a_browser_there_is_html_and_a_word(monkeypatch, tmp_path, capsys):
    monkeypatch.setattr(shutil, "which", lambda name: None)
    assert main(["tables", "yard_cart", "--out", str(tmp_path)]) == 0
    said = capsys.readouterr()
    assert said.out.split() == [str(tmp_path / "tables-yard-cart-us.html")]
    assert "no PDF: open the HTML and print it" in said.err
    assert "What the hose loses" in (tmp_path / "tables-yard-cart-us.html").read_text(encoding="utf-8")


def test_a_browser_that_makes_nothing_is_an_error_and_leaves_no_old_page(monkeypatch, tmp_path):
    monkeypatch.setattr(browsers, "find_browser", lambda: shutil.which("true") or "/bin/true")
    (tmp_path / "page.pdf").write_bytes(b"old")
    with pytest.raises(JetlibError, match=r"made no PDF of page\.html"):
        write(Document("page", (Section("T", "<p>x</p>", "s"),)), tmp_path)
    assert not (tmp_path / "page.pdf").exists() and (tmp_path / "page.html").is_file()


@pytest.mark.parametrize(
    ("arguments", "names"),
    [
        (["handout", "02", "--seed", "4"], ["handout-02-seed-4-us"]),
        (["key", "02", "--only", "02-areas-add", "--units", "metric"], ["key-02-seed-1-metric"]),
        (["seats", "02", "--seats", "2"], ["seats-02-seed-1-us", "seats-02-seed-1-us-key"]),
        (["gauge-card", "yard_cart", "--paper", "Letter"], ["gauge-card-yard-cart-us"]),
        (["job-card", "yard_truck", "--run", "20 m", "--fall", "1:50"], ["job-card-yard-truck-seed-0-us"]),
    ],
)
def test_each_command_writes_its_pages(arguments, names, tmp_path, capsys):
    assert main([*arguments, "--html-only", "--out", str(tmp_path)]) == 0
    assert capsys.readouterr().out.split() == [str(tmp_path / f"{name}.html") for name in names]
    assert all((tmp_path / f"{name}.html").stat().st_size > 3000 for name in names)
    assert not list(tmp_path.glob("*.pdf"))


def test_a_job_from_the_command_line_is_the_one_planned(tmp_path, read):
    assert (
        main(["job-card", "yard_truck", "--run", "20 m", "--units", "metric", "--html-only", "--out", str(tmp_path)])
        == 0
    )
    text = read(next(tmp_path.glob("*.html")).read_text(encoding="utf-8"))
    assert "Given. run 20 m;" in text


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["handout", "77"], "lesson is"),
        (["tables", "no_such_rig"], "no_such_rig"),
        (["job-card", "yard_truck", "--run", "20 psi"], "--run"),
        (["seats", "02", "--seats", "5000"], "from 1 to 60"),
    ],
)
def test_a_wrong_argument_is_answered_in_a_line(arguments, said, tmp_path, capsys):
    assert main([*arguments, "--html-only", "--out", str(tmp_path)]) == 2
    assert said in capsys.readouterr().err and not list(tmp_path.iterdir())


def test_a_folder_that_cannot_be_written_is_said(tmp_path, capsys):
    (tmp_path / "file").write_text("")
    assert main(["tables", "yard_cart", "--html-only", "--out", str(tmp_path / "file")]) == 2
    assert "cannot be written" in capsys.readouterr().err
