"""Where only the unit is missing, the hint names the key's own."""

from __future__ import annotations

import pytest

from workbench.errors import QuantityError
from workbench.session.fields import field_of


@pytest.mark.parametrize(
    ("key", "raw", "right"),
    [("wort.boil_off", "80", '"80 mL"'), ("yeast.0.volume", "150", '"150 mL"'), ("step.0.hours", "24", '"24 h"')],
)
def test_the_unit_is_that_of_the_key(key: str, raw: str, right: str) -> None:
    with pytest.raises(QuantityError) as wrong:
        field_of(key).from_toml(raw)
    assert right in wrong.value.right
