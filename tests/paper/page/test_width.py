"""Nothing on a sheet is wider than its page."""

import json
import re
import subprocess

import pytest

from jetlib.paper.cards.rig import rig_tables
from jetlib.paper.page.style import STYLE
from jetlib.paper.sheets.answers import answer_key, seat_sheets
from jetlib.paper.sheets.lesson import handout
from jetlib.rig.parts.rig_file import demo_rig

WIDTH = {"A4": 210.0, "Letter": 215.9}  # mm: ISO 216; ANSI Y14.1, 8.5 in


def told_by(browser, folder, page):
    """What a page's script leaves in the page's title, read as JSON."""
    path = folder / "page.html"
    path.write_text(page, encoding="utf-8")
    command = [browser, "--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={folder / 'profile'}"]
    done = subprocess.run(
        [*command, "--window-size=1200,900", "--dump-dom", path.as_uri()],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    return json.loads(re.search(r"<title>(.*?)</title>", done.stdout, re.S)[1].replace("&amp;", "&"))


@pytest.mark.parametrize("paper", list(WIDTH))
def test_nothing_is_wider_than_the_page(paper, card, browser, tmp_path):
    sheets, key = seat_sheets("08", 3, paper=paper)
    made = [handout(lesson, paper=paper, system="metric") for lesson in ("05", "08", "11")]
    made += [answer_key("08", paper=paper), sheets, key, card("gauge", "yard_small_bore", paper=paper)]
    made += [rig_tables(demo_rig("yard_small_bore"), paper=paper), card("job", "yard_truck", paper=paper)]
    parts = []
    for number, document in enumerate(made):
        body = re.search(r"<body>(.*)</body>", document.html(), re.S)[1]
        parts.append(f'<div class="sheet" data-name="{number} {document.name}">{body}</div>')
    width = WIDTH[paper] - 22.0
    script = """
    const bad = []; let seen = 0;
    for (const sheet of document.querySelectorAll(".sheet")) {
      const edge = sheet.getBoundingClientRect();
      for (const each of sheet.querySelectorAll("*")) {
        const b = each.getBoundingClientRect(); seen += 1;
        const spare = 4 * 96 / 25.4;
        if (b.left < edge.left + spare - 1 || b.right > edge.right - spare + 1)
          bad.push([sheet.dataset.name, each.tagName, each.textContent.slice(0, 40), b.right - edge.right]);
      } }
    document.title = JSON.stringify([seen, bad.length, bad.slice(0, 5)]);"""
    own = f".sheet{{width:{width}mm;padding:0 4mm}} body{{max-width:none !important;padding:0 !important}}"
    page = (
        f"<!DOCTYPE html><meta charset=utf-8><title>[0,[]]</title><style>{STYLE}{own}</style>"
        f"<body>{''.join(parts)}<script>{script}</script>"
    )
    seen, count, bad = told_by(browser, tmp_path, page)
    assert seen > 2000
    assert count == 0, bad
