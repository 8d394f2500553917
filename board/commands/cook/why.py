"""The account of a cook, told on a page."""

from board.cooking.account.account import account
from board.cooking.account.figures import Account
from board.cooking.cook import Cook, Estimate
from board.house.model import Display
from board.house.spans import Span
from board.sheets.page import block, page
from board.views.cook_account import heavier_kg, hotter_k, tables


def account_of(cook: Cook, found: Estimate, display: Display, seed: int) -> Account:
    """The account, in steps that are round in the house's units."""
    return account(cook, found, hotter_k=hotter_k(display), heavier_kg=heavier_kg(cook, display), seed=seed)


def why_told(account: Account, cook: Cook, display: Display, read: Span | None, width: int) -> str:
    """The account as a page, a blank line between its questions; `read` is what readings have left."""
    return page(*(block(table, width) for table in tables(account, cook, display, read))).rstrip("\n")
