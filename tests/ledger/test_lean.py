"""What opening a ledger loads."""

import subprocess
import sys

ASKED = (
    "import sys, board.ledger.open; "
    "print({'pandas', 'numpy'} & set(sys.modules)); "
    "import numpy; print(numpy.array([1]).sum())"
)


def test_a_ledger_loads_no_array_package_and_leaves_them_to_be_loaded() -> None:
    """Neither pandas nor numpy comes with it; numpy can still be imported afterwards."""
    told = subprocess.run([sys.executable, "-c", ASKED], capture_output=True, text=True, check=True).stdout
    assert told.split("\n")[:2] == ["set()", "1"]
