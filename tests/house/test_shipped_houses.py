"""The houses that come with the program."""

from datetime import date, datetime, time, timedelta
from math import ceil

import pytest

from board.house.calendar import at_time, on_shift, services_on
from board.house.files import read_house
from board.house.model import RecipeKind
from board.house.seeds import seed_house
from board.planning.doubts import every_doubt

BUSIEST = date(2026, 12, 19)


@pytest.fixture(scope="module")
def tallow_row():
    """The demo house."""
    return read_house(seed_house("tallow_row"))


@pytest.mark.parametrize("name", ["tallow_row", "hatch"])
@pytest.mark.parametrize("day", [date(2026, 10, 24), date(2026, 11, 20), BUSIEST, date(2027, 3, 8)])
def test_a_shipped_house_raises_no_doubt(name, day):
    """Both houses read and check clean, holidays and clock changes included."""
    assert every_doubt(read_house(seed_house(name)), day) == []


def test_the_demo_house_has_what_a_busy_house_has(tallow_row):
    """Four kinds of pit, ten cuts, three of each recipe or more, a cure, orders ahead, weeks of sales."""
    assert len({pit.kind for pit in tallow_row.pits.values()}) == 4
    assert len({item.cut for item in tallow_row.items.values()}) >= 10
    kinds = [recipe.kind for recipe in tallow_row.recipes.values()]
    assert all(kinds.count(kind) >= 3 for kind in (RecipeKind.BRINE, RecipeKind.RUB, RecipeKind.GLAZE))
    assert RecipeKind.CURE in kinds
    days = [sale.day for sale in tallow_row.sales]
    assert max(days) - min(days) >= timedelta(days=55)
    assert len({order.collect_at.date() for order in tallow_row.orders}) >= 3


def test_someone_is_at_the_fire_all_through_the_busiest_day(tallow_row):
    """From the evening before to closing time there is no minute without a shift."""
    start = at_time(BUSIEST - timedelta(days=1), time(18), tallow_row.zone)
    covered = start
    for _, begins, ends, _ in on_shift(tallow_row, start, start + timedelta(hours=27)):
        assert begins <= covered
        covered = max(covered, ends)
    assert covered >= at_time(BUSIEST, time(21), tallow_row.zone)


def test_each_promise_of_the_busiest_day_fits_a_pit_that_takes_it(tallow_row):
    """The usual pieces for one service's item are no more than one pit's grate."""
    for service in services_on(tallow_row, BUSIEST):
        for id, portions in service.promises.items():
            item = tallow_row.items[id]
            cut = tallow_row.cuts[item.cut]
            a_piece = item.portions_a_piece or cut.mass_kg.usual * cut.yields.raw_to_served / item.portion_kg
            area = ceil(portions / a_piece) * cut.area_m2
            taking = [pit for pit in tallow_row.pits.values() if not pit.takes or cut.id in pit.takes]
            assert area <= max(pit.area_m2 for pit in taking), (service.id, id)


def test_the_ham_cure_stays_within_the_pumped_limit(tallow_row):
    """9 CFR 424.21(c): at most 200 ppm of nitrite on the green weight at the pump stated."""
    cure = tallow_row.recipes["ham-cure"]
    pickle = sum(i.amount for i in cure.ingredients)
    nitrite = sum(i.amount * i.nitrite for i in cure.ingredients)
    assert 120 <= 1e6 * nitrite / pickle * cure.pickup <= 200


def test_the_tiny_house_is_a_few_lines():
    """One pit and one person: under sixty lines in all, comments included."""
    lines = [p.read_text(encoding="utf-8").count("\n") for p in seed_house("hatch").iterdir()]
    house = read_house(seed_house("hatch"))
    assert (len(house.pits), len(house.people)) == (1, 1)
    assert sum(lines) < 60


def test_sales_tell_only_of_services_that_took_place(tallow_row):
    """Each row of history is a service of that date and an item promised there."""
    for day in {sale.day for sale in tallow_row.sales}:
        held = {service.id: service for service in services_on(tallow_row, day)}
        for sale in (sale for sale in tallow_row.sales if sale.day == day):
            assert sale.item in held[sale.service].promises


def test_past_cooks_are_of_days_the_house_was_open(tallow_row):
    """Forty loads of the weeks before the busiest day, each on a pit that takes its cut and has room."""
    assert len(tallow_row.cooks) == 40
    for cook in tallow_row.cooks:
        pit, cut = tallow_row.pits[cook.pit], tallow_row.cuts[cook.cut]
        assert services_on(tallow_row, cook.day), cook
        assert BUSIEST - timedelta(days=35) < cook.day < BUSIEST
        assert cut.id in pit.takes
        assert cook.pieces * cut.area_m2 <= pit.area_m2
        assert pit.setpoint_c[0] <= cook.setpoint_c <= pit.setpoint_c[1]


def test_orders_are_collected_when_someone_is_there(tallow_row):
    """Every collection falls in a shift."""
    for order in tallow_row.orders:
        at: datetime = order.collect_at
        assert on_shift(tallow_row, at, at + timedelta(minutes=5)), order.id
