"""Doubts about a house, and the command that tells them."""

import json
from datetime import date

import pytest

from board.cli import run
from board.errors import HouseFileError
from board.house.check import doubts, stray_files
from board.house.files import read_house

DAY = date(2026, 12, 14)
SOAK = (
    '[brine]\nkind = "brine"\nuse = "60 %"\nimmersed = "16 h"\n'
    '[[brine.ingredient]]\nname = "water"\namount = "4 kg"\n'
    '[[brine.ingredient]]\nname = "salt"\namount = "200 g"\n'
)
CURE = (
    '[cure]\nkind = "cure"\nuse = "12 %"\n[[cure.ingredient]]\nname = "water"\namount = "10 kg"\n'
    '[[cure.ingredient]]\nname = "curing salt"\namount = "300 g"\nnitrite = "6.25 %"\n'
)
SOAKED = '[[brisket.prep]]\nwhat = "brine"\nrecipe = "brine"\ngap = ["1 h", "8 h"]'
ANN = 'people = ["ann"]\nrule = "FREQ=DAILY"\n'
BY_DAY = f'[people.ann]\n[shifts.day]\nat = "06:00"\nlasts = "12 h"\n{ANN}'
AND_BO = f'[people.ann]\n[people.bo]\n[shifts.a]\nat = "00:00"\nlasts = "24 h"\n{ANN}'
ONLY_SAUSAGE = '[a]\nkind = "oven"\narea = "2 m2"\ntakes = ["sausage"]'
BARE_CURE = CURE.replace("curing salt", "salt").replace('nitrite = "6.25 %"', "")
FREE = '[sliced]\ncut = "brisket"\nportion = "6 oz"'


def test_a_sound_house_raises_no_doubt(house_with):
    """Nothing to ask about a house that covers its cooks."""
    assert doubts(read_house(house_with()), DAY) == []


@pytest.mark.parametrize(
    ("changed", "told"),
    [
        (
            {"recipes__toml": SOAK, "cuts__toml": SOAKED},
            "brine wants 16 h, but the gap after it ends at 8 h",
        ),
        ({"recipes__toml": BARE_CURE}, "a cure in which no"),
        ({"recipes__toml": SOAK}, "recipes.toml, brine: no step of any cut or item uses it"),
        (
            {"cuts__toml": '[brisket]\nwrap = { in = "paper", at = "97 C" }\npull = "95 C"'},
            "cuts.toml, brisket.wrap.at: wrapped at 97 °C, but pulled at 95 °C: it would never be wrapped",
        ),
        ({"pits__toml": ONLY_SAUSAGE}, "pits.toml: no pit takes brisket"),
        (
            {"pits__toml": '[a]\nkind = "oven"\narea = "2 m2"\nsetpoint = ["180 C", "200 C"]'},
            "cuts.toml, brisket.pit: cooks at 107 °C to 135 °C, which no pit that takes it reaches",
        ),
        ({"pits__toml": '[a]\nkind = "oven"\narea = "0.1 m2"'}, "one piece is larger than any pit"),
        ({"crew__toml": None}, "crew.toml: nobody is on any shift"),
        (
            {"crew__toml": BY_DAY},
            "crew.toml: nobody is on shift Sun 13 Dec 18:00 to 06:00, while brisket for lunch may be",
        ),
        (
            {"crew__toml": AND_BO},
            "crew.toml: on no shift: Bo",
        ),
        (
            {"services__toml": '[lunch]\nat = "11:00"\nlasts = "3 h"\nrule = "FREQ=DAILY"'},
            "services.toml, lunch.promises: nothing is promised",
        ),
        ({"holds__toml": None}, "holds.toml: no bench and no hot hold"),
        ({"holds__toml": '[bench]\narea = "1 m2"'}, "holds.toml: no hot hold"),
        ({"items__toml": FREE}, "items.toml, sliced.price: no price"),
        (
            {"sales__csv": "day,service,item,sold\n2026-12-12,brunch,hash,9"},
            "sales.csv, item: not an item of items.toml: hash",
        ),
    ],
)
def test_each_doubt_is_one_sentence_that_says_where(house_with, changed, told):
    """Where it stands, what is doubtful, and why."""
    said = [str(doubt) for doubt in doubts(read_house(house_with(**changed)), DAY)]
    assert any(told in line for line in said), said
    assert all("\n" not in line for line in said)


@pytest.mark.parametrize(
    ("times", "key"),
    [('ready_after = "12 h"\nkeeps = "3 h"', "keeps"), ('ready_after = "300 days"', "ready_after")],
)
def test_a_batch_that_spoils_before_it_is_ready_is_refused(house_with, times, key):
    """The check ends with an error that names the key, whether keeping is told or usual."""
    with pytest.raises(
        HouseFileError, match=f"recipes.toml, brine.{key}: .* keeps at least until it is ready"
    ):
        read_house(house_with(recipes__toml=SOAK.replace('kind = "brine"', f'kind = "brine"\n{times}')))


def test_doubts_of_recipes_stand_as_the_file_has_them(house_with):
    """The same house, the same lines: unused recipes come in the order of the file."""
    ids = ["soak-d", "soak-a", "soak-c", "soak-b", "soak-e", "soak-f"]
    unused = "".join(SOAK.replace("brine", id).replace(f'kind = "{id}"', 'kind = "brine"') for id in ids)
    found = doubts(read_house(house_with(recipes__toml=unused)), DAY)
    lines = [str(line) for line in found if "uses it" in str(line)]
    assert [line.split(":")[0] for line in lines] == [f"recipes.toml, {id}" for id in ids]


def test_a_misspelt_file_is_noticed(house_with):
    """A TOML or CSV file nobody reads is named, with the one it may be meant for."""
    folder = house_with(cut__toml="", notes__csv="a")
    assert str(stray_files(folder)[0]) == "cut.toml: not read; did you mean cuts.toml?"


def test_the_starter_reads_and_checks_clean_and_is_never_overwritten(tmp_path, capsys):
    """`board house new` then `board house check` is silent but for one line; a second new is refused."""
    folder = str(tmp_path / "ours")
    assert run(["house", "new", folder]) == 0
    assert run(["house", "check", folder, "--day", "2026-12-14"]) == 0
    assert "nothing doubtful" in capsys.readouterr().out
    (tmp_path / "ours" / "house.toml").write_text("mine", encoding="utf-8")
    assert run(["house", "new", folder]) == 2
    assert (tmp_path / "ours" / "house.toml").read_text(encoding="utf-8") == "mine"


def test_the_check_ends_with_1_for_doubts_and_2_for_errors(house_with, capsys):
    """Doubts go to standard output, one a line; an error is one line on standard error."""
    folder = house_with(items__toml=FREE)
    assert run(["house", "check", str(folder), "--day", "2026-12-14"]) == 1
    assert capsys.readouterr().out.count("\n") == 1
    assert run(["house", "check", str(folder), "--day", "2026-12-14", "--json"]) == 1
    (doubt,) = json.loads(capsys.readouterr().out)["doubts"]
    assert doubt["where"] == "items.toml, sliced.price"
    folder = house_with(pits__toml='[north]\nkind = "offset"\narea = "3 kg"')
    assert run(["house", "check", str(folder)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("board: pits.toml, north.area: found '3 kg', allowed an area such as 1.8 m2")
    assert err.count("\n") == 1
