"""Cautions stand at the task they belong to, and only where they apply."""

from __future__ import annotations

import re

import pytest

from tests.plan.sessions import STIRRED_ALE, ale, plan_of
from workbench.plan import sources
from workbench.plan.model import Source
from workbench.session.model import Foam, Keep, Step


def by_task(**tables):
    return {moment.key: [c.code for c in moment.cautions] for moment in plan_of(**tables).moments}


def all_of(**tables):
    return [caution for moment in plan_of(**tables).moments for caution in moment.cautions]


def test_each_is_at_its_task():
    found = by_task(**STIRRED_ALE, keep=Keep(cells_b=60.0))
    assert found["step.0.weigh"][:2] == ["scald", "burn"]
    assert {"gas", "flame-out", "bare-flame", "foil", "tired", "cold-in", "label", "shock", "lift"} <= set(
        found["step.0.weigh"]
    )
    assert found["step.0.start"] == ["lift", "sealed", "mains", "governs"]
    assert found["keep.at"] == ["jar", "canning", "governs"]
    assert found["batch.pitch_at"] == []


def test_a_pot_takes_the_glass_off_the_burner():
    found = by_task(beer=ale(23.0, 1.056), step=(Step(1.6, boil_in="pot"),))["step.0.weigh"]
    assert not {"bare-flame", "foil", "shock", "shards"} & set(found)
    assert "scald" in found


def test_no_drops_no_label_and_no_plate_no_mains():
    assert "label" not in by_task(**STIRRED_ALE, foam=Foam(0.0))["step.0.weigh"]
    swirled = by_task(beer=ale(23.0, 1.056), step=(Step(1.6, motion="swirled"),))
    assert "mains" not in swirled["step.0.start"]


def test_the_gas_is_that_of_this_starter_and_of_what_was_fed_before():
    def litres(caution):
        return int(re.search(r"some (\d+) L", caution.says)[1])

    one, two = [c for c in all_of(beer=ale(23.0, 1.056), step=(Step(1.2), Step(1.2))) if c.code == "sealed"]
    assert litres(two) == pytest.approx(2 * litres(one), abs=1)


def test_each_is_short_and_has_a_source():
    known = {value for value in vars(sources).values() if isinstance(value, Source)}
    for caution in all_of(**STIRRED_ALE, keep=Keep(cells_b=60.0)):
        assert 20 < len(caution.says) <= 160
        assert caution.source in known


def test_no_time_for_canning_is_given():
    (told,) = [c.says for c in all_of(**STIRRED_ALE, keep=Keep(cells_b=60.0)) if c.code == "canning"]
    assert not re.search(r"\d+ ?(min|h|psi|kPa)", told)
