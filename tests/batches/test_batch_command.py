"""`board batch` as a cook and a script meet it."""

import json
from pathlib import Path

import pytest

from board.cli import run

HOUSE = {
    "house.toml": 'name = "Low Acre"\nzone = "America/Denver"\n',
    "pits.toml": '[old]\nname = "Old"\nkind = "offset"\narea = "2 m2"\nsetpoint = ["100 C", "140 C"]\n',
    "items.toml": "",
    "services.toml": "",
    "recipes.toml": """
[cure]
kind = "cure"
use = "12 %"
pickup = "10 %"
ready_after = "5 h"
keeps = "24 h"
[[cure.ingredient]]
name = "water"
amount = "10 kg"
[[cure.ingredient]]
name = "salt"
amount = "18 % of water"
[[cure.ingredient]]
name = "curing salt"
amount = "300 g"
nitrite = "6.25 %"
""",
}

POT = '[pot]\nvolume = "20 L"\n'


def batch(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    """Run `board batch` and give its exit code, output and talk."""
    code = run(["batch", *words])
    told = capsys.readouterr()
    return code, told.out, told.err


def test_json_holds_the_promised_keys(capsys):
    """One JSON document with the keys other programs rely on, masses closed."""
    code, out, err = batch(capsys, "ham-cure", "--for", "14 lb", "--json")
    document = json.loads(out)
    assert (code, err) == (0, "")
    assert document["meat_kg"] == pytest.approx(14 * 0.45359237, abs=1e-6)
    assert set(document) >= {"recipe", "kind", "batch_kg", "batch_litres", "ingredients", "warnings"}
    assert set(document["ingredients"][0]) >= {"name", "grams", "amount", "unit"}
    assert set(document["brine"]) >= {
        *("salt_percent", "sugar_percent", "salometer_deg", "density_kg_l", "freezes_c"),
    }
    assert set(document["meat"]) >= {
        *("pickup_percent", "salt_percent", "sugar_percent", "nitrite_ppm", "rule", "verdict"),
    }
    assert set(document["spread"]) >= {"hours_to_90_percent", "depth_mm"}
    assert (document["made_at"], document["ready_from"], document["use_by"]) == (None, None, None)
    grams = sum(line["grams"] for line in document["ingredients"])
    assert grams == pytest.approx(1_000 * document["batch_kg"], abs=0.001)


def test_a_glaze_has_no_brine_and_stays_out_of_the_meat(capsys):
    """What does not apply is null."""
    document = json.loads(batch(capsys, "rib-glaze", "--for", "5 kg", "--json")[1])
    assert (document["brine"], document["meat"], document["spread"]) == (None, None, None)


def test_times_are_told_in_the_houses_zone(capsys):
    """A time without an offset is the house's; answers count elapsed hours over a clock change."""
    words = ("turkey-brine", "--for", "5 kg", "--made-at", "2026-10-31T23:50", "--json")
    document = json.loads(batch(capsys, *words)[1])
    assert document["made_at"] == "2026-10-31T23:50:00-05:00"
    assert document["ready_from"] == "2026-11-01T01:13:00-06:00"
    assert document["use_by"] == "2026-11-02T22:50:00-06:00"


def test_same_words_same_bytes(capsys):
    """The answer depends on nothing but what was asked."""
    words = ("ham-cure", "--for", "6.4 kg", "--pickup", "8 %", "--json")
    assert batch(capsys, *words)[1] == batch(capsys, *words)[1]


def test_the_text_tells_what_to_weigh(capsys):
    """Plain sentences: the lines to weigh, the strength, the meat, the times, what to mind."""
    code, out, _ = batch(capsys, "ham-cure", "--for", "12 kg", "--made-at", "2026-12-09T04:30")
    assert code == 0
    for words in ("curing salt", "Salometer", "In the meat", "within the limit", "use by Thu 10 Dec", "Mind"):
        assert words in out


def test_a_houses_own_recipes_and_pickup(capsys, tmp_path: Path):
    """A house folder's recipe is used, and --pickup moves an injection and its dose."""
    for name, text in HOUSE.items():
        (tmp_path / name).write_text(text)
    code, out, _ = batch(capsys, "cure", str(tmp_path), "--for", "10 kg", "--pickup", "20", "--json")
    document = json.loads(out)
    assert code == 1  # a fifth of this pickle is over the limit: a script must notice
    assert document["batch_kg"] == pytest.approx(2.4)
    assert document["meat"]["nitrite_ppm"] == pytest.approx(0.2 * 18.75e6 / 12_100, rel=1e-6)
    assert document["meat"]["verdict"].startswith("over")


def test_an_over_dose_is_refused_in_text_and_json(capsys, tmp_path: Path):
    """The text leads what to mind with the refusal; the document has it under its own key."""
    for name, text in HOUSE.items():
        (tmp_path / name).write_text(text)
    words = ("cure", str(tmp_path), "--for", "10 kg", "--pickup", "20")
    code, out, _ = batch(capsys, *words)
    assert code == 1
    assert out[out.index("Mind") :].split("\n")[1].startswith("  Cure: 309.9 ppm of sodium nitrite is over")
    (said,) = json.loads(batch(capsys, *words, "--json")[1])["refused"]
    assert "in place of" in said


def test_the_limits_read_are_named_with_their_edition(capsys):
    """A dose of 148 ppm is within the United States' limit, over the Union's, and fit before October 2025."""
    words = ("ham-cure", "--for", "10 kg", "--json")
    assert json.loads(batch(capsys, *words)[1])["limits"]["place"] == "us"
    code, out, _ = batch(capsys, *words, "--limits", "eu")
    assert (code, "2023/2108" in json.loads(out)["limits"]["edition"]) == (1, True)
    code, out, _ = batch(capsys, *words, "--limits", "eu", "--made-at", "2025-10-08T12:00")
    assert (code, "EFSA" in json.loads(out)["limits"]["edition"]) == (0, True)


@pytest.mark.parametrize(("made_at", "code"), [("2025-10-08T23:55", 0), ("2025-10-09T00:00", 1)])
def test_the_day_of_making_is_the_houses_own(capsys, made_at: str, code: int):
    """Five to midnight in Chicago on 8 October is the 9th in UTC, and still made under the older edition."""
    found = batch(capsys, "ham-cure", "--for", "10 kg", "--limits", "eu", "--made-at", made_at, "--json")
    assert found[0] == code
    assert json.loads(found[1])["made_at"].startswith(made_at)


def test_a_cut_and_its_pieces_are_told(capsys):
    """So many pieces of a named cut: millilitres into each, and the surface of them all."""
    words = ("ham-cure", "--for", "30 kg", "--cut", "ham-bone-in", "--pieces", "4", "--json")
    found = json.loads(batch(capsys, *words)[1])
    assert (found["cut"], found["pieces"]) == ("ham-bone-in", 4)
    kept_kg = 30 * found["meat"]["pickup_percent"] / 100
    each_ml = 1_000 * kept_kg / found["brine"]["density_kg_l"] / 4
    assert found["meat"]["ml_a_piece"] == pytest.approx(each_ml, abs=0.1)
    assert found["surface_m2"] > 0


def test_a_tub_is_filled_round_the_meat(capsys):
    """A 20 gal tub with the turkeys in it takes less brine than the tub holds, by the turkeys' own volume."""
    found = json.loads(batch(capsys, "turkey-brine", "--for", "30 kg", "--container", "20 gal", "--json")[1])
    turkey = 20 * 3.785411784 - found["batch_litres"]
    assert 30 / 1.13 < turkey < 30 / 1.02


def test_another_recipe_on_the_same_meat(capsys):
    """`--with` adds its salt to what the meat ends with."""
    found = json.loads(batch(capsys, "ham-cure", "--for", "10 kg", "--with", "pork-rub", "--json")[1])
    assert found["together"]["recipes"] == ["ham cure", "pork rub"]
    assert found["together"]["salt_percent"] > found["meat"]["salt_percent"]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("ham-cure", "--for", "3 kg", "--cut", "hamm"), "allowed a cut such as"),
        (("ham-cure", "--for", "3 kg", "--pieces", "0"), "--pieces"),
        (("ham-cure", "--for", "3 kg", "--pieces", "1000"), "0.003 kg each"),
        (("ham-cure", "--for", "3 kg", "--container", "20 L"), "a brine the meat lies in"),
        (("turkey-brine", "--for", "30 kg", "--container", "5 L"), "take a larger container"),
        (("turkey-brine", "--for", "30 kg", "--container", "5 kg"), "2 qt or 1.9 L"),
        (("ham-cure", "--for", "3 kg", "--with", "nothing"), "is not known"),
        (("ham-cure", "--for", "3 kg", "--hours", "soon"), "--hours"),
        (("ham-cure", "--for", "3 kg", "--hours", "²"), "--hours"),
        (("ham-cure", "--for", "3 kg", "--hours", "9" * 400), "--hours"),
        (("ham-cure", "--for", "3 kg", "--rest", "1 day"), "--rest comes after --hours"),
        (("rib-glaze", "--for", "3 kg", "--hours", "36"), "nothing of rib glaze"),
        (("ham-cure", "--for", "3 kg", "--limits", "moon"), "--limits"),
        (("no-such", "--for", "3 kg"), "its recipes are beef-rub"),
        (("ham-cure", "--for", "3 C"), "such as 14 lb or 6.4 kg"),
        (("ham-cure", "--for", "3"), "such as 14 lb or 6.4 kg"),
        (("ham-cure", "--for", "0 kg"), "more than 0 kg"),
        (("ham-cure",), "--for"),
        (("ham-cure", "--for", "3 kg", "--pickup", "0.08"), "such as 8"),
        (("ham-cure", "--for", "3 kg", "--pickup", "lots"), "such as 8"),
        (("ham-cure", "--for", "3 kg", "--made-at", "dawn"), "such as"),
        (("ham-cure", "no-such-folder", "--for", "3 kg"), "no-such-folder"),
        (("[bold]ham\x1b[31m", "--for", "3 kg"), "is not known"),
    ],
)
def test_bad_input_is_one_line_and_two(capsys, words: tuple[str, ...], told: str):
    """What a person can type wrong is told in one line with what is allowed, and nothing is printed."""
    code, out, err = batch(capsys, *words)
    assert (code, out) == (2, "")
    assert told in err
    assert err.count("\n") == 1
    assert "\x1b" not in err


