"""Works a figure out from values as a person writes them, for tests."""

from __future__ import annotations

from dossier.figures.figure import FIGURES
from dossier.figures.work_out import work_out
from dossier.model import notation
from dossier.model.forms.measurements import Role
from dossier.model.quantity import from_si, variable
from dossier.model.results import Tags, Value, Worked
from dossier.model.units import UNITS


def work(name: str, unit: str = "", **given: object) -> float:
    """The figure's value in `unit` (default: its own); inputs as text, or tuples of text where they are gathered."""
    recipe = FIGURES[name]
    arguments: dict[str, object] = {}
    for one in recipe.inputs:
        said = given.pop(one.param, one.constant)
        assert said != "", f"{name} wants {one.param}"
        if one.words:
            arguments[one.param] = said
            continue
        texts = said if isinstance(said, tuple) else (said,)
        values = tuple(notation.quantity(str(text), one.measured_in.kind).si for text in texts)
        arguments[one.param] = values if one.over else values[0]
    assert not given, f"{name} does not take {sorted(given)}"
    return from_si(recipe.work(**arguments), UNITS[unit] if unit else recipe.measured_in)


def value(name: str, text: str, role: Role = Role.AS_BUILT, **tags: str) -> Value:
    """A value as the folder would give it."""
    said = notation.quantity(text)
    at: Tags = tuple(tags.items())
    return Value(
        name=name, tags=at, role=role, number=variable(said.si, said.u_si, f"{name} {at}"), unit=said.unit.sign, shown=float(said.number),
        u=None if said.u is None else float(said.u), decimals=said.decimals, title=name,
    )  # fmt: skip


def carried_out(values: list[Value], strokes: str = "4") -> dict[str, Worked]:
    """Every as-built figure that these values give, by id."""
    return {one.id: one for one in work_out(values, FIGURES.gather(), strokes) if one.role is Role.AS_BUILT}
