"""The inspector's print-out: complete, corrections with both values, and told from an altered one."""

import csv
import io
import json
from collections.abc import Iterator
from datetime import date, timedelta
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from board.cli import run
from board.house.calendar import day_bounds
from board.ledger import write
from board.ledger.checking import About, Right
from board.ledger.open import Ledger, create_ledger
from board.ledger.state import LoadStage, ProbeWay, WatchEnd, WatchKind
from board.ledger.watching import Watched
from board.sheets.record_csv import record_csv
from board.sheets.record_json import record_document
from board.sheets.record_pdf import record_pdf
from board.sheets.record_text import record_text
from board.views.inspection import Inspection, inspection
from tests.app.boards import night_ledger
from tests.app.house_fixture import DAY, ZONE, at, house
from tests.app.laptop import Laptop

NOW = at("22:00")
SINCE, UNTIL = day_bounds(DAY, ZONE)


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[Ledger]:
    """The fixture's Saturday with a failure, what was done, a correction, and a probe check."""
    with night_ledger(tmp_path / "board.db") as opened:
        record_day(opened)
        yield opened


def said(clock: str, who: str = "wren") -> dict[str, object]:
    """Who and when."""
    return {"who": who, "at": at(clock), "noted_at": at(clock)}


def record_day(ledger: Ledger) -> None:
    """What is done on a Saturday that an inspector asks about."""
    slip = write.take_reading(ledger, 201.0, load="sat-shoulder", **said("05:44"))
    write.correct(ledger, slip.seq, Right(temperature_c=94.0), "read in °F", **said("05:50", "odile"))
    write.mark_step(ledger, "s-pull-shoulder", **said("05:45"))
    write.mark_load(ledger, "sat-shoulder", LoadStage.HOLDING, **said("07:00"))
    write.take_reading(ledger, 62.0, load="sat-shoulder", **said("08:30"))
    write.check_probe(ledger, "red probe", ProbeWay.ICE, 0.4, 120.0, **said("06:10"))
    write.take_reading(ledger, 4.0, place="walk-in", **said("06:20"))
    tub = write.start_watch(
        ledger, Watched(WatchKind.COOLING, "beans", amount="2 pans"), **said("14:00")
    ).subject
    for clock, celsius in (("14:00", 57.0), ("16:01", 30.0)):
        write.take_reading(ledger, celsius, place=tub, **said(clock))
    write.act_on(ledger, About(watch=tub), "thrown away, pans were too deep", **said("16:05"))
    write.end_watch(ledger, tub, WatchEnd.DISCARDED, **said("16:06"))
    write.note(ledger, "=HYPERLINK(1) <b>door</b>", **said("17:00"))


def view(ledger: Ledger) -> Inspection:
    """The Saturday, printed that evening."""
    return inspection(ledger, house(), SINCE, UNTIL, NOW)


def pages(data: bytes) -> list[str]:
    """What each page says, on one line."""
    return [" ".join(page.extract_text().split()) for page in PdfReader(BytesIO(data)).pages]


def test_the_pdf_says_what_an_inspector_asks(ledger: Ledger) -> None:
    """Whose record, whose rules, each verdict with its source, what failed, what was done, both values."""
    found = view(ledger)
    text = " ".join(pages(record_pdf(found)))
    for asked in (
        "Cinder Lane, Saturday 19 December 2026",
        "FDA Food Code",
        "The board advises and records, it does not certify.",
        "6 shoulders, off the pit 19 Dec 05:45",
        "Shown cooked",
        "log10, beside the rule, never instead of it",
        "2 pans of beans, cooling",
        "thrown away, pans were too deep (Wren, 19 Dec 16:05",
        "discarded 16:06 by Wren",
        "94 °C 201 °C",
        "read in °F",
        "red probe",
        "<b>door</b>",
        "Person in charge, date",
        found.sha256,
    ):
        assert asked in text, asked


