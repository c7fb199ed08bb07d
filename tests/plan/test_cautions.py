"""Cautions stand at the task they belong to, and only where they apply."""

from __future__ import annotations

import re

import pytest

from tests.plan.sessions import LAGER_IN_TWO_STEPS, STIRRED_ALE, ale, plan_of
from workbench.plan import sources
from workbench.plan.model import Source
from workbench.session.model import Foam, Keep, Step


def by_task(**tables):
    return {moment.name: [c.code for c in moment.cautions] for moment in plan_of(**tables).moments}


def all_of(**tables):
    return [caution for moment in plan_of(**tables).moments for caution in moment.cautions]


def test_each_is_at_its_task():
    found = by_task(**STIRRED_ALE, keep=Keep(cells_b=60.0))
    assert found["clean"] == ["alcohol", "governs"]
    assert found["weigh"] == found["dissolve"] == ["cold-in", "label", "governs"]
    assert found["boil"][:2] == ["scald", "burn"]
    assert {"gas", "flame-out", "bare-flame", "foil", "alcohol", "tired"} < set(found["boil"])
    assert found["off"] == ["scald", "burn", "foil", "lift", "governs"]
    assert found["cool"] == ["shock", "shards", "foil", "lift", "governs"]
    assert found["start"] == ["sealed", "governs"]
    assert found["move"] == ["lift", "mains", "governs"]
    assert found["keep"] == ["jar", "canning", "governs"]
    assert found["pitch"] == found["gravity"] == found["look"] == []


def test_a_pot_takes_the_glass_off_the_burner():
    found = by_task(beer=ale(23.0, 1.056), step=(Step(1.6, boil_in="pot"),))
    assert not {"bare-flame", "foil", "shock", "shards"} & {code for codes in found.values() for code in codes}
    assert "scald" in found["boil"]
    assert found["cool"] == ["pour", "scald", "governs"]


def test_no_drops_no_label_and_no_plate_no_mains():
    assert "label" not in by_task(**STIRRED_ALE, foam=Foam(0.0))["dissolve"]
    swirled = by_task(beer=ale(23.0, 1.056), step=(Step(1.6, motion="swirled"),))
    assert "mains" not in swirled["move"]


def test_the_gas_is_that_of_this_feeding():
    def litres(caution):
        return int(re.search(r"some (\d+) L", caution.says)[1])

    one, two = [c for c in all_of(beer=ale(23.0, 1.056), step=(Step(0.6), Step(1.2))) if c.code == "sealed"]
    assert litres(two) == pytest.approx(2 * litres(one), abs=1)


def test_what_goes_into_the_cold_is_not_sealed_either():
    assert by_task(**LAGER_IN_TWO_STEPS)["chill"] == ["sealed", "governs"]
    assert by_task(beer=None, keep=Keep(cells_b=150.0))["pitch"] == ["jar", "canning", "governs"]


def test_each_is_short_and_has_a_source():
    known = {value for value in vars(sources).values() if isinstance(value, Source)}
    for caution in all_of(**STIRRED_ALE, keep=Keep(cells_b=60.0)):
        assert 20 < len(caution.says) <= 160
        assert caution.source in known


def test_no_time_for_canning_is_given():
    (told,) = [c.says for c in all_of(**STIRRED_ALE, keep=Keep(cells_b=60.0)) if c.code == "canning"]
    assert not re.search(r"\d+ ?(min|h|psi|kPa)", told)
