"""Rig files: what is written reads back exactly, and whatever is wrong with a file is said in one error."""

import os
import stat
import tomllib

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from jetlib import (
    BurstDisc,
    Engine,
    Fitting,
    Hose,
    Jet,
    JetlibError,
    Nozzle,
    Pump,
    Rig,
    Unloader,
    load_rig,
    operating_point,
    save_rig,
    throttle_sweep,
)
from jetlib.rig.parts import rig_file as files

GOOD = """\
schema = 1
name = "Bench set"
water_temperature = "15 degC"
lift = "3 ft"

[pump]
rated_flow = "8 gpm"
rated_speed = "1450 rpm"

[engine]
power = "14 hp"

[unloader]
setting = "3000 psi"
rise = 0.08

[[hose]]
bore = "1/2 in"
length = "200 ft"

[nozzle]
name = "four jets"

[[nozzle.jet]]
bore = "#54"
count = 4
angle = "30 deg"
"""


@pytest.fixture
def load_text(tmp_path):
    def load(text):
        path = tmp_path / "bench.toml"
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
        return load_rig(path)

    return load


def full_rig(**changes):
    parts = {
        "pump": Pump("8 gpm", volumetric_efficiency=0.95, idle_speed="600 rpm"),
        "valve": [Unloader("3000 psi", trapping=True, seat_leak="0.2 mm"), BurstDisc("3500 psi", opened=True)],
        "hoses": [
            Hose(
                "1/2 in",
                "200 ft",
                coil_diameter="20 in",
                coiled_length="60 ft",
                working_pressure="275 bar",
                name="main",
            ),
            Hose("3/8 in", "50 ft", end_bore="7 mm", mass_per_metre="0.3 kg/m", bend_radius="130 mm"),
        ],
        "nozzle": Nozzle(
            [Jet("#54", 4, angle="30 deg"), Jet("1.1 mm", name="front")], body_bore="9 mm", body_loss_coefficient=1.5
        ),
        "engine": Engine("14 hp", altitude="1000 ft", kind="electric"),
        "fittings": [Fitting("9 mm", loss_coefficient=0.9, count=2), Fitting("9 mm", line_bore="12 mm", name="swivel")],
        "water_temperature": "12 degC",
        "lift": "-3 m",
        "outlet_shut": False,
        "name": 'A "quoted" name: Größe 5 \\ 7',
    }
    return Rig(**(parts | changes))


# --- round trip -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "rig",
    [
        full_rig(),
        Rig(Pump("8 gpm")),
        Rig(Pump("8 gpm"), outlet_shut=True, nozzle=Nozzle([Jet("1 mm", 0)])),
        full_rig(valve=None, hoses=[], fittings=[], engine=None, nozzle=Nozzle(name="sealed")),
        full_rig(lift=0.1 + 0.2, water_temperature=288.15000000000003),
        full_rig(hoses=[Hose(np.nextafter(0.0127, 1.0), 1e-300)]),
        full_rig(nozzle=Nozzle([Jet("1 mm", np.int64(3)), Jet("1 mm", 4.0)])),
    ],
    ids=["full", "least", "shut", "bare", "odd floats", "last digits", "numpy"],
)
def test_what_is_saved_loads_back_equal(rig, tmp_path):
    path = tmp_path / "rig.toml"
    save_rig(rig, path)
    again = load_rig(path)
    assert again == rig
    save_rig(again, tmp_path / "again.toml")
    assert (tmp_path / "again.toml").read_bytes() == path.read_bytes()


