"""Every row's gradient against finite differences, and every kind met and unmet."""

import msgspec
import numpy as np
import pytest

from studio.constrain import Sketch, solved
from studio.constrain.system import Spot, System
from studio.errors import BadInput
from tests.constrain.sketches import every_kind, yoke


def dense(system, spot):
    sheet = system.sheet(spot)
    structure = sheet.structure
    matrix = np.zeros((structure.count, system.unknowns))
    np.add.at(matrix, (structure.rows, structure.columns), sheet.values)
    return matrix


def shifted(system, spot, unknown, by):
    columns, slides = spot.columns.copy(), spot.slides.copy()
    if unknown < system.slides_from:
        columns[system.free[unknown // 2]] += by * (1j if unknown % 2 else 1.0)
    else:
        slides[unknown - system.slides_from] += by
    return Spot(columns, slides)


@pytest.mark.parametrize("sketch", [every_kind(), yoke()], ids=["every kind", "yoke"])
def test_gradients_agree_with_central_differences(sketch):
    system = System(sketch)
    spot = system.base
    found = dense(system, spot)
    step = 1e-5
    for unknown in range(system.unknowns):
        there, back = (shifted(system, spot, unknown, by) for by in (step, -step))
        slope = (system.sheet(there).residuals - system.sheet(back).residuals) / (2.0 * step)
        assert found[:, unknown] == pytest.approx(slope, abs=2e-6 * max(1.0, abs(slope).max()))


@pytest.mark.parametrize("name", [asked.name for asked in every_kind().constraints])
def test_each_kind_alone_is_met_within_a_billionth(name):
    sketch = every_kind()
    needed = {"square": {"upper start"}, "run on": {"upper end", "lower end"}}
    kept = {name} | needed.get(name, set())
    asked = tuple(
        msgspec.structs.replace(one, active=one.name in kept) for one in sketch.constraints
    )
    alone = msgspec.structs.replace(sketch, constraints=asked)
    before = System(alone)
    assert before.worst(before.base) > 1e-3
    solution = solved(alone)
    assert solution.met
    assert solution.worst_mm <= 1e-9
    after = System(solution.sketch)
    assert after.worst(after.base) <= 1e-8


@pytest.mark.parametrize(
    "asked",
    [one for one in every_kind().constraints if one.value is not None],
    ids=lambda one: one.name,
)
def test_a_number_can_be_set_and_read_again(asked):
    assert asked.with_value(0.5).value == 0.5


def test_a_kind_without_a_number_refuses_one_by_name():
    with pytest.raises(BadInput, match="smooth"):
        every_kind().constraint("smooth").with_value(3.0)


def test_a_sketch_with_nothing_asked_stays_as_it_is():
    sketch = Sketch(every_kind().nodes)
    assert solved(sketch).sketch == sketch


def test_what_is_not_there_is_named():
    sketch = yoke()
    lost = msgspec.structs.replace(sketch.constraint("length"), run="hem")
    with pytest.raises(BadInput, match="hem"):
        solved(sketch.with_constraint(lost))
