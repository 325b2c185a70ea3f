"""The bar of a workbook without a browser: each button, each list, what it says."""

from __future__ import annotations

import pytest

import bedcalc as bc
from bedcalc.app.bar import GardenBar
from bedcalc.app.session import Session


@pytest.fixture
def path(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path / "my_garden.toml"


@pytest.fixture
def bar(path):
    return GardenBar(Session(path))


@pytest.fixture
def own(bar):
    """A bar on a garden of one's own with a bed Bed 1."""
    bar.start.click()
    bar.entry.send_text("Elm Lane")
    bar.acts["Add a bed"].click()
    return bar


def hidden(widget) -> bool:
    return "bc-hide" in widget._dom_classes


def says(bar) -> str:
    return bar.says.html


def answer(bar, words: str) -> None:
    """Press one of the buttons that answer what the line asks."""
    (button,) = [b for b in bar._answers.children if b.description == words]
    button.click()


def offered(control) -> list[str]:
    return [str(value) for value, *_ in control.options]


def test_the_demo_garden_has_one_button_and_says_that_nothing_is_saved(bar):
    assert not hidden(bar.start)
    assert all(hidden(button) and button.disabled for button in bar.acts.values())
    assert "nothing is saved" in says(bar)


def test_start_asks_for_a_name_and_begins_an_empty_garden(bar, path):
    assert hidden(bar._ask)
    bar.start.click()
    assert not hidden(bar._ask) and bar.entry.label == "Name of the garden"
    bar._no.click()
    assert hidden(bar._ask) and not path.exists()
    bar.start.click()
    bar.entry.send_text("  ")
    assert "needs some words" in bar.entry.says and not path.exists()
    bar.entry.value = "Elm Lane"
    bar._ok.click()

    assert bc.load(path).name == "Elm Lane"
    assert hidden(bar._ask) and hidden(bar.start)
    assert "no bed yet" in says(bar)
    for name, button in bar.acts.items():
        assert button.disabled == (name != "Add a bed")


def test_add_copy_rename_delete_undo(own, path):
    for name in ("Copy", "Rename", "Delete", "Undo"):
        assert not own.acts[name].disabled
    own.acts["Copy"].click()
    own.acts["Rename"].click()
    assert own.entry.value == "Bed 2"
    own.entry.send_text("Bed 1")
    assert "a name that no other bed has" in own.entry.says
    own.entry.send_text("x" * 90)
    assert "a short name" in own.entry.says
    own.entry.send_text("Kale")
    assert [b.name for b in bc.load(path)] == ["Bed 1", "Kale"]
    assert own.bed.value == "Kale"
    own.acts["Delete"].click()
    assert [b.name for b in bc.load(path)] == ["Bed 1"]
    own.acts["Undo"].click()

    assert [b.name for b in bc.load(path)] == ["Bed 1", "Kale"]
    assert "Saved in my_garden.toml at " in says(own)


def test_a_bed_is_chosen_and_the_choice_is_kept(own, path):
    own.acts["Add a bed"].click()
    own.bed.set("Bed 1")
    own.session.choose("Bed 1")

    assert own.bed.value == "Bed 1"
    assert bc.load(path).current == "Bed 1"


def test_units_are_kept_in_the_file(own, path):
    own.session.show_in("us")

    assert own.units.value == "us"
    assert bc.load(path).system == "us"


def test_gardens_are_listed_and_turned_to(own, path):
    other = path.with_name("school.toml")
    bc.save(bc.Garden.empty("School"), other)
    own.show()
    own._turn("school.toml")
    assert own.session.garden.name == "School"
    own._turn("demo")
    assert not own.session.own and "demo garden" in says(own)
    own._turn("my_garden.toml")

    assert own.session.garden.name == "Elm Lane"


def test_a_copy_of_the_demo_gets_a_file_of_its_own(own, path):
    own._turn("new, copy")
    own.entry.send_text("Ours")

    assert len(bc.load(path.with_name("my_garden_2.toml")).beds) == 6
    assert bc.load(path).name == "Elm Lane"


def test_a_garden_that_cannot_be_opened_is_said_and_the_old_one_stays(own, path):
    path.with_name("bad.toml").write_text("format = 2\nplace = 1\n")
    own._turn("bad.toml")

    assert "bad.toml" in says(own) and own.says.tone == "refused"
    assert own.session.garden.name == "Elm Lane"


def test_a_damaged_file_offers_the_last_good_copy(own, path):
    own.acts["Add a bed"].click()
    path.write_text("oops [")
    again = GardenBar(Session(path))
    assert "not a garden file" in says(again)
    answer(again, "Use the last good copy")

    assert [b.name for b in bc.load(path)] == ["Bed 1"]
    assert again._answers.children == () and "Saved" in says(again)


def test_a_file_damaged_meanwhile_offers_to_save_what_is_here(own, path):
    path.write_text("oops [")
    own.acts["Add a bed"].click()
    assert "Not saved" in says(own)
    answer(own, "Save it as it is here")

    assert [b.name for b in bc.load(path)] == ["Bed 1", "Bed 2"]
    assert own._answers.children == () and "Saved" in says(own)


def test_a_read_only_file_is_said(own, path):
    path.chmod(0o444)
    own.acts["Add a bed"].click()

    assert "read-only" in says(own) and own.says.tone == "refused"
    assert own._answers.children == ()


def test_what_another_workbook_wrote_is_offered(own, path):
    other = Session(path)
    other.rename("Leek")
    own.session.look()
    assert "changed in another workbook" in says(own)
    answer(own, "Show it here")

    assert own.session.name == "Leek"


@pytest.mark.parametrize(
    ("words", "beds"),
    [("Keep mine", {"Bed 1": 3}), ("Take the other", {"Bed 1": 5}),
     ("Keep both", {"Bed 1": 5, "Bed 1 (mine)": 3})],
)  # fmt: skip
def test_a_conflict_is_asked_about(own, path, words, beds):
    other = Session(path)
    other.take(other.bed.change(ties=5))
    own.session.take(own.session.bed.change(ties=3))
    assert "changed here and elsewhere: beds, Bed 1, ties" in says(own)
    answer(own, words)

    assert {b.name: b.ties for b in bc.load(path)} == beds
    assert own._answers.children == ()


@pytest.mark.parametrize("name", ["<b>bold</b>", 'Grün & "Söhne"', "🌱 7.5 m² ."])
def test_odd_names_are_shown_as_they_are(own, path, name):
    own.acts["Rename"].click()
    own.entry.send_text(name)

    assert bc.load(path).current == name
    assert own.bed.value == name
    assert "<b>" not in says(own)
