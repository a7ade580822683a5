"""Files that a person wrote: what would stall the parser is refused first, in time and memory that stay small."""

import tracemalloc

import pytest

from jetlib.errors import JetlibError
from jetlib.tables.toml_file import LONGEST_LINE, MOST_BYTES, read_toml, toml_tables


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("end", [b"\n", b"\r\n"])
def test_a_file_is_read_with_a_mark_in_front_and_with_any_line_ends(mark, end, tmp_path):
    path = tmp_path / "mine.toml"
    path.write_bytes(mark + b'a.b = "1/2 in"' + end + b"[c]" + end + b"d = 2" + end)
    assert read_toml(path) == {"a": {"b": "1/2 in"}, "c": {"d": 2}}


LONG = "k." * 45_000 + "k = 1"
WIDE = "\n".join(f"[{'.'.join('k' * 900)}]" for _ in range(100))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (LONG, "mine.toml: line 1 is longer than"),
        (WIDE, "mine.toml: line 1 joins more than 10 names by dots"),
        ("a = 1\nb = {" + "c." * 40 + "d = 1}", "line 2 joins"),
        ("a = 1\n" + '"x" . ' * 40 + "d = 1", "line 2 joins"),
        ("x = " + "[" * 1900, "nested too deep"),
        ("\n".join(["x = "] + ["[" * 900] * 200), "not TOML"),
        ("#" * (MOST_BYTES + 1), "larger than"),
        ("a = 1\na = 2\n", "line 2"),
        ("a == 1", "line 1"),
        ("[[step\n", "line 1"),
    ],
    ids=lambda words: words[:20],
)
def test_what_would_stall_the_parser_is_refused_with_its_line(text, said, tmp_path):
    path = tmp_path / "mine.toml"
    path.write_text(text, "utf-8")
    tracemalloc.start()
    try:
        with pytest.raises(JetlibError, match=said) as caught:
            read_toml(path)
        assert tracemalloc.get_traced_memory()[1] < 20e6
    finally:
        tracemalloc.stop()
    assert str(caught.value).startswith("mine.toml") and len(str(caught.value)) < 300


def test_dots_in_words_are_no_names():
    text = f'a = "wait ... then pull ... then wait, 1.5 mm. Done. So. Now. {"A word. " * 100}"'
    assert len(text) < LONGEST_LINE
    assert toml_tables(text, "mine")["a"].startswith("wait")


def test_text_that_is_not_utf8_and_what_is_no_file(tmp_path):
    path = tmp_path / "mine.toml"
    path.write_bytes("a = 1".encode("utf-16"))
    with pytest.raises(JetlibError, match="byte 0 is not UTF-8 text"):
        read_toml(path)
    for place, said in ((tmp_path, "not a file"), (tmp_path / "none", "cannot be read")):
        with pytest.raises(JetlibError, match=said):
            read_toml(place, what="session plan")
