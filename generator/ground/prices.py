"""Prices as a reader writes them."""

from __future__ import annotations

from babel.numbers import format_decimal

from generator.ground.units import Money
from generator.ground.wording import locale


def money(amount: Money) -> str:
    """An amount to the cent with its currency's code (``3.50 EUR``)."""
    text = format_decimal(amount.amount, format="#,##0.00", locale=locale())
    return f"{text}\u202f{amount.currency}"
