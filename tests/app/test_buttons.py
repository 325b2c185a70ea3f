"""A double click on a button acts once; two presses act twice."""

from __future__ import annotations

import pytest

import bedcalc as bc
from bedcalc.app.kit import style
from bedcalc.app.kit.check_row import VerdictRow


@pytest.fixture
def clock(monkeypatch):
    """A clock that only the test moves."""

    class Clock:
        now = 1000.0

        def monotonic(self):
            return self.now

    made = Clock()
    monkeypatch.setattr(style, "time", made)
    return made


def click(button) -> None:
    """What arrives from the page when somebody clicks."""
    button._handle_custom_msg({"event": "click"}, [])


def test_a_double_click_acts_once_and_a_later_press_again(clock):
    pressed = []
    button = style.button("Save", lambda: pressed.append(clock.now))
    click(button)
    clock.now += 0.25
    click(button)
    assert pressed == [1000]
    clock.now += 0.5
    click(button)
    assert pressed == [1000, 1000.75]


def test_the_second_click_counts_from_the_end_of_a_slow_act(clock):
    """The page sends it while the first is at work; it arrives right after the end."""
    pressed = []

    def slow():
        pressed.append(clock.now)
        clock.now += 5

    button = style.button("Compute", slow)
    click(button)
    clock.now += 0.01
    click(button)
    assert len(pressed) == 1


def test_a_click_that_arrives_while_it_works_is_not_kept(clock):
    pressed = []

    def slow():
        pressed.append(clock.now)
        clock.now += 5
        click(button)

    button = style.button("Compute", slow)
    click(button)
    assert len(pressed) == 1


def test_a_button_whose_act_failed_can_be_pressed_again(clock):
    presses = style.Presses()
    with pytest.raises(ZeroDivisionError):
        presses.run(lambda: 1 / 0)
    clock.now += 1
    assert presses.counts()


def test_a_script_presses_as_often_as_it_likes(clock):
    pressed = []
    button = style.button("Add", lambda: pressed.append(1))
    button.click()
    button.click()
    assert len(pressed) == 2


def test_a_double_click_on_a_mend_applies_one(clock):
    """After the first click another row may lie under the mouse: it stays untouched."""
    garden = bc.demo_garden()
    outcome = bc.evaluate(garden["B"], garden.place)
    failing = [c for c in outcome.checks if c.fix and c.fix.change][:2]
    assert len(failing) == 2
    applied = []
    rows = [VerdictRow(applied.append) for _ in failing]
    for row, check in zip(rows, failing, strict=True):
        row.show(check, "metric", {})
    click(rows[0].button)
    clock.now += 0.2
    rows[0].show(failing[1], "metric", {})  # the row shows its next verdict by now
    click(rows[0].button)
    click(rows[1].button)
    assert applied == [dict(failing[0].fix.change)]
