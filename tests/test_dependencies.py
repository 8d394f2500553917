"""What the project depends on: bounded on both sides, from no address of its own, with nothing locked."""

import subprocess
import tomllib
from itertools import chain
from pathlib import Path

import pytest
from packaging.requirements import Requirement

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
EXTRAS = PROJECT["project"]["optional-dependencies"]
WANTED = [
    *PROJECT["build-system"]["requires"],
    *PROJECT["project"]["dependencies"],
    *chain(*EXTRAS.values()),
]


@pytest.mark.parametrize("wanted", WANTED)
def test_every_dependency_is_bounded(wanted: str) -> None:
    """A release never tried here is not taken in unseen; one that is too old is refused (PEP 440)."""
    requirement = Requirement(wanted)
    operators = {each.operator for each in requirement.specifier}
    assert operators & {">=", "~=", "=="}
    assert operators & {"<", "<=", "~=", "=="}
    assert requirement.url is None


def test_nothing_is_locked_and_no_address_is_kept() -> None:
    """Whoever installs it chooses where from."""
    told = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    names = {Path(line).name for line in told.stdout.splitlines()}
    locked = {
        "poetry.lock",
        "uv.lock",
        "Pipfile.lock",
        "pdm.lock",
        "pylock.toml",
        "requirements.txt",
        "pip.conf",
    }
    assert names & locked == set()
    assert not [key for key in PROJECT.get("tool", {}) if key in {"uv", "poetry", "pdm"}]
