"""`board labels`: the labels of a day or of some lots, as text or as a PDF."""

from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from board.ledger import read
from board.ledger.open import open_ledger

from .conftest import AT, say


def lot_of(demo: Path) -> str:
    """The lot of some batch that was made."""
    with open_ledger(demo) as ledger:
        return str(ledger.rows("SELECT lot FROM batches WHERE lot IS NOT NULL ORDER BY lot")[0]["lot"])


def test_labels_of_today_as_text(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Without a batch named, all that are made today or are to be made."""
    code, out, _ = say(capsys, "labels", "--ledger", str(demo), "--at", AT)
    assert code == 0
    assert "lot 1219-" in out
    assert "allergens: " in out
    assert "made ____________ by ____________" in out


def test_labels_of_a_lot_as_pdf(demo: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`--batch` with a lot, `--copies` and `--out` write so many labels of it, and say so."""
    lot, out = lot_of(demo), tmp_path / "labels.pdf"
    code, _, err = say(
        capsys, "labels", "--ledger", str(demo), "--batch", lot, "--copies", "3", "--out", str(out)
    )
    assert (code, err) == (0, f"3 labels written to {out}\n")
    page = PdfReader(BytesIO(out.read_bytes())).pages[0].extract_text()
    assert page.count(f"lot {lot}") == 3


def test_a_batch_is_named_by_its_id_too(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The id by which the plan names a batch prints the same label as its lot."""
    with open_ledger(demo) as ledger:
        state = read.batches_named(ledger, lot_of(demo))[0]
    by_lot = say(capsys, "labels", "--ledger", str(demo), "--batch", str(state.lot))
    assert say(capsys, "labels", "--ledger", str(demo), "--batch", state.id) == by_lot


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        (("--batch", "no-such"), "there is no batch of the lot or id no-such"),
        (("--day", "2026-12-01"), "no batch is made on that day"),
        (("--day", "someday"), "someday"),
        (("--batch", "x", "--day", "today"), "leave --day out"),
        (("--at", AT, "--out", "no/such/folder/labels.pdf"), "no/such/folder/labels.pdf cannot be written"),
    ],
)
def test_what_cannot_be_printed_is_one_line(
    demo: Path, capsys: pytest.CaptureFixture[str], typed: tuple[str, ...], says: str
) -> None:
    """A wrong lot, day or file ends with 2 and a line that says what is wrong."""
    code, out, err = say(capsys, "labels", "--ledger", str(demo), *typed)
    assert (code, out) == (2, "")
    assert says in err
    assert "Traceback" not in err
