"""The signatures: each over just the entries that it says it covers."""

from collections.abc import Collection

from board.house.wording import count
from board.ledger import read
from board.ledger.digest import covered, digest
from board.ledger.doctor.finding import Look, some
from board.ledger.doctor.naming import Naming
from board.ledger.open import Ledger
from board.ledger.state import Entry
from board.ledger.times import moment
from board.ledger.told import Told


def look_at_signatures(ledger: Ledger, told: Told, house: Naming) -> Look:
    """Each signature's digest beside that of the entries of its span, as they stood when it was given."""
    signed = read.entries(ledger, since_seq=0, kinds=("signature",))
    broken = broken_signatures(ledger, signed)
    faults = (
        f"entry {one.seq}, the signature of {house.person(one.who)}, is over other entries than lie there now"
        for one in broken
        if one.seq not in told.signatures
    )
    return Look("signatures", f"{count(len(signed), 'signature')}, each over what it covers", some(faults))


def broken_signatures(ledger: Ledger, signed: Collection[Entry]) -> list[Entry]:
    """The signatures that are not over what lies in their span."""
    return [one for one in signed if not _holds(ledger, one)]


def _holds(ledger: Ledger, signature: Entry) -> bool:
    since, until = moment(signature.data["since"]), moment(signature.data["until"])
    then = [entry for entry in covered(ledger, since, until) if entry.seq < signature.seq]
    return bool(signature.data["sha256"] == digest(then))
