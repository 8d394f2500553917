"""A small house written by hand, to change one thing at a time."""

import pytest

FILES = {
    "house.toml": 'name = "Test House"\nzone = "America/Chicago"\n',
    "pits.toml": '[north]\nkind = "offset"\narea = "2 m2"\n',
    "holds.toml": '[bench]\narea = "1 m2"\n[box]\narea = "1 m2"\nsetpoint = "63 C"\n',
    "items.toml": '[sliced]\ncut = "brisket"\nportion = "170 g"\nprice = 17\n',
    "crew.toml": (
        '[people.ann]\n[shifts.always]\npeople = ["ann"]\nat = "00:00"\nlasts = "24 h"\nrule = "FREQ=DAILY"\n'
    ),
    "services.toml": (
        '[lunch]\nat = "11:00"\nlasts = "3 h"\nrule = "FREQ=DAILY"\npromises = { sliced = 40 }\n'
    ),
}


@pytest.fixture
def house_with(tmp_path):
    """A function that writes the small house with some files replaced or added, and gives its folder."""

    def write(**changed):
        for name, text in (FILES | {name.replace("__", "."): text for name, text in changed.items()}).items():
            path = tmp_path / name
            if text is None:
                path.unlink(missing_ok=True)
            elif isinstance(text, bytes):
                path.write_bytes(text)
            else:
                path.write_text(text, encoding="utf-8")
        return tmp_path

    return write
