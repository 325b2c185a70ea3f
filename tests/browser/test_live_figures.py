"""A live figure ends like one made anew, whatever was shown before it.

Every view of the workbooks is walked through all its controls; the drawings it shows on
the way go through one figure of the page, as the page gets them. In the end that figure
must be, to the last point and word, one that has only ever seen the last drawing.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from plotly.offline import get_plotlyjs

import bedcalc as bc
from bedcalc import Q_, BedError
from bedcalc.app.desk import Desk
from bedcalc.app.kit import plot
from bedcalc.app.kit.bound_controls import Control
from bedcalc.app.session import Session
from bedcalc.app.site.desk import SiteDesk
from bedcalc.figures.drawing import as_data
from bedcalc.figures.walls import wall_figure
from benchmarks.any_views import PLOTTED, VIEWED

_MODULE = Path(plot.__file__).with_name("plot.js").read_text(encoding="utf-8")
_WALK = """
async ([module, steps]) => {
  const { default: plot } = await import(
    URL.createObjectURL(new Blob([module], { type: 'text/javascript' })));
  const shown = async drawings => {
    let drawing = drawings[0], heard = null;
    const model = { get: () => drawing, on: (_, f) => { heard = f; }, off: () => {} };
    const el = document.createElement('div');
    document.body.append(el);
    const left = await plot.render({ model, el });
    for (drawing of drawings.slice(1)) await heard();
    const chance = new RegExp(el.firstChild._fullLayout._uid, 'g');
    const found = [...el.querySelectorAll('svg.main-svg')]
      .map(e => e.outerHTML.replace(chance, ''));
    left();
    el.remove();
    return found.join('\\n');
  };
  return [await shown(steps), await shown(steps.slice(-1))];
}
"""


@pytest.fixture(scope="module")
def page(chromium):
    page = chromium.new_page(viewport={"width": 1280, "height": 900})
    page.set_content("<!doctype html><meta charset=utf-8><body></body>")
    page.add_script_tag(content=get_plotlyjs())
    yield page
    page.close()


def values_of(control: Control) -> list:
    """Some values of a control: the choices of a list, both ends of a slider."""
    if hasattr(control, "options"):
        return [option[0] for option in control.options][:4]
    entry = getattr(control, "entry", None)
    if entry is None or not entry.step:
        return []
    ends = entry.low, entry.high
    if not hasattr(control.value, "units"):  # a count
        return [int(end) for end in ends]
    return [Q_(float(end), control.value.units) for end in ends]


def named(drawing: dict) -> dict:
    """A copy as it is sent, traces named: plotly would name them by chance."""
    copy = json.loads(json.dumps(drawing))
    for number, trace in enumerate(copy["data"]):
        trace["uid"] = f"trace{number}"
    return copy


def walk(view) -> list[dict]:
    """What a view shows, one drawing after each move, wide and narrow."""
    found = []

    def note() -> None:
        if view.picture is not None:
            found.append(named(view.picture.plot.drawing))

    note()
    for width in (1100, 380):
        view.watch.width = width
        note()
        for control in view.controls:
            start = control.value
            for value in values_of(control):
                try:
                    control.value = value
                except (BedError, ValueError):
                    continue
                note()
            try:
                control.value = start
            except (BedError, ValueError):
                continue
        note()
    return found


@pytest.mark.parametrize("make", [*VIEWED, *PLOTTED], ids=lambda make: make.__name__)
def test_after_a_walk_it_is_as_if_made_anew(page, make, tmp_path):
    demo = bc.demo_garden()
    bc.save(demo, tmp_path / "my_garden.toml")
    session = Session(tmp_path / "my_garden.toml")
    desk = SiteDesk(session) if make in PLOTTED else Desk(demo["B"], session)
    steps = walk(make(desk))
    if not steps:
        pytest.skip("this view has no figure")
    live, anew = page.evaluate(_WALK, [_MODULE, steps])
    assert len(anew) > 300
    assert live == anew


def test_a_figure_that_kept_something_would_be_found(page):
    """The same comparison, of two drawings that differ in one dash."""
    garden = bc.demo_garden()
    one, two = (
        as_data(wall_figure(bc.evaluate(garden["B"].change(length=Q_(m, "m")),
                                        garden.place)))
        for m in (2.7, 2.75)
    )  # fmt: skip
    first, _ = page.evaluate(_WALK, [_MODULE, [named(one)]])
    second, _ = page.evaluate(_WALK, [_MODULE, [named(two)]])
    assert first != second
