"""probes.toml: what sends readings by itself, and what is kept of it."""

import pytest

from board.errors import HouseFileError
from board.house import read_probes
from board.house.files import read_house
from board.house.probes import Keeping, Probe, ProbeReads, named_by
from board.house.seeds import seed_house
from board.house.tables import toml_table

DEMO = read_house(seed_house("tallow_row"))
PITS = {"north": DEMO.pits["north"], "south": DEMO.pits["south"]}
HOLDS = ("bench", "tall-cabinet")
SENT_AS_X = 'place = "north"\nsent_as = ["x"]'


def probes(text):
    """The probes of a file with this text, in a house of two pits and two holds."""
    return read_probes.read_probes(toml_table("probes.toml", text), PITS, HOLDS)


def keeping(text):
    """What a house keeps that says this of its feed."""
    return read_probes.read_keeping(toml_table("house.toml", f"[feed]\n{text}").table("feed"))


def test_an_air_probe_reads_a_place_and_is_sent_under_its_id():
    """The least a probe says is where it is."""
    found = probes('[grate]\nplace = "north"')
    assert found == {"grate": Probe("grate", "grate", ProbeReads.AIR, "north", ("grate",))}


def test_a_meat_probe_needs_no_place():
    """It is put into a load by hand where it hangs at no pit."""
    found = probes('[m1]\nreads = "meat"\nunit = "F"\nsilent = "30 min"\nsent_as = ["a/1", "b"]')["m1"]
    assert (found.place, found.unit, found.silent_minutes) == (None, "F", 30.0)
    assert named_by({"m1": found}) == {"a/1": found, "b": found}


def test_a_house_without_the_file_has_no_probes():
    """The file may be left out."""
    assert read_probes.read_probes(None, PITS, HOLDS) == {}


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("[grate]", "probes.toml, grate.place: found nothing, allowed one of north, south, bench"),
        ('[grate]\nplace = "porch"', "allowed one of north, south, bench, tall-cabinet, walk-in"),
        ('[m]\nreads = "meat"\nplace = "walk-in"', "found 'walk-in', allowed one of north, south"),
        ('[m]\nreads = "meat"\nplace = "south"\nzone = "roof"', "found 'roof', allowed one of upper"),
        ('[m]\nreads = "meat"\nplace = "north"\nzone = "upper"', "allowed a zone where a meat probe's place"),
        ('[a]\nplace = "south"\nzone = "upper"', "allowed a zone where a meat probe's place"),
        ('[m]\nreads = "smoke"', "probes.toml, m.reads: found 'smoke', allowed one of air, meat"),
        (f"[a]\n{SENT_AS_X}\n[b]\n{SENT_AS_X}", "a is sent as x already"),
        ('[a]\nplace = "north"\nsent_as = ["x", "x"]', "probes.toml, a.sent_as"),
        ('[a]\nplace = "north"\nunit = "K"', "probes.toml, a.unit: found 'K', allowed one of C, F"),
        ('[a]\nplace = "north"\nsilent = "0 min"', "probes.toml, a.silent"),
        ('[a]\nplace = "north"\nsilent = "2 days"', "allowed a time up to 24 h"),
        ('[a]\nplace = "north"\nplaced = "x"', "did you mean place?"),
        ('A = 1', "probes.toml, A: found 1, allowed a table of keys"),
    ],
)  # fmt: skip
def test_what_a_probe_may_not_say_is_told_in_one_line(text, says):
    """Where, what was found, what is allowed."""
    with pytest.raises(HouseFileError) as refused:
        probes(text)
    assert says in str(refused.value)
    assert "\n" not in str(refused.value)


def test_a_house_says_itself_what_it_keeps():
    """What it leaves out is as usual."""
    assert keeping('keep_every = "0 min"\nkeep_change = "1.8 F"') == Keeping(0.0, 1.0, 10.0)
    assert read_probes.read_keeping(None) is None


@pytest.mark.parametrize(
    "text",
    ['keep_every = "2 h"', 'keep_change = "-1 C"', 'silent = "30 s"', 'silent = "0 min"', "keep_every = 60"],
)
def test_a_house_cannot_keep_so_little_that_a_steady_probe_seems_silent(text):
    """Told in one line, and refused."""
    with pytest.raises(HouseFileError, match=r"^house\.toml, feed\."):
        keeping(text)
