"""Reading a house from its folder."""

from datetime import UTC, date, datetime, time

import pytest

from board.errors import HouseFileError
from board.house.files import read_house
from board.house.library import library_cut, pit_prior
from board.house.model import Handling, PitKind, WrapMaterial

PIT = '[north]\nkind = "offset"\n'
RUB = '[rub]\nkind = "rub"\nuse = "2 %"\n'
SERVICE = '[lunch]\nat = "11:00"\nlasts = "3 h"\n'


def test_what_a_pit_does_not_say_comes_from_its_kind(house_with):
    """A kind and an area are enough; fuel grows with the area."""
    pit = read_house(house_with()).pits["north"]
    prior = pit_prior(PitKind.OFFSET)
    assert pit.area_m2 == 2
    assert pit.warm_up_minutes == prior.warm_up_minutes.usual
    assert pit.fuel_kg_per_hour == 2 * prior.fuel_kg_h_m2.usual
    assert pit.h_c_w_m2k == prior.h_c


def test_a_pit_says_what_it_knows_better(house_with):
    """Every key of a pit, in the house's own units."""
    text = (
        '[north]\nname = "North"\nkind = "cabinet"\narea = "20 sq ft"\nsetpoint = ["225 F", "300 F"]\n'
        'warm_up = "1 h 15"\nfuel = "oak"\nfuel_rate = "9 lb/h"\nfuel_price = "0.2 / lb"\nh_c = [8, 11, 14]\n'
        'humidity = [0.02, 0.03, 0.05]\ncontrol_band = "18 F"\nlight_work = "12 min"\ntend = "15 %"\n'
        'takes = ["brisket"]\n[[north.out]]\non = 2026-12-14\nat = "07:00"\nlasts = "9 h"\n'
    )
    pit = read_house(house_with(pits__toml=text)).pits["north"]
    assert pit.setpoint_c == pytest.approx((107.222, 148.889), abs=0.001)
    assert pit.fuel_kg_per_hour == pytest.approx(4.082, abs=0.001)
    assert pit.control_band_c == pytest.approx(10)
    assert pit.light_work.minutes(3) == 12
    assert pit.takes == {"brisket"}
    assert pit.out_of_use[0].first == date(2026, 12, 14)


def test_a_cut_starts_from_the_library_and_overrides_it(house_with):
    """What the house says replaces the library's value, and nothing else changes."""
    text = (
        '[fat-brisket]\nlike = "brisket"\nname = "fat brisket"\nmass = ["12 lb", "16 lb", "20 lb"]\n'
        'pull = "203 F"\nwrap = { in = "foil", at = "165 F" }\n'
        '[pork-loin]\nhandling = "injected"\nmass = "4 kg"\nwrap = "none"\nyields = { cooked = "80 %" }\n'
    )
    house = read_house(house_with(cuts__toml=text))
    cut, base = house.cuts["fat-brisket"], library_cut("brisket")
    assert cut.mass_kg.usual == pytest.approx(16 * 0.45359237)
    assert (cut.wrap.material, cut.wrap.work) == (WrapMaterial.FOIL, base.wrap.work)
    assert cut.composition == base.composition
    assert cut.area_m2 == pytest.approx(base.area_m2 * (cut.mass_kg.usual / base.mass_kg.usual) ** (2 / 3))
    loin = house.cuts["pork-loin"]
    assert loin.handling is Handling.INJECTED
    assert loin.mass_kg.low / loin.mass_kg.usual == pytest.approx(2.4 / 4.1)
    assert loin.yields.trimmed_to_cooked.usual == pytest.approx(0.8)
    assert house.cuts["sausage"] == library_cut("sausage")