@pytest.mark.parametrize(
    ("way", "words"),
    [
        ("ice", "Boil it 10 min, then cool it to 4 °C by weighing in"),
        ("ice-bath", "in a bath of about"),
        ("walk-in", "of cure cools too slowly"),
    ],
)
def test_a_boiled_brine_says_how_it_is_cooled_and_when_that_is_too_slow(capsys, tmp_path, way, words):
    """Ice is told with its mass; a pot put straight into the walk-in is warned of, with what would do."""
    boiled = f'[cure]\nboil = "10 min"\nchill = "{way}"\nvessel = "pot"\n'
    recipes = HOUSE["recipes.toml"].replace("[cure]\n", boiled, 1)
    for name, text in {**HOUSE, "recipes.toml": recipes, "containers.toml": POT}.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    code, out, _ = batch(capsys, "cure", str(tmp_path), "--for", "100 kg")
    assert code == 0
    assert words in out


def test_house_check_tells_a_cure_over_its_limit(capsys, tmp_path: Path):
    """Over its limit as written: the check says so, in the recipe's own grams, and ends with 1."""
    for name, text in HOUSE.items():
        (tmp_path / name).write_text(text.replace("300 g", "600 g"))
    code = run(["house", "check", str(tmp_path)])
    (said,) = (line for line in capsys.readouterr().out.splitlines() if "sodium nitrite" in line)
    assert code == 1
    assert said.startswith(
        "recipes.toml, cure: cure: 302.4 ppm of sodium nitrite is over the limit of 200 ppm"
    )
    assert "of curing salt in place of 600 g is within it" in said