def test_times_of_a_wrong_clock_are_told_in_every_print_out(ledger: Ledger) -> None:
    """A sign beside the time, and in words by how much; the table and the document say it too."""
    machine = Laptop(clock=at("18:00"))
    ledger.uptime = machine.uptime  # type: ignore[method-assign]
    for hours, wrong in ((0, 0), (1, 2), (1, 0), (1, 0)):
        machine.passes(timedelta(hours=hours))
        shows = machine.clock - timedelta(hours=wrong)
        slip = {"who": "wren", "at": shows, "noted_at": shows}
        write.take_reading(ledger, 3.5 + wrong, place="walk-in", **slip)  # type: ignore[arg-type]
    found = view(ledger)
    (entry,) = (entry for entry in found.entries if entry.data.get("temperature_c") == 5.5)
    text = " ".join(pages(record_pdf(found)))
    assert f"≈ The time of entry {entry.seq} is doubtful: written by a clock 2 h behind." in text
    assert text.count("19 Dec 17:00 ≈") == 2
    assert f"≈ The time of entry {entry.seq} is doubtful" in record_text(found)
    told = {e["seq"]: e["time_doubtful"] for e in record_document(found)["entries"] if e["time_doubtful"]}
    assert told == {entry.seq: {"clock_ahead_s": -7200, "why": "by a clock 2 h behind"}}
    rows = csv.DictReader(io.StringIO(record_csv(found)))
    assert [row["entry"] for row in rows if row["time_doubtful"]] == [str(entry.seq)]


def test_every_page_carries_the_digest_and_its_number(ledger: Ledger) -> None:
    """A page of another record, or one left out, shows."""
    found = view(ledger)
    printed = pages(record_pdf(found))
    for number, page in enumerate(printed, 1):
        assert f"{found.sha256[:16]}…" in page
        assert f"page {number} of {len(printed)}" in page


def test_the_same_record_prints_the_same_bytes(ledger: Ledger) -> None:
    """Two print-outs of one moment can be compared."""
    assert record_pdf(view(ledger)) == record_pdf(view(ledger))


def test_a_failure_nobody_answered_says_so(ledger: Ledger) -> None:
    """An empty place would look like all is well."""
    pan = write.start_watch(ledger, Watched(WatchKind.HOT_HOLD, "gravy"), **said("18:00")).subject
    write.take_reading(ledger, 40.0, place=pan, **said("18:30"))
    assert "nothing is written" in " ".join(pages(record_pdf(view(ledger))))


def test_a_probe_too_far_off_is_among_what_failed(ledger: Ledger) -> None:
    """What it measured is in doubt."""
    write.check_probe(ledger, "blue probe", ProbeWay.ICE, 4.0, 120.0, **said("06:15"))
    found = view(ledger)
    assert [entry.subject for entry in found.bad_probes] == ["blue probe"]
    assert "blue probe, entry" in " ".join(pages(record_pdf(found)))


def test_the_csv_has_every_entry_and_every_verdict(ledger: Ledger) -> None:
    """Nothing an inspector may add up is left out."""
    found = view(ledger)
    rows = list(csv.DictReader(io.StringIO(record_csv(found))))
    assert [row["entry"] for row in rows if row["part"] == "entry"] == [str(e.seq) for e in found.entries]
    assert sum(row["kind"] == "verdict" for row in rows) == len(found.proofs)
    slip = next(row for row in rows if row["temperature_c"] == "201.0")
    assert (slip["corrected_to_c"], slip["says"].startswith("the shoulders read 201°")) == ("94.0", True)
    assert (slip["temperature_f"], slip["corrected_to_f"]) == ("393.8", "201.2")
    assert json.loads(slip["data"])["temperature_c"] == 201.0


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t=", " ="])
def test_no_text_in_the_csv_is_a_formula(ledger: Ledger, start: str) -> None:
    """What a spreadsheet would run begins with an apostrophe; numbers below nought stay numbers."""
    write.start_watch(
        ledger, Watched(WatchKind.COLD_HOLD, f"{start}cmd"), who=f"{start}wren", at=NOW, noted_at=NOW
    )
    write.take_reading(ledger, -18.0, place="freezer", **said("21:00"))
    cells = [cell for row in csv.reader(io.StringIO(record_csv(view(ledger)))) for cell in row]
    assert all(not cell.lstrip(" ").startswith(("=", "+", "@", "\t")) for cell in cells)
    assert [cell for cell in cells if cell.lstrip(" ").startswith("-")] == ["-18.0", "-0.4"]


def test_the_json_tells_the_same(ledger: Ledger) -> None:
    """Verdicts, readings with both values, entries and digest, for other programs."""
    found = view(ledger)
    document = record_document(found)
    assert document["sha256"] == found.sha256
    assert {proof["section"] for proof in document["proofs"]} >= {"cooked", "holding"}
    failed = [proof["about"] for proof in document["proofs"] if proof["failed"]]
    assert failed == ["watch:1219-cooling-1"]
    assert json.loads(json.dumps(document)) == document


