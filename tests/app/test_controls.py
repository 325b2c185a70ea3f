"""Controls: linked, honest about what they refuse, and quiet when set by a program."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedcalc.app.kit.controls import (
    Controls,
    WidthWatch,
    choice_row,
    group,
    layout_kind,
    list_row,
    slider_row,
)
from bedcalc.model.bed import BedError
from bedcalc.parsing.typed import EntryError
from bedcalc.units import Q_, UnitError

LOW, HIGH = 40, 600


def length_row(**more):
    return slider_row("Length", "cm", LOW, HIGH, 5, Q_(2700, "mm"), **more)


@pytest.fixture
def heard():
    return []


# ---- slider and number box


def test_slider_and_box_start_at_the_value():
    row = length_row()
    assert (row.slider.value, row.entry.value, row.entry.unit) == (270, "270", "cm")
    assert row.name == "length"


def test_moving_the_slider_moves_the_box_and_tells_once(heard):
    row = length_row()
    row.observe(heard.append)
    row.slider.value = 300
    assert row.entry.value == "300"
    assert row.value == Q_(300, "cm")
    (change,) = heard
    assert (change.name, change.new) == ("length", Q_(300, "cm"))
    assert change.old.m_as("mm") == pytest.approx(2700)


def test_the_box_moves_the_slider_to_its_nearest_step_and_keeps_the_size(heard):
    row = length_row()
    row.observe(heard.append)
    row.entry.send_text("273")
    assert row.value == Q_(273, "cm")
    assert row.slider.value == 275
    assert len(heard) == 1


@pytest.mark.parametrize(
    ("typed", "centimetres"),
    [
        ("250", 250),
        ("2.5 m", 250),
        ("2,5 m", 250),
        ("2500mm", 250),
        ("8 ft", 243.84),  # 8 × 30.48
        ("8' 6\"", 259.08),  # 8.5 × 30.48
        ("98 1/2 in", 250.19),  # 98.5 × 2.54
    ],
)
def test_the_box_reads_any_fitting_unit(typed, centimetres):
    row = length_row()
    row.entry.send_text(typed)
    assert row.value.m_as("cm") == pytest.approx(centimetres)
    assert row.entry.says == ""


@pytest.mark.parametrize("typed", ["999", "39", "-3", "7 m", "1e99"])
def test_out_of_range_is_said_and_the_last_good_value_kept(heard, typed):
    row = length_row()
    row.observe(heard.append)
    row.entry.send_text(typed)
    assert heard == []
    assert row.value.m_as("cm") == pytest.approx(270)
    assert (row.entry.value, row.slider.value) == ("270", 270)
    says = row.entry.says.replace("\N{NO-BREAK SPACE}", " ")
    assert "Length" in says  # the field
    assert "40 to 600 cm" in says  # what was needed
    assert typed in says  # what was given
    assert "270 cm" in says  # what stays
    assert row.entry.tone == "refused"


@pytest.mark.parametrize("typed", ["tall", "", "5 kg", "3 m 2", "1,200 mm", "--"])
def test_what_cannot_be_read_is_said(typed):
    row = length_row()
    row.entry.send_text(typed)
    assert row.value.m_as("cm") == pytest.approx(270)
    assert row.entry.tone == "refused"
    assert "270" in row.entry.says


def test_a_doubtful_comma_is_asked_about():
    row = length_row()
    row.entry.send_text("1,200 mm")
    assert "1.200" in row.entry.says
    assert "1200" in row.entry.says


def test_what_was_refused_is_forgotten_by_the_next_good_value():
    row = length_row()
    row.entry.send_text("999")
    row.slider.value = 300
    assert (row.entry.says, row.entry.tone) == ("", "")


def test_typing_what_stands_there_is_no_change(heard):
    row = slider_row("Length", "cm", LOW, HIGH, 5, Q_(100, "inch"))
    row.observe(heard.append)
    row.entry.send_text(row.entry.value)
    assert heard == []
    assert row.value == Q_(100, "inch")


def test_what_a_person_types_is_escaped():
    row = length_row()
    row.entry.send_text("<img src=x onerror=alert(1)>")
    assert "<img" not in row.entry.says
    assert "&lt;img" in row.entry.says


def test_counts_are_whole_numbers(heard):
    row = slider_row("Cross ties", "", 0, 8, 1, 1, name="ties")
    row.observe(heard.append)
    row.slider.value = 2
    assert heard[0].new == 2
    assert isinstance(heard[0].new, int)
    row.entry.send_text("1.5")
    assert row.value == 2
    assert "whole number from 0 to 8" in row.entry.says
    row.entry.send_text("9")
    assert row.value == 2
    row.entry.send_text("0")
    assert row.value == 0


# ---- set, value =, refusals of a callback


def test_set_is_silent(heard):
    row = length_row()
    row.observe(heard.append)
    row.set(Q_(1.8, "m"))
    assert heard == []
    assert (row.slider.value, row.entry.value) == (180, "180")


def test_assigning_tells_as_a_person_would(heard):
    row = length_row()
    row.observe(heard.append)
    row.value = Q_(1.8, "m")
    row.value = Q_(1.8, "m")
    assert len(heard) == 1


def test_a_program_is_told_off_in_the_same_words():
    row = length_row()
    with pytest.raises(EntryError, match="Length: needs 40 to 600 cm"):
        row.value = Q_(9, "m")
    with pytest.raises(UnitError, match="Q_"):
        row.set(270)
    assert row.value.m_as("cm") == pytest.approx(270)


def test_the_ends_give_way_to_a_bed_from_a_file():
    row = length_row()
    row.set(Q_(9.02, "m"))
    assert row.value == Q_(9.02, "m")
    assert row.slider.max >= 902 and row.entry.value == "902"
    row.use("us")
    assert row.slider.max >= 355 and row.value == Q_(9.02, "m")


@pytest.mark.parametrize("error", [BedError, UnitError])
def test_a_refusal_of_the_bed_is_said_beside_the_field(error):
    row = length_row()

    def refuse(change):
        raise error("bed B, length: needs less")

    row.observe(refuse)
    row.slider.value = 300
    assert row.value.m_as("cm") == pytest.approx(270)
    assert (row.slider.value, row.entry.value) == (270, "270")
    assert "needs less" in row.entry.says


def test_other_errors_are_not_swallowed():
    row = length_row()
    row.observe(lambda change: [][0])
    with pytest.raises(IndexError):
        row.value = Q_(3, "m")


# ---- units


def test_switching_units_changes_nothing_and_tells_nobody(heard):
    row = length_row()
    row.observe(heard.append)
    before = row.value
    row.use("us")
    assert row.value is before
    assert row.si == pytest.approx(2.7)
    # 2.7 m = 106.299 in; the slider shows whole inches, the box one decimal
    assert (row.slider.value, row.entry.value, row.entry.unit) == (106, "106.3", "in")
    row.use("metric")
    assert (row.slider.value, row.entry.value) == (270, "270")
    assert row.value is before
    assert heard == []


def test_the_page_hears_of_the_new_step_before_the_new_value():
    slider = slider_row("Length", "cm", 60, 600, 5, 260).slider
    for keys in (["value", "step", "min", "max"], ["min", "value", "max"], None):
        assert list(slider.get_state(keys))[-1] == "value"


def test_the_ends_in_inches_lie_inside_the_metric_ends():
    row = length_row()
    row.use("us")
    # 40 cm = 15.75 in, 600 cm = 236.2 in
    assert (row.slider.min, row.slider.max, row.slider.step) == (16, 236, 1)


def test_timber_in_inches_goes_by_quarters():
    row = slider_row("Rail", "mm", 20, 120, 5, 45)
    row.use("us")
    row.slider.value = 6  # quarters
    assert row.value == Q_(1.5, "inch")
    assert row.entry.value == "1.5"
    row.use("metric")
    assert row.entry.value == "38.1"  # 1.5 × 25.4


def test_own_us_scale():
    row = length_row(us=("ft", 2, 20, 1))
    row.use("us")
    row.slider.value = 10
    assert row.value == Q_(10, "ft")


@given(st.lists(st.sampled_from(["metric", "us"]), max_size=6), st.integers(40, 600))
def test_no_number_of_switches_moves_a_size(switches, centimetres):
    row = length_row()
    row.entry.send_text(str(centimetres))
    size = row.si
    for system in switches:
        row.use(system)
        assert row.slider.min <= row.slider.value <= row.slider.max
    assert row.si == size


@given(st.text(max_size=12))
def test_no_text_breaks_the_box(text):
    row = length_row()
    row.entry.send_text(text)
    assert LOW - 1e-6 <= row.value.m_as("cm") <= HIGH + 1e-6


# ---- choices, lists, many at once


def test_choice_row(heard):
    row = choice_row("Cross ties", [(0, "none"), (1, "one")], 1, name="ties")
    row.observe(heard.append)
    assert row.choice.index == 1
    row.choice.index = 0
    assert [change.new for change in heard] == [0]
    row.set(1)
    assert (row.choice.index, len(heard)) == (1, 1)
    with pytest.raises(EntryError, match="needs one of 0, 1; given 7"):
        row.value = 7


def test_list_row_and_new_options(heard):
    row = list_row("Begin from", ["A", "B"], "B")
    row.observe(heard.append)
    row.dropdown.value = 0
    assert [change.new for change in heard] == ["A"]
    row.relist([("A", "bed A"), ("mine", "my bed")], "mine")
    assert row.value == "mine"
    assert len(heard) == 1
    assert [text for text, _ in row.dropdown.options] == ["bed A", "my bed"]


def test_a_choice_that_is_refused_goes_back():
    row = choice_row("Rail", ["on edge", "flat"], "flat")

    def refuse(change):
        raise BedError("this wall has no rail")

    row.observe(refuse)
    row.choice.index = 0
    assert (row.value, row.choice.index) == ("flat", 1)
    assert "no rail" in row._says.value


def make_many(heard):
    many = Controls(
        length_row(),
        slider_row("Width", "cm", 30, 180, 5, 105),
        choice_row("Cross ties", [0, 1, 2], 0, name="ties"),
    )
    many.observe(heard.append)
    return many


def test_each_move_tells_the_group_once(heard):
    many = make_many(heard)
    many["width"].slider.value = 90
    assert [[change.name for change in changes] for changes in heard] == [["width"]]


def test_a_preset_is_one_update(heard):
    many = make_many(heard)
    with many.busy():
        many["length"].value = Q_(180, "cm")
        many["width"].value = Q_(90, "cm")
        many["ties"].value = 2
    assert len(heard) == 1
    assert [change.name for change in heard[0]] == ["length", "width", "ties"]


def test_a_busy_time_in_another_and_one_without_change(heard):
    many = make_many(heard)
    with many.busy():
        with many.busy():
            many["ties"].value = 1
        assert heard == []
    assert len(heard) == 1
    with many.busy():
        pass
    assert len(heard) == 1


def test_setting_many_is_silent_and_units_go_to_all(heard):
    many = make_many(heard)
    many.set(length=Q_(2, "m"), ties=1)
    many.use("us")
    assert heard == []
    assert many.values["ties"] == 1
    assert many["length"].entry.unit == many["width"].entry.unit == "in"


def test_rows_can_leave_the_page_and_come_back():
    row = length_row()
    row.shown = False
    assert "bc-hide" in row.widget._dom_classes
    row.shown = True
    assert row.shown


def test_a_group_names_what_is_moved_and_escapes_it():
    box = group("Size <b>", length_row())
    assert "<h3>Size &lt;b&gt;</h3>" in box.children[0].value
    assert "bc-row-length" in box.children[1]._dom_classes


@pytest.mark.parametrize(
    ("width", "kind"),
    [(1300, "wide"), (1299, "full"), (900, "full"), (899, "middle"), (520, "middle"),
     (519, "narrow"), (0, "narrow")],
)  # fmt: skip
def test_kinds_of_layout(width, kind):
    assert layout_kind(width) == kind


def test_the_watch_tells_width_and_kind(heard):
    watch = WidthWatch()
    watch.observe(lambda change: heard.append(watch.kind), "width")
    watch.width = 640
    assert heard == ["middle"]
