"""The job card on the screen: everything the plan says, in both unit systems, from plain data alone."""

import json
from html import unescape
from html.parser import HTMLParser

import pytest

from jetlib.course.exercises.yard_job import yard_plan
from jetlib.screen.consoles.plan_console import job_card


class Words(HTMLParser):
    """The words of a page; refuses tags that do not close."""

    def __init__(self, page):
        super().__init__()
        self.found, self.open = [], []
        self.feed(page)
        assert self.open == []

    def handle_starttag(self, tag, attrs):
        self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        self.found.append(data)


@pytest.fixture(scope="module")
def plan():
    return yard_plan()


def test_page_and_text_hold_all_of_the_plan(plan):
    page = " ".join(Words(job_card(plan)._repr_html_()).found)
    plain = repr(job_card(plan))
    data = plan.card()
    told = [data["verdict_text"], data["authority"], *data["no_go"], *data["cautions"], *data["hazards"]]
    told += [*data["options"], *data["steps"]]
    for row in data["rows"]:
        told += [row["label"], row["US"], row["metric"], row["source"]]
    for each in told:
        assert each in unescape(page)
        assert each in plain
    assert len(data["rows"]) > 40
    assert len(data["steps"]) > 12


def test_no_empty_headings():
    assert "<b>No go</b>" in job_card(yard_plan())._repr_html_()
    ready = yard_plan(leader="light", stiff=0.127)
    assert "<b>No go</b>" not in job_card(ready)._repr_html_()
    assert "<b>Hoses in stock</b>" not in job_card(ready)._repr_html_()


def test_what_is_written_is_never_taken_for_markup(plan):
    card = job_card(plan)
    card.data = json.loads(json.dumps(card.data))  # plain data is all it needs
    card.data["title"] = "<script>alert(1)</script>"
    card.data["steps"][0] = "a < b & c"
    page = card._repr_html_()
    assert "<script>" not in page
    assert "a &lt; b &amp; c" in page