def test_a_signature_says_whether_anything_was_added_since(ledger: Ledger) -> None:
    """Signed, then one entry more: the page tells."""
    write.sign(ledger, SINCE, UNTIL, **said("21:00", "odile"))
    assert [one.unchanged for one in view(ledger).signed] == [True]
    write.note(ledger, "one more", **said("21:05"))
    found = view(ledger)
    assert [one.unchanged for one in found.signed] == [False]
    assert "Odile signed this span in the ledger, 19 Dec 21:00: entries were added since" in " ".join(
        pages(record_pdf(found))
    )


def test_an_empty_span_prints_that_it_is_empty(ledger: Ledger) -> None:
    """A day nobody worked is a page too."""
    before = day_bounds(DAY - timedelta(days=30), ZONE)
    text = " ".join(pages(record_pdf(inspection(ledger, house(), *before, NOW))))
    assert "Nothing in this span." in text
    assert "0 entries." in text


SEED = Path(__file__).parents[2] / "seeds" / "tallow_row"


@pytest.fixture
def of_a_house(tmp_path: Path) -> str:
    """A ledger whose house's files are there to be read."""
    path = tmp_path / "board.db"
    with create_ledger(path, "Tallow Row", ZONE, SEED) as opened:
        write.take_reading(opened, 9.0, place="walk-in", **said("06:20"))
    return str(path)


def test_the_command_writes_both_files_and_ends_with_bad_news(
    of_a_house: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A walk-in at 9 °C is a record failing: exit code 1, and the files are written all the same."""
    pdf_file, csv_file = tmp_path / "r.pdf", tmp_path / "r.csv"
    asked = ["record", "--ledger", of_a_house, "--from", "2026-12-19", "--at", "2026-12-19T22:00-06:00"]
    assert run([*asked, "--pdf", str(pdf_file), "--csv", str(csv_file), "--sign", "Odile"]) == 1
    assert pdf_file.read_bytes().startswith(b"%PDF")
    assert csv_file.read_text(encoding="utf-8-sig").startswith("part,entry,")
    assert capsys.readouterr().out == ""
    assert run([*asked, "--json"]) == 1
    document = json.loads(capsys.readouterr().out)
    assert [one["who"] for one in document["signed"]] == ["odile"], "by the id, as on the board"
    assert run(asked) == 1
    assert "fail" in capsys.readouterr().out


@pytest.mark.parametrize(
    "wrong",
    [
        ["--from", "yesteryear"],
        ["--from", "2026-12-19", "--to", "2026-12-18"],
        ["--pdf", "/nowhere/at/all.pdf"],
        ["--from", "2199-12-30", "--sign", "Odile"],
    ],
    ids=["no date", "turned round", "no folder", "signed before it is there"],
)
def test_what_cannot_be_printed_is_refused_in_a_line(
    of_a_house: str, wrong: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    """One line on standard error and exit code 2."""
    assert run(["record", "--ledger", of_a_house, *wrong]) == 2
    assert capsys.readouterr().err.count("\n") == 1


def test_nobody_has_signed_what_could_not_be_written(
    of_a_house: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Ended with 2, nothing is written: neither a signature nor the file that could be."""
    asked = ["record", "--ledger", of_a_house, "--from", "2026-12-19", "--at", "2026-12-19T22:00-06:00"]
    files = ["--pdf", str(tmp_path / "r.pdf"), "--csv", "/nowhere/r.csv"]
    assert run([*asked, *files, "--sign", "Odile"]) == 2
    assert not (tmp_path / "r.pdf").exists()
    capsys.readouterr()
    run([*asked, "--json"])
    assert json.loads(capsys.readouterr().out)["signed"] == []


def test_yesterday_is_a_day(of_a_house: str) -> None:
    """A day of the calendar may be written out; a quiet one ends with 0."""
    quiet = date(2026, 12, 1).isoformat()
    assert run(["record", "--ledger", of_a_house, "--from", quiet]) == 0


def test_a_span_that_is_to_come_is_empty(of_a_house: str, capsys: pytest.CaptureFixture[str]) -> None:
    """A day after the moment of printing has no entries and no verdicts, and that is no error."""
    asked = ["record", "--ledger", of_a_house, "--at", "2026-12-19T22:00-06:00", "--from", "2027-01-05"]
    assert run([*asked, "--to", "2027-01-06", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["entries"] == []
