"""Powder left, nutrient, and money: plain arithmetic, written out."""

from __future__ import annotations

import pytest

from tests.plan.sessions import STIRRED_ALE, plan_of
from workbench.session.model import Supplies


def supplies(**own):
    return plan_of(**STIRRED_ALE, supplies=Supplies(**own)).supplies


def test_what_is_left_of_the_powder():
    used_g = plan_of(**STIRRED_ALE).steps[0].powder_g.value
    assert supplies(powder_g=500.0).left_g.value == pytest.approx(500.0 - used_g)
    assert supplies(powder_g=100.0).left_g.value < 0.0
    assert supplies().left_g.value is None


def test_the_starter_against_packs():
    used_g = plan_of(**STIRRED_ALE).steps[0].powder_g.value
    found = supplies(powder_price=12.0, pack_price=9.0)
    assert found.cost.value == pytest.approx(12.0 * used_g / 1000.0)
    # 238 B are wanted; a pack of 40 days has some 74 B alive: three more beside the one
    assert found.instead.value == pytest.approx(27.0)
    assert (supplies().cost.value, supplies().instead.value) == (None, None)


def test_nutrient_by_the_litre():
    assert supplies(nutrient_g_per_l=0.1).nutrient_g.value == pytest.approx(0.16)
    assert supplies().nutrient_g.value is None
