"""The session keeps one garden for all workbooks: saved by itself, nothing lost."""

from __future__ import annotations

import asyncio
import os
import stat

import pytest

import bedcalc as bc
from bedcalc import Q_, GardenError
from bedcalc.app import session as module
from bedcalc.app.session import Session, new_bed, open_session
from bedcalc.garden.files import free_path, garden_files
from bedcalc.garden.garden import last_good


@pytest.fixture
def path(tmp_path, monkeypatch):
    """Where a garden would be kept: in a folder of its own, where we work."""
    monkeypatch.chdir(tmp_path)
    return tmp_path / "my_garden.toml"


@pytest.fixture
def session(path):
    """A garden with the beds Beans and Kale; Kale is current."""
    session = Session(path)
    session.start("Elm Lane")
    session.add(new_bed("Beans"))
    session.add(new_bed("Kale"))
    return session


def step(session, **change) -> None:
    """A change that is a step by itself, as after a rest."""
    session._moved_at = 0.0
    session.take(session.bed.change(**change))


def names(session) -> list[str]:
    return [bed.name for bed in session.garden]


# ---- changing


def test_nothing_is_written_before_a_garden_is_started(path):
    session = Session(path)
    session.take(session.bed.change(ties=1))
    session.show_in("us")

    assert not session.own and session.bed.ties == 1
    assert list(path.parent.iterdir()) == []


def test_an_empty_start_knows_nothing_but_its_name(path):
    session = Session(path)
    session.start("  Elm   Lane ")

    assert bc.load(path) == bc.Garden.empty("Elm Lane")
    assert session.own and session.bed is None


def test_a_copy_of_the_demo_has_its_beds_under_the_new_name(path):
    session = Session(path)
    session.start("Ours", copy=True)
    demo = bc.demo_garden()

    assert bc.load(path).beds == demo.beds
    assert session.garden.name == "Ours"


def test_a_start_without_a_name_or_over_a_file_is_refused_in_words(path):
    session = Session(path)
    with pytest.raises(GardenError, match="needs some words.*for example 'Our garden'"):
        session.start(" ")
    session.start("Elm Lane")
    before = path.read_bytes()
    with pytest.raises(GardenError, match="file of this name already.*my_garden_2"):
        session.start("Oak Lane")
    assert path.read_bytes() == before


def test_each_change_is_in_the_file_at_once_where_no_loop_runs(session, path):
    step(session, ties=2)

    assert bc.load(path)["Kale"].ties == 2
    assert session.saved and session.saved_at


def test_in_a_workbook_many_moves_are_written_once_after_a_rest(
    session, path, monkeypatch
):
    written = []
    real = module.save
    monkeypatch.setattr(module, "WAIT", 0.05)
    monkeypatch.setattr(module, "save", lambda *a: written.append(1) or real(*a))

    async def drag():
        for cm in range(241, 251):
            session.take(session.bed.change(length=Q_(cm, "cm")))
        assert not session.saved and not written
        await asyncio.sleep(0.2)

    asyncio.run(drag())

    assert len(written) == 1
    assert bc.load(path)["Kale"].length == Q_(250, "cm")
    assert session.saved


def test_what_waits_is_written_when_the_workbook_closes(session, path):
    async def close():
        session.take(session.bed.change(ties=3))
        session.flush()

    asyncio.run(close())

    assert bc.load(path)["Kale"].ties == 3


def test_one_drag_is_one_step_to_undo(session):
    session._moved_at = 0.0
    for cm in (241, 245, 250):
        session.take(session.bed.change(length=Q_(cm, "cm")))
    session.undo()

    assert session.bed.length == Q_(240, "cm")


def test_undo_takes_back_step_by_step_and_stops_at_the_start(session, path):
    step(session, ties=1)
    step(session, ties=2)
    session.undo()
    assert session.bed.ties == bc.load(path)["Kale"].ties == 1
    while session.can_undo:
        session.undo()
    session.undo()

    assert names(session) == []
    assert session.bed is None


def test_undo_leaves_the_units_alone(session):
    step(session, ties=1)
    session.show_in("us")
    session.undo()

    assert session.bed.ties == 0
    assert session.units == "us"


