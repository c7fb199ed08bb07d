"""Any session that the format allows, within what a brewer may meet."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from hypothesis import strategies as st

from tests.plan.sessions import PITCH_AT
from workbench.session.model import (
    Batch,
    Beer,
    Event,
    Flask,
    Foam,
    Keep,
    Lot,
    Reading,
    Session,
    Step,
    WortHabits,
)

_optional = st.none().__or__


def _built(cls: type[Any], **parts: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    """As `st.builds`, which would also fill in what is left out here."""
    return st.fixed_dictionaries(parts).map(lambda found: cls(**found))


_some_litres = st.floats(0.02, 30.0)
_worts = st.floats(0.0001, 0.35)
_cells = st.just(0.0) | st.floats(0.001, 2000.0)
_degrees = st.floats(-20.0, 110.0)
_motions = st.sampled_from(["stirred", "swirled", "still"])
_places = st.sampled_from(["flask", "pot"])
_boils = st.floats(10.0, 7200.0)
_hours = st.floats(0.0, 240.0).map(lambda hours: PITCH_AT - timedelta(hours=hours))

lots = _built(
    Lot,
    kind=_optional(st.sampled_from(["pack", "dry", "slurry", "kept", "counted"])),
    made_on=_optional(st.dates(date(2025, 1, 1), date(2026, 12, 5))),
    packs=st.integers(1, 6),
    cells_b=_optional(_cells),
    cells_low_b=_optional(_cells),
    cells_high_b=_optional(_cells),
    mass_g=_optional(st.floats(0.5, 500.0)),
    volume_l=_optional(st.floats(0.01, 3.0)),
    density_b_per_ml=st.floats(0.01, 10.0),
    viability=st.floats(0.0, 1.0),
    stored_at_c=_degrees,
)

steps = _built(
    Step,
    wort_l=_optional(_some_litres),
    gravity_w=_optional(_worts),
    top_up_l=st.just(0.0) | st.floats(0.0, 3.0),
    decant=st.booleans(),
    hours_s=_optional(st.floats(60.0, 3e6)),
    temperature_c=_optional(_degrees),
    motion=_optional(_motions),
    boil_time_s=_optional(_boils),
    boil_off_ml=_optional(st.floats(0.0, 3000.0)),
    boil_in=_optional(_places),
)

_values = {
    "gravity": st.floats(-0.025, 0.36),
    "brix": st.floats(-3.0, 37.0),
    "temperature": _degrees,
    "volume": _some_litres,
    "count": st.floats(0.0, 1000.0),
}
readings = st.sampled_from(sorted(_values)).flatmap(
    lambda kind: _built(
        Reading,
        at=_optional(_hours),
        step=st.integers(1, 6),
        kind=st.just(kind),
        value=_optional(_values[kind]),
        temperature_c=_optional(_degrees),
        discarded_ml=st.floats(0.0, 100.0) | st.floats(0.0, 3000.0),
    )
)

sessions = _built(
    Session,
    batch=_built(
        Batch,
        name=st.text(max_size=20),
        pitch_at=st.just(PITCH_AT) | st.none(),
        pitch=_optional(st.sampled_from(["whole", "decanted"])),
    ),
    beer=_optional(
        _built(
            Beer,
            volume_l=_optional(st.floats(0.1, 2000.0)),
            gravity_w=_optional(st.floats(0.0, 0.35)),
            type=st.sampled_from(["ale", "lager"]),
            pitch_rate=_optional(st.floats(0.05, 10.0)),
        )
    ),
    yeast=st.lists(lots, max_size=3).map(tuple),
    flask=_built(
        Flask,
        size_l=st.floats(0.1, 20.0),
        fill_limit_l=_optional(_some_litres),
        boil_limit_l=_optional(_some_litres),
        flasks=st.integers(1, 4),
        base_mm=_optional(st.floats(1.0, 400.0)),
        height_mm=_optional(st.floats(100.0, 400.0)),
        neck_mm=_optional(st.floats(1.0, 400.0)),
        wall_mm=_optional(st.floats(0.5, 100.0)),
        brim_l=_optional(_some_litres),
    ),
    wort=_built(
        WortHabits,
        gravity_w=_worts,
        extract_fraction=st.floats(0.5, 1.0),
        boil_time_s=_boils,
        boil_off_ml=st.floats(0.0, 1000.0),
        boil_off_pot_ml=st.floats(0.0, 1000.0),
        boil_in=_places,
        motion=_motions,
        temperature_c=st.floats(10.0, 30.0) | _degrees,
        rest_s=_optional(st.floats(0.0, 4e5)),
        left_after_decant_l=_optional(st.floats(0.0, 1.0)),
    ),
    foam=_built(Foam, drops_per_gallon=st.sampled_from([0.0, 2.0]), drops=_optional(st.integers(0, 20))),
    step=st.lists(steps, max_size=4).map(tuple),
    keep=_optional(
        _built(Keep, cells_b=st.floats(0.0, 1000.0), every_s=st.floats(1.0, 1e9))
        | _built(Keep, volume_l=st.floats(0.0, 3.0))
        | st.just(Keep())
    ),
    reading=st.lists(readings, max_size=4).map(tuple),
    event=st.lists(
        _built(
            Event,
            at=_optional(_hours),
            step=st.integers(0, 5),
            what=st.sampled_from(["boil-on", "boil-done", "yeast-in", "chill-on", "lost"]),
        ),
        max_size=6,
    ).map(tuple),
)
