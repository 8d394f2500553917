"""A short run of `python -m tests.faults.bytes`: damage of every kind is found or harmless, and mended."""

from random import Random

import pytest

from tests.faults.bytes import Trial, damages
from tests.ledger.doctor.tampering import make_evening

ONE_IN = 25  # of all damages of every page


@pytest.fixture(scope="module")
def trial(tmp_path_factory: pytest.TempPathFactory) -> Trial:
    """A small ledger with its backup."""
    sound = make_evening(tmp_path_factory.mktemp("sound") / "board.db")
    return Trial(sound, tmp_path_factory.mktemp("damaged"), ())


def test_damage_is_found_or_harmless_and_mended(trial: Trial) -> None:
    """Flipped bytes, lost and swapped pages, a file cut off: none goes unseen; the backup makes all whole."""
    luck = Random(7)
    ways = list(damages(len(trial.content), 4096, 1, luck))
    first = {way.kind: way for way in ways}
    for way in [*first.values(), *luck.sample(ways, len(ways) // ONE_IN)]:
        outcome = trial.outcome(way)
        assert not outcome.isupper(), f"{way.kind} at {way.where}: {outcome}"
