"""Many draws at once come to what each of them comes to alone."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.brewing import drawn, kinetics, spread, starter, viability
from workbench.brewing.spread import Range
from workbench.brewing.starter import Feeding
from workbench.brewing.viability import LOSS_PER_DAY, Lot

DRAWS = spread.draws()

lots = st.builds(
    Lot,
    st.floats(1.0, 500.0).map(lambda b: Range(0.8 * b, b, 1.3 * b)),
    st.floats(0.02, 1.0),
    st.sampled_from(sorted(LOSS_PER_DAY)).map(LOSS_PER_DAY.__getitem__),
    st.floats(0.0, 25.0),
)
stored = st.lists(st.tuples(lots, st.floats(0.0, 400.0)), min_size=1, max_size=3)
feedings = st.lists(
    st.tuples(
        st.builds(
            Feeding,
            st.floats(0.5, 500.0),
            st.booleans(),
            st.sampled_from(sorted(kinetics.MOTION_HOURS)),
            st.floats(0.0, 0.5),
            cold_days=st.just(0.0) | st.floats(0.0, 60.0),
        ),
        st.floats(0.0, 200.0),
    ),
    max_size=4,
)
some_draws = st.sets(st.integers(0, spread.DRAWS - 1), min_size=1, max_size=9).map(sorted)


@given(stored, feedings, some_draws)
def test_each_draw_is_as_if_it_were_drawn_alone(aged, fed, draws):
    each = [drawn.alive(lot, days, draws) for lot, days in aged]
    together = drawn.together(each)
    outs = drawn.cells_out(together, [feeding for feeding, _ in fed], [hours for _, hours in fed], draws)
    assert len(outs) == len(fed)
    for at, draw in enumerate(draws):
        z = DRAWS[draw]
        alone = [viability.alive(lot, days, z) for lot, days in aged]
        assert [stocks.live_b[at] for stocks in each] == pytest.approx([stock.live_b for stock in alone], rel=1e-12)
        stock = viability.together(alone)
        assert together.live_b[at] == pytest.approx(stock.live_b, rel=1e-12)
        if stock.live_b > 0.0:
            assert together.viability[at] == pytest.approx(stock.viability, rel=1e-12)
        out_b = starter.cells_out(stock, [feeding for feeding, _ in fed], [hours for _, hours in fed], z)
        assert [column[at] for column in outs] == pytest.approx(out_b, rel=1e-9, abs=0.0)


@given(stored, feedings, some_draws)
def test_some_draws_are_those_of_all(aged, fed, draws):
    def outs(of):
        stocks = drawn.together([drawn.alive(lot, days, of) for lot, days in aged])
        return drawn.cells_out(stocks, [feeding for feeding, _ in fed], [hours for _, hours in fed], of)

    assert outs(draws) == [[column[draw] for draw in draws] for column in outs(drawn.ALL)]