def test_a_deleted_bed_comes_back_where_it_was(session, path):
    session.choose("Beans")
    session.delete()
    assert names(session) == ["Kale"] and session.name == "Kale"
    session.undo()

    assert names(session) == ["Beans", "Kale"]
    assert session.name == "Beans"
    assert [bed.name for bed in bc.load(path)] == ["Beans", "Kale"]


def test_beds_get_free_names_and_a_free_place(session):
    session.add(new_bed("Kale"))
    session.copy()
    session.add()

    assert names(session) == ["Beans", "Kale", "Kale 2", "Kale 3", "Bed 1"]
    tops = [bed.si.y for bed in session.garden]
    assert tops == sorted(tops) and len(set(tops)) == 5


def test_a_bed_with_the_longest_name_can_be_copied(session):
    session.rename("x" * 60)
    session.copy()
    session.copy()

    assert len({name[:55] for name in names(session)[1:]}) == 1
    assert max(map(len, names(session))) == 60


@pytest.mark.parametrize(
    ("name", "words"),
    [("", "needs some words"), ("   ", "needs some words"),
     ("Beans", "a name that no other bed has; given 'Beans'; for example 'Kale 2'"),
     ("x" * 61, "needs a short name")],
)  # fmt: skip
def test_names_that_cannot_be_are_refused_in_words(session, path, name, words):
    before = path.read_bytes()
    with pytest.raises(ValueError, match=words):
        session.rename(name)

    assert names(session) == ["Beans", "Kale"]
    assert path.read_bytes() == before


def test_a_renamed_bed_keeps_its_place_and_its_notes(session, path):
    path.write_text(path.read_text().replace('"Kale"\nlen', '"Kale" # sour soil\nlen'))
    session.reload()
    session.choose("Kale")
    session.rename("Chard")

    assert names(session) == ["Beans", "Chard"]
    assert '"Chard" # sour soil' in path.read_text()


def test_commands_without_a_bed_do_nothing(path):
    session = Session(path)
    session.start("Elm Lane")
    before = path.read_bytes()
    session.delete()
    session.rename("Beans")

    assert session.copy() is None
    assert path.read_bytes() == before


# ---- files


def test_next_time_goes_on_with_the_file_and_the_bed_open_last(session, path):
    other = path.with_name("school.toml")
    bc.save(bc.demo_garden(), other)
    session.open(other)
    session.choose("D")
    module._OPEN.clear()  # a new day
    again = open_session()

    assert (again.path.name, again.name) == ("school.toml", "D")
    again.open(path)
    module._OPEN.clear()
    assert open_session().garden.name == "Elm Lane"
    assert not path.with_name(".bedcalc_garden").exists()


@pytest.mark.parametrize("named", ["gone.toml", "", "../../etc/passwd", "\n\n", "a/b"])
def test_a_note_of_a_file_that_is_gone_is_passed_over(session, path, named):
    path.with_name(".bedcalc_garden").write_text(named)
    module._OPEN.clear()

    assert open_session().garden.name == "Elm Lane"


def test_one_folder_has_one_session(session, path):
    assert open_session() is open_session("my_garden.toml")


def test_only_gardens_are_offered(session, path):
    path.with_name("notes.toml").write_text("title = 'no garden'")
    path.with_name("broken.toml").write_text("place = [")
    path.with_name(".hidden.toml").write_text(path.read_text())

    assert [found.name for found in garden_files(path.parent)] == ["my_garden.toml"]


def test_a_file_that_cannot_be_read_stays_and_the_open_garden_too(session, path):
    bad = path.with_name("bad.toml")
    bad.write_text("format = 2\nplace = 3\n")
    with pytest.raises(GardenError, match="bad.toml"):
        session.open(bad)

    assert session.path == path and names(session) == ["Beans", "Kale"]
    assert bad.read_text() == "format = 2\nplace = 3\n"


