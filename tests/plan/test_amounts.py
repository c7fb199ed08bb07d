from __future__ import annotations

import pytest

from workbench.plan.amounts import amount


@pytest.mark.parametrize(
    ("unit", "metric", "us"),
    [
        ("L", "0 L", "0 qt"),
        ("mL", "0 mL", "0 fl oz"),
        ("g", "0 g", "0 oz"),
        ("kg", "0 g", "0 oz"),
        ("mm", "0 mm", "0 in"),
        ("m", "0 m", "0 ft"),
        ("B", "0 B", "0 B"),
    ],
)
def test_a_nothing_is_told_in_a_unit_that_starters_are_measured_in(unit: str, metric: str, us: str) -> None:
    assert str(amount(0.0, unit)) == metric
    assert str(amount(0.0, unit, "us")) == us
    assert str(amount(-0.0, unit, "us")) == us