def test_a_house_ends_a_cook_its_own_way(house_with):
    """The library's brisket comes off tender; a pull of the house's own is its least core."""
    base = library_cut("brisket")
    assert base.end_core_c < base.pull_core_c
    text = (
        '[brisket]\npull = "203 F"\nsize = { thin_end = "1 in" }\n'
        '[softer]\nlike = "brisket"\ntender = "3 h"\n'
        '[by-core]\nlike = "brisket"\npull = "200 F"\ntender = "0 min"\n'
        '[low]\nlike = "brisket"\npull = "203 F"\ntender_core = "185 F"\n'
    )
    cuts = read_house(house_with(cuts__toml=text)).cuts
    ends = {
        id: (round(cuts[id].end_core_c), cuts[id].tender_minutes)
        for id in ("brisket", "softer", "by-core", "low")
    }
    assert ends == {
        "brisket": (95, base.tender_minutes),
        "softer": (round(base.end_core_c), 180.0),
        "by-core": (93, 0.0),
        "low": (85, base.tender_minutes),
    }
    assert cuts["brisket"].size.thin_end_m == pytest.approx(0.0254)
    assert cuts["low"].size.thin_end_m == base.size.thin_end_m


def test_a_thinner_piece_has_a_thinner_thin_end(house_with):
    """A house that gives only how thick its briskets are keeps the library's shape of their ends."""
    base = library_cut("brisket").size
    cuts = read_house(house_with(cuts__toml='[brisket]\nsize = { thickness = "5 cm" }\n')).cuts
    assert cuts["brisket"].size.thin_end_m == pytest.approx(0.05 * base.thin_end_m / base.thickness_m)


def test_prep_and_finish_run_in_the_order_written(house_with):
    """Raw meat waits chilled, unless it tempers or the row says otherwise."""
    cuts = (
        '[[brisket.prep]]\nwhat = "rub"\nrecipe = "rub"\nwork = { fixed = "5 min", each = "2 min" }\n'
        'gap = ["30 min", "12 h"]\n[[brisket.prep]]\nwhat = "temper"\ngap = ["20 min", "40 min"]\n'
    )
    recipes = RUB + '[[rub.ingredient]]\nname = "salt"\namount = "1 kg"\n'
    first, second = read_house(house_with(cuts__toml=cuts, recipes__toml=recipes)).cuts["brisket"].prep
    assert (first.what, first.recipe, first.chilled) == ("rub", "rub", True)
    assert first.work.minutes(10) == 25
    assert (second.gap_minutes, second.chilled) == ((20, 40), False)


@pytest.mark.parametrize(
    ("amount", "more", "kg", "basis"),
    [
        ("1.2 kg", "", 1.2, "kg"),
        ("1 lb 8 oz", "", 0.68038856, "kg"),
        ("1 cup", "", 0.292, "kg"),  # table salt: USDA SR26, NDB 02047
        ("2 cup", 'density = "150 g/cup"', 0.300, "kg"),
        ("2 parts", "", 2.0, "kg"),
        ("2.5 % of meat", "", 0.025, "of meat"),
        ("2.5% of the meat", "", 0.025, "of meat"),
    ],
)
def test_an_amount_is_read_by_weight_volume_parts_or_share(house_with, amount, more, kg, basis):
    """Each way of writing an amount gives kilograms, or a share of the meat."""
    text = f'{RUB}[[rub.ingredient]]\nname = "salt"\namount = "{amount}"\n{more}\n'
    (line,) = read_house(house_with(recipes__toml=text)).recipes["rub"].ingredients
    assert (line.amount, line.basis, line.role) == (pytest.approx(kg, rel=1e-3), basis, "salt")
    assert line.as_written == amount


def test_a_part_may_be_a_measure_of_volume(house_with):
    """Two parts of a cup each weigh two cups of that ingredient."""
    text = RUB + 'part = "1 cup"\n[[rub.ingredient]]\nname = "paprika"\namount = "2 parts"\n'
    (line,) = read_house(house_with(recipes__toml=text)).recipes["rub"].ingredients
    assert line.amount == pytest.approx(2 * 0.1088, rel=0.01)


def test_orders_of_several_lines_share_their_first_line_s_name(house_with):
    """One order may ask for items and whole pieces; a bare time is the house's."""
    text = (
        "\ufefforder;name;collect;item;portions;cut;pieces;note\n"
        "a1;Juno Marsh;2026-12-19T10:00;sliced;12;;;ring first\n"
        "a1;;;;;ham-bone-in;2;\n\n"
        "b2;Ludo Hale;2026-12-18T10:00-05:00;;;turkey-whole;1;\n"
    )
    orders = read_house(house_with(orders__csv=text)).orders
    assert [o.id for o in orders] == ["b2", "a1"]
    assert orders[1].collect_at == datetime(2026, 12, 19, 16, tzinfo=UTC)
    assert orders[0].collect_at == datetime(2026, 12, 18, 15, tzinfo=UTC)
    assert [(line.portions, line.pieces) for line in orders[1].lines] == [(12, 0), (0, 2)]
    assert orders[1].note == "ring first"


