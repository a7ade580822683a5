"""What is printed when a class ends: a page each, no name on it, and the word that it licenses nobody."""

import pytest

from jetlib.course.classroom.class_progress import ClassProgress, invented_class
from jetlib.errors import JetlibError
from jetlib.paper.sheets.answers import assessment_sheets
from jetlib.paper.sheets.records import attendance_list, class_records


def test_each_person_has_a_page_that_licenses_nobody(read):
    held = invented_class()
    document = class_records(held)
    assert [section.title for section in document.sections] == [
        "How the class did", *(f"Record of {member.who}" for member in held.members),
    ]  # fmt: skip
    for section, member in zip(document.sections[1:], held.members, strict=True):
        text = read(section.body)
        assert section.named and "This record licenses nobody" in text
        tries = sum(member.attempts(lesson) for lesson in ("01", "02", "03", "05"))
        assert tries == member.attempts() == len(member.record.attempts)
        assert "Attended" in text and "Trainer's initials" in text
    text = read(document.sections[0].body)
    name, people, times = held.mistakes(count=1)[0]
    assert f"{name} {people} {times}" in text
    assert f"the class 01, 02, 03, 05 {sum(len(each.record.attempts) for each in held.members)}" in text


def test_a_class_of_nobody_has_no_records():
    with pytest.raises(JetlibError, match="nobody is in this class"):
        class_records(ClassProgress())


def test_a_list_to_sign_has_a_row_for_each_seat(read):
    text = read(attendance_list(5).sections[0].body)
    assert [f" {seat} " in text for seat in range(1, 7)] == [True] * 5 + [False]


def test_the_assessment_differs_by_seat_and_its_key_has_every_seat(read):
    sheets, key = assessment_sheets(3, seed=4)
    assert len({section.body for section in sheets.sections}) == len(sheets.sections) == 3
    assert all(section.named and section.body.count('class="question"') == 13 for section in sheets.sections)
    assert key.sections[0].body.count('scope="row"') >= 12 * 3
    assert "with 4 as the first seed" in key.sections[0].lead