def test_a_damaged_file_is_said_and_the_last_good_copy_can_be_used(session, path):
    step(session, ties=1)
    path.write_text(path.read_text()[:300])
    damaged = path.read_text()
    again = Session(path)

    assert not again.own and "my_garden.toml" in again.trouble and again.damaged
    again.use_last_good()
    assert again.own and not again.trouble
    assert names(again) == ["Beans", "Kale"]
    assert path.with_name("my_garden.damaged.toml").read_text() == damaged


def test_every_damaged_file_is_kept(session, path):
    for text in ("first [", "second ["):
        step(session, ties=session.bed.ties + 1)
        path.write_text(text)
        session.use_last_good()
        session.choose("Kale")

    kept = sorted(p.read_text() for p in path.parent.glob("*.damaged*.toml"))
    assert kept == ["first [", "second ["]


def test_a_file_damaged_while_it_is_open_is_not_written_over(session, path):
    path.write_text("oops [")
    step(session, ties=4)

    assert path.read_text() == "oops ["
    assert session.trouble.startswith("Not saved.") and session.damaged
    session.use_mine()
    assert bc.load(path)["Kale"].ties == 4 and session.saved
    assert path.with_name("my_garden.damaged.toml").read_text() == "oops ["


def test_a_newer_file_is_never_set_aside(session, path):
    path.write_text(path.read_text().replace("format = 2", "format = 9"))
    again = Session(path)

    assert "format 9" in again.trouble
    assert not again.own and not again.damaged


@pytest.mark.parametrize(
    "text", ["just some notes\n", "title = 'recipes'\n", "[place]\nname = 'x'\n"]
)
def test_a_file_that_is_no_garden_is_never_written_over(path, text):
    path.write_text(text)
    session = Session(path)
    session.take(session.bed.change(ties=1))
    with pytest.raises(GardenError):
        session.start("Elm Lane")
    with pytest.raises(GardenError):
        bc.save(bc.Garden.empty("Elm Lane"), path)

    assert session.trouble and path.read_text() == text


def test_a_read_only_file_is_left_alone_and_nothing_is_lost(session, path):
    before = path.read_bytes()
    path.chmod(0o444)
    step(session, ties=5)

    assert path.read_bytes() == before
    assert "read-only" in session.trouble and session.bed.ties == 5
    path.chmod(0o644)
    step(session, base_ties=1)
    assert (bc.load(path)["Kale"].ties, session.trouble) == (5, "")


def test_what_could_not_be_saved_is_kept_beside_when_another_is_opened(session, path):
    path.chmod(0o444)
    step(session, ties=5)
    session.open_demo()
    kept = bc.load(path.with_name("my_garden_unsaved.toml"))

    assert kept["Kale"].ties == 5
    assert not session.own and not session.trouble


def test_a_link_stays_a_link_and_the_mode_stays(session, path):
    real = path.with_name("elsewhere.toml")
    path.rename(real)
    real.chmod(0o640)
    path.symlink_to(real)
    step(session, ties=2)

    assert path.is_symlink() and bc.load(real)["Kale"].ties == 2
    assert stat.S_IMODE(os.stat(real).st_mode) == 0o640


def test_a_file_that_was_deleted_is_written_again(session, path):
    path.unlink()
    step(session, ties=1)

    assert bc.load(path)["Kale"].ties == 1


FIRST = """\
# my first garden
format = 1

[place]
name = "Elm Lane"  # by the shed
soil = "clay"
prices = "demo"
survey = [[0, 0, 0.22], [4.8, 0, 0.281], [0, 4.8, 0.611]]

[[beds]]
name = "mine"
length = "240 cm"
width = "1050 mm"
height = "720 mm"
wall = "sheet"
fill_strategy = "logs_chips_mix"
"""


def test_a_format_1_file_loads_and_stays_beside_the_new_one(path):
    path.write_text(FIRST)
    session = Session(path)
    for ties in (1, 2, 3):
        step(session, ties=ties)

    text = path.read_text()
    assert (session.name, bc.load(path)["mine"].ties) == ("mine", 3)
    assert "format = 2" in text and "# by the shed" in text
    assert path.with_name(".my_garden.format1.toml").read_text() == FIRST


