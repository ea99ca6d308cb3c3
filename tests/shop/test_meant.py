"""What is offered in place of a word that leads nowhere."""

from __future__ import annotations

import pytest

from generator.reference import reference
from generator.shop.meant import no_such_id


@pytest.mark.parametrize("code", ["M999", "W950"])
def test_for_an_unknown_sign_the_codes_near_it_are_listed(code: str) -> None:
    error = no_such_id(code, "reference.signs", tuple(reference().signs))
    assert f"`{code[0]}0" in error.mend
    assert "write it there" not in error.mend