def test_sales_are_read_in_order_of_date(house_with):
    """A sell-out keeps its time of day; what is left defaults to nought."""
    text = (
        "day,service,item,sold,left,sold_out_at\n"
        "2026-12-12,lunch,sliced,40,0,13:20\n"
        "2026-12-11,lunch,sliced,31\n"
    )
    sales = read_house(house_with(sales__csv=text)).sales
    assert [s.day for s in sales] == [date(2026, 12, 11), date(2026, 12, 12)]
    assert (sales[0].left, sales[0].sold_out_at, sales[1].sold_out_at) == (0, None, time(13, 20))


@pytest.mark.parametrize(
    ("file", "text", "told"),
    [
        (
            "pits.toml",
            PIT + 'area = "3 kg"',
            "pits.toml, north.area: found '3 kg', allowed an area such as 1.8 m2",
        ),
        ("pits.toml", PIT + "area = 3", "pits.toml, north.area: found 3, allowed an area such as"),
        ("pits.toml", PIT, "pits.toml, north.area: found nothing, allowed an area"),
        ("pits.toml", PIT + 'area = "0 m2"', "above nought"),
        (
            "pits.toml",
            PIT + 'area = "2 m2"\nwarmup = "1 h"',
            "north.warmup: found an unknown key, did you mean warm_up?",
        ),
        ("pits.toml", PIT + 'area = "2 m2"\nsetpoint = ["300 F", "225 F"]', "lowest first"),
        ("pits.toml", PIT + 'area = "2 m2"\nsetpoint = ["1 C", "2 C"]', "between 30 C and 400 C"),
        ("pits.toml", PIT + 'area = "2 m2"\ntakes = ["briskit"]', "not briskit"),
        ("pits.toml", '[north]\nkind = "smoky"\narea = "2 m2"', "allowed one of offset, cabinet, rotisserie"),
        ("pits.toml", PIT + 'area = "2 m2"\n' + PIT, "pits.toml: found the same name twice"),
        ("pits.toml", "", "pits.toml: found no pit"),
        (
            "pits.toml",
            '[North]\nkind = "offset"\narea = "2 m2"',
            r"found [North], allowed an id of lower-case",
        ),
        ("pits.toml", 'north = "offset"', "pits.toml, north: found 'offset', allowed a table of keys"),
        ("pits.toml", PIT + "area = \n", "pits.toml: cannot be read as TOML, line 3"),
        (
            "pits.toml",
            '[north]\nname = "N\xf6rd"'.encode("latin-1"),
            "pits.toml, line 2: found text that is not UTF-8",
        ),
        ("pits.toml", None, "pits.toml: found no such file"),
        (
            "house.toml",
            'name = "H"\nzone = "Mars/Base"',
            "zone: found 'Mars/Base', allowed a zone name such as",
        ),
        ("house.toml", 'zone = "UTC"', "house.toml, name: found nothing"),
        ("house.toml", 'name = "H"\nzone = "UTC"\nchance = "100 %"', "below 100 %"),
        ("house.toml", 'name = "H"\nzone = "UTC"\naltitude = "9000 m"', "height above the sea"),
        ("house.toml", 'name = "H"\nzone = "UTC"\n[display]\nmass = "stone"', "allowed one of kg, lb"),
        ("house.toml", 'name = "H"\nzone = "UTC"\n[display]\nclock_hours = 10', "allowed 12 or 24"),
        ("house.toml", 'name = "a\\u001b[31m"\nzone = "UTC"', "house.toml, name: found 'a?[31m'"),
        (
            "holds.toml",
            '[box]\narea = "1 m2"\nsetpoint = "63"',
            "allowed a temperature such as 225 F or 107 C",
        ),
        ("cuts.toml", '[brisket]\nmass = ["0 kg", "0 kg", "0 kg"]', "the mass of one piece, from 10 g"),
        ("cuts.toml", '[brisket]\nmass = "0 kg"', "brisket.mass: found '0 kg'"),
        ("cuts.toml", '[brisket]\nmass = ["18 lb", "14 lb", "11 lb"]', "low, usual, high"),
        ("cuts.toml", '[brisket]\nrest = ["4 h", "1 h"]', "shortest first"),
        ("cuts.toml", '[brisket]\nyields = { cooked = "140 %" }', "allowed a share above nought"),
        ("cuts.toml", '[brisket]\nyields = { cooked = "0 %" }', "allowed a share above nought"),
        ("cuts.toml", '[brisket]\ncomposition = { water = "90 %" }', "parts that sum to about 100 %"),
        ("cuts.toml", '[brisket]\nwrap = "cling film"', 'allowed "none", or a table of in, at and work'),
        (
            "cuts.toml",
            '[brisket]\nstart = "-5 C"',
            "brisket.start: found '-5 C', allowed a core that is thawed",
        ),
        (
            "cuts.toml",
            '[brisket]\npull = "203 C"',
            "brisket.pull: found '203 C', allowed a core above its start",
        ),
        (
            "cuts.toml",
            '[brisket]\nstart = "98 C"',
            "brisket.pull: found nothing, allowed a core above its start",
        ),
        (
            "cuts.toml",
            '[brisket]\ntender_core = "0 C"',
            "brisket.tender_core: found '0 C', allowed a core above",
        ),
        (
            "cuts.toml",
            '[brisket]\ntender = "9 days"',
            "brisket.tender: found '9 days', allowed a time up to 24 h",
        ),
        ("cuts.toml", '[brisket]\nsize = { width = "0 m" }', "brisket.size.width"),
        (
            "cuts.toml",
            '[shoulder]\npull = "95 C"',
            "cuts.toml, shoulder.like: found nothing, allowed one of brisket",
        ),
        (
            "cuts.toml",
            '[[brisket.prep]]\nwhat = "rub"\nrecipe = "dust"',
            "brisket.prep[1].recipe: found 'dust'",
        ),
        (
            "items.toml",
            '[a]\ncut = "beef"\nportion = "1 lb"',
            "items.toml, a.cut: found 'beef', allowed one of",
        ),
        ("items.toml", '[a]\ncut = "brisket"', "one of portion (a mass) and portions_a_piece"),
        ("items.toml", '[a]\ncut = "brisket"\nportion = "6"', "allowed a mass such as 14 lb or 6.4 kg"),
        ("services.toml", SERVICE + 'rule = "DAILY"', "allowed an RFC 5545 rule of days"),
        ("services.toml", SERVICE + 'rule = "FREQ=HOURLY"', "allowed an RFC 5545 rule of days"),
        ("services.toml", SERVICE + 'rule = "FREQ=DAILY"\non = 2026-12-01', "either 'on' for a single date"),
        ("services.toml", SERVICE + "on = 2026-13-01", "services.toml: cannot be read as TOML"),
        ("services.toml", SERVICE + 'on = "2026-02-30"', "allowed a date such as 2026-12-19"),
        (
            "services.toml",
            '[lunch]\nat = "25:00"\nlasts = "3 h"\non = 2026-12-01',
            "allowed a time of day such as",
        ),
        ("services.toml", '[lunch]\nat = "11:00"\nlasts = "90 days"\non = 2026-12-01', "at most 31 days"),
        (
            "services.toml",
            SERVICE + "on = 2026-12-01\npromises = { ribs = 3 }",
            "lunch.promises: found 'ribs'",
        ),
        ("services.toml", SERVICE + "on = 2026-12-01\npromises = { sliced = -3 }", "allowed a whole number"),
        (
            "services.toml",
            SERVICE + "on = 2026-12-01\npromises = { sliced = true }",
            "allowed a whole number",
        ),
        ("services.toml", SERVICE + 'on = 2026-12-01\nchance = "0 %"', "a chance above 0 %"),
        (
            "crew.toml",
            '[shifts.day]\npeople = ["bo"]\nat = "09:00"\nlasts = "8 h"\nrule = "FREQ=DAILY"',
            "found 'bo'",
        ),
        ("recipes.toml", RUB, "recipes.toml, rub: found no ingredient"),
        (
            "recipes.toml",
            RUB + '[[rub.ingredient]]\nname = "salt"\namount = "3 handfuls"',
            "allowed an amount such as",
        ),
        (
            "recipes.toml",
            RUB + '[[rub.ingredient]]\nname = "stardust"\namount = "3 cup"',
            "recipes.toml, rub.ingredient[1].density: found nothing, allowed the ingredient's density",
        ),
        (
            "recipes.toml",
            RUB + '[[rub.ingredient]]\nname = "curing salt"\namount = "3 g"',
            "rub.ingredient[1].nitrite: found nothing, allowed the share of nitrite printed on the",
        ),
        (
            "recipes.toml",
            RUB + '[[rub.ingredient]]\nname = "powder"\nrole = "cure"\namount = "3 g"',
            "rub.ingredient[1].nitrite",
        ),
        (
            "recipes.toml",
            RUB
            + '[[rub.ingredient]]\nname = "salt"\namount = "3 g"\n'
            + '[[rub.ingredient]]\nname = "sugar"\namount = "1 part"',
            "rub.part: found nothing, allowed what one part is",
        ),
        (
            "recipes.toml",
            RUB + '[[rub.ingredient]]\nname = "salt"\namount = "3 % of water"',
            "allowed beside an ingredient water",
        ),
        ("recipes.toml", RUB.replace("2 %", "0 %"), "recipes.toml, rub"),
        ("orders.csv", "order,name,collect\na,Bo,noon", "orders.csv, line 2, item: found nothing"),
        (
            "orders.csv",
            "order,name,collect,item,portions\na,Bo,noon,sliced,1",
            "allowed a date and time such as",
        ),
        (
            "orders.csv",
            "order,name,collect,item,portions\na,Bo,2026-12-19T10:00,ribs,1",
            "item: found 'ribs'",
        ),
        ("orders.csv", "order,name,collect,item,portions\na,Bo,2026-12-19T10:00,sliced,0", "above nought"),
        ("orders.csv", "order,name,collect,itm\n", "unknown column 'itm', did you mean item?"),
        ("orders.csv", "order,name\n", "orders.csv, line 1: found no column collect"),
        ("orders.csv", "order,name,collect\na,b,c,d", "orders.csv, line 2: found 4 cells, allowed 3"),
        (
            "orders.csv",
            "order,name,collect,item,portions\na,Bo,2026-12-19T10:00,sliced,1\na,Cy,2026-12-19T10:00,sliced,1",
            "orders.csv, line 3, name: found 'Cy', allowed Bo, whose order a is",
        ),
        (
            "sales.csv",
            "day,service,item,sold\n2026-12-12,lunch,sliced,many",
            "sales.csv, line 2, sold: found 'many'",
        ),
        (
            "sales.csv",
            "day,service,item,sold\n2026-12-12,lunch,sliced,1\n2026-12-12,lunch,sliced,2",
            "sales.csv, line 3, item: found 'sliced', allowed each item once a service: line 2 tells",
        ),
    ],
)
def test_what_is_wrong_is_told_in_one_line(house_with, file, text, told):
    """The file, the key or line, what was found and what is allowed; never a traceback."""
    with pytest.raises(HouseFileError) as caught:
        read_house(house_with(**{file.replace(".", "__"): text}))
    assert told in str(caught.value)
    assert "\n" not in str(caught.value)
    assert str(caught.value).isprintable()


def test_a_folder_that_is_not_there_is_told(tmp_path):
    """The error names the folder."""
    with pytest.raises(HouseFileError, match="found no folder"):
        read_house(tmp_path / "nowhere")


def test_a_folder_in_place_of_a_file_is_told(house_with):
    """A file that cannot be read is an error of one line."""
    folder = house_with(holds__toml=None)
    (folder / "holds.toml").mkdir()
    with pytest.raises(HouseFileError, match=r"holds.toml: "):
        read_house(folder)


def test_files_saved_with_a_byte_order_mark_are_read(house_with):
    """Editors on some systems write one."""
    text = '\ufeffname = "Bom"\r\nzone = "UTC"\r\n'
    assert read_house(house_with(house__toml=text)).name == "Bom"