@settings(
    max_examples=40,
    deadline=None,
    derandomize=True,
    database=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(rig=st.from_type(Rig), name=st.text(max_size=40).filter(str.isprintable))
def test_any_rig_loads_back_equal(rig, name, tmp_path):
    rig = rig.replace(name=name)
    save_rig(rig, tmp_path / "rig.toml")
    assert load_rig(tmp_path / "rig.toml") == rig


def test_a_saved_file_is_plain_and_short(tmp_path):
    save_rig(full_rig(), tmp_path / "rig.toml")
    text = (tmp_path / "rig.toml").read_text(encoding="utf-8")
    data = tomllib.loads(text)
    assert data["schema"] == 1
    assert data["pump"]["rated_flow"] == "8 gpm" and data["hose"][0]["bore"] == "12.9 mm"
    assert data["hose"][0]["working_pressure"] == "275 bar" and data["nozzle"]["jet"][0]["bore"] == "0.055 in"
    assert "#" not in text  # no comments


def test_loaded_values_are_those_written(load_text):
    rig = load_text(GOOD)
    expected = Rig(
        Pump("8 gpm", rated_speed="1450 rpm"),
        Unloader("3000 psi", rise=0.08),
        [Hose("1/2 in", "200 ft")],
        Nozzle([Jet("#54", 4, angle="30 deg")], name="four jets"),
        Engine("14 hp"),
        water_temperature="15 degC",
        lift="3 ft",
        name="Bench set",
    )
    assert rig == expected


def test_numbers_in_si_comments_and_line_ends_are_taken(load_text):
    rig = load_text(GOOD)
    assert load_text(GOOD.replace("\n", "\r\n")) == rig
    assert load_text(b"\xef\xbb\xbf" + GOOD.encode()) == rig  # the mark some editors put in front
    assert load_text("# a note\n" + GOOD.replace('"200 ft"', "60.96 # m")) == rig


def test_path_may_be_text(tmp_path):
    save_rig(full_rig(), str(tmp_path / "rig.toml"))
    assert load_rig(str(tmp_path / "rig.toml")) == full_rig()


# --- bad files --------------------------------------------------------------------------------------

BAD = {
    "unknown key": ('rise = 0.08', 'rize = 0.08', ["unloader.rize", "did you mean rise", "setting"]),
    "unknown table": ("[engine]", "[motor]", ["motor", "engine"]),
    "unknown key of a jet": ("count = 4", "holes = 4", ["nozzle.jet[1].holes", "count"]),
    "missing pump": ('[pump]\nrated_flow = "8 gpm"\nrated_speed = "1450 rpm"\n', "", ["pump is missing", "[pump]"]),
    "missing key": ('rated_flow = "8 gpm"\n', "", ["pump: rated_flow is missing"]),
    "missing bore": ('bore = "1/2 in"\n', "", ["hose[1].bore is missing"]),
    "missing setting": ('setting = "3000 psi"\n', "", ["unloader.setting is missing"]),
    "missing schema": ("schema = 1\n", "", ["schema is missing", "schema = 1"]),
    "wrong schema": ("schema = 1", "schema = 2", ["schema is 2", "schema = 1"]),
    "schema in words": ("schema = 1", 'schema = "1"', ["schema is '1'"]),
    "schema true": ("schema = 1", "schema = true", ["schema is True"]),
    "wrong unit": ('"8 gpm"', '"8 psi"', ["pump", "psi is a pressure", "8 gpm"]),
    "no unit": ('"8 gpm"', '"8"', ["pump", "no unit", "8 gpm"]),
    "no such unit": ('"200 ft"', '"200 furlongs per"', ["hose[1]", "furlongs"]),
    "plausible in another unit only": ('"1/2 in"', "12.7", ["hose[1]", "bore is 12.7", '"12.7 mm"']),
    "negative": ('"200 ft"', '"-200 ft"', ["hose[1]", "-200 ft", "negative"]),
    "zero": ('"1/2 in"', "0", ["hose[1]", "bore is 0", "more than 0"]),
    "zero flow": ('"8 gpm"', "0", ["pump", "rated_flow is 0"]),
    "zero setting": ('"3000 psi"', "0.0", ["unloader", "setting is 0"]),
    "NaN": ('"200 ft"', "nan", ["hose[1]", "nan", "finite"]),
    "infinite": ('"3000 psi"', "inf", ["unloader", "inf", "finite"]),
    "infinite in text": ('"3000 psi"', '"1e999 psi"', ["unloader", "1e999 psi", "finite"]),
    "count of NaN": ("count = 4", "count = nan", ["nozzle.jet[1]", "count is nan", "0 to 1000"]),
    "text for a number": ("count = 4", 'count = "four"', ["nozzle.jet[1]", "'four'", "whole number"]),
    "text for a quantity": ('"8 gpm"', '"plenty"', ["pump", "plenty", "8 gpm"]),
    "number for text": ('"four jets"', "4", ["nozzle", "name is 4", "text"]),
    "text for true": ("rise = 0.08", 'trapping = "no"', ["unloader", "'no'", "true or false"]),
    "true for a number": ('"8 gpm"', "true", ["pump", "True", "not a number"]),
    "date for a number": ('"8 gpm"', "2020-01-01", ["pump", "2020-01-01", "not a number"]),
    "list for a number": ('"8 gpm"', '["8 gpm"]', ["pump.rated_flow", "one value"]),
    "list at the top": ('lift = "3 ft"', "lift = [1, 2]", ["lift is [1, 2]", "one value"]),
    "table for a number": ('"8 gpm"', "{ gpm = 8 }", ["pump.rated_flow", "one value"]),
    "value for a table": ('[engine]\npower = "14 hp"', "[x]", ["x"]),
    "name too long": ('"Bench set"', '"' + "x" * 300 + '"', ["name is", "200 characters"]),
    "name on two lines": ('"Bench set"', '"a\\nb"', ["name is", "one line"]),
    "number beyond all": ('"8 gpm"', "1" * 1500, ["pump", "finite"]),
    "hexadecimal beyond all": ("count = 4", "count = 0x" + "f" * 1900, ["nozzle.jet[1]", "count is"]),
    "schema beyond all": ("schema = 1", "schema = 0x" + "f" * 1900, ["schema is"]),
    "key twice": ("count = 4", "count = 4\ncount = 4", ["not TOML", "line"]),
    "broken": ('"8 gpm"', '"8 gpm', ["not TOML", "line 7"]),
    "half a table": ("[pump]", "[pump", ["not TOML", "line 6"]),
    "kind of engine": ('power = "14 hp"', 'power = "14 hp"\nkind = "steam"', ["engine", "'steam'", "electric"]),
    "contradiction": (
        'length = "200 ft"',
        'length = "9 ft"\ncoil_diameter = 0.5\ncoiled_length = 9',
        ["hose[1]", "no more than length"],
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", BAD)
def test_bad_files_are_refused_in_one_error_that_names_the_place(case, load_text):
    old, new, words = BAD[case]
    assert GOOD.count(old) == 1
    with pytest.raises(JetlibError) as caught:
        load_text(GOOD.replace(old, new))
    message = str(caught.value)
    assert message.startswith("bench.toml: ") and all(word in message for word in words), message
    assert len(message) < 500 and "\n" not in message
    assert caught.value.__cause__ is None


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('schema = 1\npump = "8 gpm"\n[nozzle]\njet = []\n', ["pump is '8 gpm'", "[pump]"]),
        (
            'schema = 1\nhose = "long"\n[pump]\nrated_flow = "8 gpm"\n[nozzle]\njet = []\n',
            ["hose is 'long'", "[[hose]]"],
        ),
        ('schema = 1\nhose = [[1]]\n[pump]\nrated_flow = "8 gpm"\n[nozzle]\njet = []\n', ["hose[1] is [1]"]),
        ('schema = 1\nnozzle = 3\n[pump]\nrated_flow = "8 gpm"\n', ["nozzle is 3", "[nozzle]"]),
        ('schema = 1\n[pump]\nrated_flow = "8 gpm"\n', ["nozzle is missing"]),
        ('schema = 1\n[pump]\nrated_flow = "8 gpm"\n[nozzle]\n', ["nozzle.jet is missing"]),
        ('schema = 1\n[pump]\nrated_flow = "8 gpm"\n[nozzle]\njet = 4\n', ["nozzle.jet is 4", "[[nozzle.jet]]"]),
        (
            'schema = 1\n[pump]\nrated_flow = "8 gpm"\n[nozzle]\njet = []\n' + "[[hose]]\n" * 101,
            ["hose is", "up to 100"],
        ),
        ("", ["schema is missing"]),
        ("not a rig at all", ["not TOML", "line 1"]),
        ("x = " + "[" * 1900, ["not TOML", "nested too deep"]),
        ("schema = 1\n[pump]\nrated_flow = 1e-4\n[nozzle]\njet.a.b = 1\n", ["nozzle.jet is"]),
        ("schema = 1\njet." + "a." * 900 + "b = 1\n", ["line 2 joins more than 10 names by dots"]),
        ("\n" + "k." * 50_000 + "k = 1", ["line 2 is longer than 2000 characters"]),
        (b"\x00" * 50, ["not TOML"]),
        (b"\xff\xfe\x00s\x00c", ["byte 0", "UTF-8"]),
        (b"\x89PNG\r\n\x1a\n" + bytes(range(256)), ["UTF-8"]),
        ("# " + "x" * 300_000, ["larger than 256000 bytes"]),
    ],
    ids=lambda value: repr(value)[:24],
)
def test_files_that_are_no_rig(text, words, load_text):
    with pytest.raises(JetlibError) as caught:
        load_text(text)
    message = str(caught.value)
    assert message.startswith("bench.toml: ") and all(word in message for word in words), message
    assert len(message) < 500 and message.count("bench.toml") == 1


def test_paths_that_lead_nowhere(tmp_path):
    for path, words in [
        (tmp_path / "none.toml", "none.toml.*No such file"),
        (tmp_path, "not a file"),
        (tmp_path / "none" / "rig.toml", "rig.toml.*No such file"),
        ("", "path is ''"),
        (None, "path is None"),
        (7, "path is 7"),
        ("a\0b", "cannot be read"),
        ("x" * 5000, "cannot be read"),
    ]:
        with pytest.raises(JetlibError, match=words):
            load_rig(path)


@pytest.mark.skipif(not os.path.exists("/dev/zero"), reason="no such device here")
def test_a_device_is_no_file():
    with pytest.raises(JetlibError, match="not a file"):
        load_rig("/dev/zero")


# --- saving never destroys --------------------------------------------------------------------------


@pytest.mark.parametrize("step", ["replace", "fsync", "chmod"])
@pytest.mark.parametrize("error", [OSError("disc full"), ValueError("odd")])
def test_a_save_that_fails_leaves_the_old_file_and_no_litter(step, error, tmp_path, monkeypatch):
    path = tmp_path / "rig.toml"
    save_rig(full_rig(), path)
    before = path.read_bytes()

    def fail(*_):
        raise error

    monkeypatch.setattr(files.os, step, fail)
    with pytest.raises(JetlibError, match=r"not saved.*untouched"):
        save_rig(full_rig(name="another"), path)
    monkeypatch.undo()
    assert path.read_bytes() == before
    assert os.listdir(tmp_path) == ["rig.toml"]


def test_an_interrupt_while_saving_leaves_no_litter(tmp_path, monkeypatch):
    def interrupt(*_):
        raise KeyboardInterrupt

    monkeypatch.setattr(files.os, "fsync", interrupt)
    with pytest.raises(KeyboardInterrupt):
        save_rig(full_rig(), tmp_path / "rig.toml")
    assert os.listdir(tmp_path) == []


def test_a_place_that_cannot_be_written(tmp_path):
    for path in (tmp_path / "none" / "rig.toml", tmp_path):
        with pytest.raises(JetlibError, match="not saved"):
            save_rig(full_rig(), path)
    assert os.listdir(tmp_path) == []
    with pytest.raises(JetlibError, match="path is None"):
        save_rig(full_rig(), None)


def test_what_cannot_be_saved_is_refused_before_anything_is_written(tmp_path):
    path = tmp_path / "rig.toml"
    for rig, words in [
        (full_rig(lift=np.array([1.0, 2.0])), "Rig.lift is an array"),
        (full_rig(nozzle=Nozzle([Jet("1 mm", [1, 2])])), "Jet.count is an array"),
        (full_rig(hoses=[Hose([0.01, 0.02], 5.0)]), "Hose.bore is an array"),
        ("a rig", "write save_rig"),
        (None, "write save_rig"),
    ]:
        with pytest.raises(JetlibError, match=words):
            save_rig(rig, path)
        assert os.listdir(tmp_path) == []


@pytest.mark.parametrize(
    "there", [b"PK\x03\x04\x00mimetype", b"dear all, see you on Monday", b'title = "a plan"', b"schema = 9"]
)
def test_a_file_that_is_no_rig_of_this_course_is_never_replaced(there, tmp_path):
    path = tmp_path / "minutes.odt"
    path.write_bytes(there)
    with pytest.raises(JetlibError, match=r"minutes.odt is there already and .*; write another name"):
        save_rig(full_rig(), path)
    assert path.read_bytes() == there and os.listdir(tmp_path) == ["minutes.odt"]
    path.write_bytes(b"")
    save_rig(full_rig(), path)
    save_rig(full_rig(name="another"), path)
    assert load_rig(path).name == "another"


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such permissions")
def test_permissions_stay(tmp_path):
    path = tmp_path / "rig.toml"
    save_rig(full_rig(), path)
    assert stat.S_IMODE(path.stat().st_mode) == 0o644
    path.chmod(0o664)
    save_rig(full_rig(), path)
    assert stat.S_IMODE(path.stat().st_mode) == 0o664


# --- the yard's own rigs ----------------------------------------------------------------------------


@pytest.mark.parametrize("name", sorted(files.demo_rigs()))
def test_yard_rigs_are_sound(name, tmp_path):
    rig = files.demo_rig(name)
    assert rig.name and all(hose.name for hose in rig.hoses) and rig.nozzle.name
    assert rig.unloader is not None and rig.engine is not None
    assert all(hose.working_pressure for hose in rig.hoses)
    point = operating_point(rig)
    assert point.cautions == () and not point.engine_bogged and not point.over_pressure.any()
    assert throttle_sweep(rig, np.linspace(0.0, 1.0, 11)).cautions == ()
    # jets that somebody chose: full pressure comes within a fifth of full throttle, either way
    assert 0.8 < point.gauge / rig.unloader.setting < 1.08
    assert point.bypass_flow < 0.2 * point.pump_flow
    assert point.reaction > 0.0  # it pulls
    save_rig(rig, tmp_path / "copy.toml")
    assert load_rig(tmp_path / "copy.toml") == rig


def test_yard_has_a_cart_a_trailer_a_truck_and_a_small_bore_set():
    assert set(files.demo_rigs()) >= {"yard_cart", "yard_trailer", "yard_truck", "yard_small_bore"}
    assert files.demo_rig("yard_cart").engine.kind == "electric"


def test_a_yard_rig_that_is_not_there():
    with pytest.raises(JetlibError, match=r"no yard rig 'barge'; write one of .*yard_cart"):
        files.demo_rig("barge")
