import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from halewright.core.mechanics import assignment, kit_use
from halewright.core.mechanics.assignment import Need, Offer, Wanted, Way
from halewright.core.mechanics.rubber import Curve
from halewright.core.people.kit import BandLabel, Material, Shape
from halewright.core.people.person import PersonId

pytestmark = pytest.mark.laws

SIZES = st.floats(0.2, 2.5)
PULLS = st.floats(5.0, 60.0)


@st.composite
def ways(draw: st.DrawFn, *, shape: Shape) -> tuple[Way, ...]:
    """One way of laying a band, and sometimes the same way doubled."""
    longest_m, share = draw(SIZES), draw(st.floats(0.3, 1.0))
    closed = shape is Shape.LOOP
    strands = (1,) if closed else draw(st.sampled_from([(1,), (1, 2), (2,)]))
    hands, fixed_m = (0, 0.0) if closed else (draw(st.integers(0, 2)), draw(st.floats(0.0, 0.3)))
    return tuple(
        Way(
            strands=each,
            longest_m=longest_m,
            start_m=share * longest_m,
            fixed_m=fixed_m,
            hands_count=hands,
            closed=closed,
        )
        for each in strands
    )


@st.composite
def needs(draw: st.DrawFn, *, name: int) -> Need:
    """One person with a few stations."""
    shape = draw(st.sampled_from(Shape))
    wanted = tuple(
        Wanted(
            key=str(k),
            ways=draw(ways(shape=shape)),
            target_n=draw(PULLS),
            most_n=draw(st.none() | PULLS),
        )
        for k in range(draw(st.integers(1, 4)))
    )
    return Need(
        person=PersonId(str(name)), shape=shape, latex_free=draw(st.booleans()), wanted=wanted
    )


@st.composite
def offers(draw: st.DrawFn, *, name: int) -> Offer:
    """A kind of band."""
    return Offer(
        label=BandLabel(str(name)),
        curve=Curve(
            linear_n=draw(st.floats(0.5, 30.0)),
            softening_n=draw(st.floats(0.0, 10.0)),
            stiffening_n=draw(st.floats(0.0, 1.0)),
            most_ratio=draw(st.floats(1.3, 3.5)),
        ),
        shape=draw(st.sampled_from(Shape)),
        material=draw(st.sampled_from(Material)),
        length_m=draw(st.none() | SIZES),
        count=draw(st.integers(0, 3)),
        retired=draw(st.booleans()),
    )


@settings(max_examples=150, deadline=None)
@given(data=st.data(), limit_ratio=st.floats(1.2, 3.0))
def test_nobody_gets_a_band_that_they_may_not_have(data: st.DataObject, limit_ratio: float) -> None:
    """Stretch, length, latex, stock, retirement and a person's limit hold whatever the class is."""
    class_needs = [data.draw(needs(name=k)) for k in range(data.draw(st.integers(0, 5)))]
    bag = [data.draw(offers(name=k)) for k in range(data.draw(st.integers(0, 4)))]

    given_out = assignment.assign(class_needs, bag, limit_ratio=limit_ratio)

    by_label = {offer.label: offer for offer in bag}
    for offer in bag:
        assert sum(each.label == offer.label for each in given_out) <= offer.count
    for need, each in zip(class_needs, given_out, strict=True):
        assert each.person == need.person
        for wanted, station in zip(need.wanted, each.stations, strict=True):
            for grip in (station.grip, station.nearest):
                if grip is None:
                    continue
                offer = by_label[grip.label]
                assert not offer.retired
                assert offer.shape is need.shape
                assert offer.material is Material.LATEX_FREE or not need.latex_free
                most = min(limit_ratio, offer.curve.most_ratio)
                assert 1.0 < grip.stretch_end_ratio <= most * (1 + 1e-6)
                assert wanted.most_n is None or grip.peak_n <= wanted.most_n * (1 + 1e-6)
                if offer.length_m is not None and not wanted.ways[0].closed:
                    wound_m = wanted.ways[0].hands_count * kit_use.HAND_WRAP_M
                    used_m = grip.strands * grip.grip_length_m + wound_m
                    assert used_m <= offer.length_m + 1e-6