def test_the_last_good_copy_is_the_file_before_the_last_save(session, path):
    step(session, ties=1)
    step(session, ties=2)

    assert bc.load(last_good(path))["Kale"].ties == 1


def test_a_free_path_is_one_where_nothing_is(tmp_path):
    first = tmp_path / "a.toml"
    assert free_path(first) == first
    for name in ("a.toml", "a_2.toml"):
        (tmp_path / name).touch()
    assert free_path(first).name == "a_3.toml"


# ---- two workbooks on one file


@pytest.fixture
def two(session, path):
    """The same garden in another workbook too."""
    other = Session(path)
    other.choose("Beans")
    session.choose("Kale")
    return session, other


def test_what_was_changed_elsewhere_is_seen_and_shown_when_asked(two):
    one, other = two
    step(other, ties=3)

    assert one.look() and one.changed_elsewhere
    assert one.garden["Beans"].ties == 0
    one.reload()
    assert one.garden["Beans"].ties == 3 and not one.look()


def test_different_entries_of_one_bed_are_put_together(two, path):
    one, other = two
    other.choose("Kale")
    step(other, ties=3)
    step(one, length=Q_(300, "cm"))
    kale = bc.load(path)["Kale"]

    assert (kale.ties, kale.length) == (3, Q_(300, "cm"))
    assert one.garden["Kale"].ties == 3 and not one.conflicts


def test_beds_added_in_both_are_both_kept(two, path):
    one, other = two
    other.add(new_bed("Leek"))
    one.add(new_bed("Mint"))

    assert {bed.name for bed in bc.load(path)} == {"Beans", "Kale", "Leek", "Mint"}


def test_undo_takes_back_only_what_was_done_here(two, path):
    one, other = two
    step(one, ties=1)
    other.add(new_bed("Leek"))
    step(one, ties=2)
    one.undo()
    one.undo()

    assert one.garden["Kale"].ties == 0
    assert "Leek" in bc.load(path)


@pytest.fixture
def conflict(two):
    """Both have changed the length of Kale, and one of them something else."""
    one, other = two
    other.choose("Kale")
    step(other, length=Q_(200, "cm"))
    other.choose("Beans")
    step(other, ties=2)
    step(one, length=Q_(300, "cm"))
    return one


def test_a_conflict_is_named_and_nothing_is_written_until_answered(conflict, path):
    assert conflict.conflicts == ("beds, Kale, length",)
    assert not conflict.saved
    step(conflict, ties=1)
    conflict.flush()

    assert bc.load(path)["Kale"].length == Q_(200, "cm")


@pytest.mark.parametrize(
    ("whose", "lengths"),
    [("mine", {"Beans": 240, "Kale": 300}), ("theirs", {"Beans": 240, "Kale": 200}),
     ("both", {"Beans": 240, "Kale": 200, "Kale (mine)": 300})],
)  # fmt: skip
def test_the_three_answers_to_a_conflict(conflict, path, whose, lengths):
    conflict.settle(whose)
    found = bc.load(path)

    assert {b.name: round(b.length.m_as("cm")) for b in found} == lengths
    assert found["Beans"].ties == 2  # what nobody disputes stays
    assert conflict.saved and not conflict.conflicts
    step(conflict, base_ties=1)
    assert conflict.saved


def test_a_conflict_is_not_lost_when_another_garden_is_opened(conflict, path):
    conflict.open_demo()

    assert bc.load(path)["Kale"].length == Q_(200, "cm")
    kept = bc.load(path.with_name("my_garden_unsaved.toml"))
    assert kept["Kale"].length == Q_(300, "cm")


def test_the_same_length_in_other_digits_is_no_conflict(session, path):
    place = session.place
    levels = place.levelling.change(limit=Q_(120, "mm"), gravel=Q_(50, "mm"))
    session.take_place(place.change(levelling=levels))
    other = Session(path)
    other.take_place(other.place.change(crew=5))
    limit = session.place.levelling.change(limit=Q_(140, "mm"))
    session.take_place(session.place.change(levelling=limit))

    assert not session.conflicts
    assert bc.load(path).place.levelling.limit == Q_(140, "mm")
