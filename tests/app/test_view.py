"""Views keep up with the desk, and write only what was moved."""

from __future__ import annotations

import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.app.kit.controls import slider_row
from bedcalc.app.kit.view import View, desk
from bedcalc.app.session import open_session
from bedcalc.figures.fill import fill_figure


@pytest.fixture
def session(tmp_path):
    """A garden with two beds: a long low one, and a short one with three ties."""
    session = open_session(tmp_path / "my_garden.toml")
    session.start("Our plot")
    demo = bc.demo_garden()
    session.add(demo["A"].change(name="Peas"))
    session.add(demo["B"].change(name="Beans", ties=3))
    session.choose("Peas")
    return session


def sizes(about, wide: int = 200) -> View:
    """Two sizes of the bed on the desk, and a year that belongs to no bed."""

    def reads():
        return {"length": about.bed.length, "height": about.bed.height}

    def follow(values, size):
        words = f"{about.bed.name} {values['years']}"
        return fill_figure(about.outcome, system=about.system, **size), words

    rows = [
        slider_row("Length", "cm", 60, wide, 5, Q_(100, "cm"), name="length"),
        slider_row("Height", "cm", 15, 110, 1, Q_(20, "cm"), name="height"),
        slider_row("Years", "", 1, 10, 1, 5, name="years"),
    ]
    return View(
        about, rows, follow, name="sizes", reads=reads,
        writes=lambda moved: about.take(
            about.bed.change(**{k: v for k, v in moved.items() if k != "years"})
        ),
    )  # fmt: skip


def test_controls_stand_where_the_bed_stands(session):
    made = sizes(desk("B", session.path))

    assert made.controls["length"].value == session.garden["Peas"].length
    assert made.controls["height"].value == session.garden["Peas"].height
    assert made.controls["years"].value == 5


def test_another_bed_is_shown_and_never_written_over(session):
    about = desk("B", session.path)
    made, other = sizes(about), sizes(about)
    before = session.garden
    for name in ("Beans", "Peas", "Beans"):
        session.choose(name)
        made.watch.width = 400 if made.watch.width != 400 else 1300
        for view in (made, other):
            assert view.controls["length"].value == before[name].length
            assert view.controls["height"].value == before[name].height
            assert name in view.says.html
    made.reset()

    assert session.garden == before


def test_only_what_was_moved_is_written(session):
    about = desk("B", session.path)
    made = sizes(about)
    session.choose("Beans")
    beans = session.garden["Beans"]
    made.controls["height"].value = Q_(60, "cm")
    made.controls["years"].value = 3

    assert session.garden["Beans"] == beans.change(height=Q_(60, "cm"))
    assert session.garden["Beans"].ties == 3
    assert session.garden["Peas"].height == bc.demo_garden()["A"].height


def test_a_move_while_the_view_still_waits_goes_to_the_new_bed_alone(session):
    import asyncio

    async def choose_and_move() -> None:
        about = desk("B", session.path)
        made = sizes(about)
        session.choose("Beans")  # the view follows a moment later
        made.controls["height"].value = Q_(60, "cm")
        made._waiting.cancel()
        session.flush()

    demo = bc.demo_garden()
    asyncio.run(choose_and_move())

    beans = session.garden["Beans"]
    assert beans.length == demo["B"].length
    assert beans.height == Q_(60, "cm")
    assert session.garden["Peas"] == demo["A"].change(
        name="Peas", x=session.garden["Peas"].x, y=session.garden["Peas"].y
    )


def test_undo_moves_the_controls_back(session):
    made = sizes(desk("B", session.path))
    before = session.garden["Peas"].height
    session._moved_at = 0.0
    made.controls["height"].value = Q_(60, "cm")
    session.undo()

    assert made.controls["height"].value == before


def test_reset_goes_back_to_how_this_bed_was_found(session):
    made = sizes(desk("B", session.path))
    session.choose("Beans")
    found = session.garden["Beans"]
    made.controls["height"].value = Q_(60, "cm")
    made.controls["years"].value = 3
    made.reset()

    assert session.garden["Beans"] == found
    assert made.controls["years"].value == 5


def test_what_is_refused_stays_unwritten(session):
    made = sizes(desk("B", session.path))
    deep = bc.Layer(material="chips", depth=Q_(30, "cm"))
    session.take(session.bed.change(fill=(deep, bc.Layer(material="mix"))))
    before = session.bed
    made.put(height=Q_(20, "cm"), length=Q_(150, "cm"))

    assert "layers that fit" in made.told.html
    assert session.bed == before
    assert made.controls["height"].value == before.height
    assert made.controls["length"].value == before.length


def test_the_demo_bed_comes_and_goes(session):
    about = desk("B", session.path)
    made, before = sizes(about), session.garden
    about.look_at("demo")
    assert made.controls["height"].value == bc.demo_garden()["B"].height
    made.controls["height"].value = Q_(50, "cm")
    about.look_at("own")

    assert session.garden == before
    assert made.controls["height"].value == before["Peas"].height


def test_units_of_the_session_reach_the_controls(session):
    made = sizes(desk("B", session.path))
    session.show_in("us")

    assert made.controls["length"].unit == "inch"
