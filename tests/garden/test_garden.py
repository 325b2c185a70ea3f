"""A garden is saved as text, opened again as it was, and never lost half-way."""

from __future__ import annotations

import os
import subprocess
import sys
import textwrap

import pytest

import bedcalc as bc
from bedcalc import Q_, Garden, GardenError


@pytest.fixture
def garden():
    return bc.demo_garden()


def test_the_demo_garden_has_six_beds_and_twelve_readings(garden):
    assert [bed.name for bed in garden.beds] == list("ABCDEF")
    assert len(garden.place.survey.readings) == 12
    assert garden["B"].height == Q_(720, "mm")


def test_there_and_back(garden, tmp_path):
    path = bc.save(garden, tmp_path / "g.toml")

    assert bc.load(path) == garden


def test_there_and_back_with_everything_changed(garden, tmp_path):
    layers = bc.strategy_layers("half_logs", Q_(41.5, "percent"))
    bed = garden["B"].change(
        length=Q_(8.5, "ft"), ties=2, base_ties=1, rail_lying=True, fill=layers,
        rail_wide=Q_(80, "mm"), count=3, title='the "long" one, böse & <b>',
        open_base=False,
    )  # fmt: skip
    path = bc.save(garden.with_bed(bed), tmp_path / "g.toml")

    assert bc.load(path)["B"] == bed
    assert 'length = "8.5 ft"' in path.read_text()


def test_what_it_does_not_know_is_kept(garden, tmp_path):
    path = bc.save(garden, tmp_path / "g.toml")
    text = path.read_text().replace(
        "[place]", 'motto = "dig first"\n\n[place]\nwell = "behind the shed"'
    )
    path.write_text(text.replace('name = "B"', 'name = "B"\npaint = "none"'))

    again = bc.load(path)
    bc.save(again, tmp_path / "h.toml")
    kept = (tmp_path / "h.toml").read_text()

    for words in ("dig first", "behind the shed", 'paint = "none"'):
        assert words in kept


def test_notes_of_a_person_stay(garden, tmp_path):
    path = bc.save(garden, tmp_path / "g.toml")
    path.write_text(path.read_text().replace("[place]", "# ask about the tap\n[place]"))

    bc.save(bc.load(path).with_bed(garden["B"].change(ties=1)), path)

    assert "# ask about the tap" in path.read_text()
    assert bc.load(path)["B"].ties == 1


def test_a_newer_format_is_refused_in_words_and_never_overwritten(garden, tmp_path):
    path = bc.save(garden, tmp_path / "g.toml")
    newer = path.read_text().replace("format = 2", "format = 3")
    path.write_text(newer)

    with pytest.raises(GardenError, match="format 3, this bedcalc reads up to 2"):
        bc.load(path)
    with pytest.raises(GardenError, match="format 3"):
        bc.save(garden, path)
    assert path.read_text() == newer


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('height = "720 mm"', 'height = "720"', "bed B, height: needs a number and"),
        ('height = "720 mm"', 'height = "720 kg"', "bed B, height"),
        ('height = "720 mm"', "", "bed B: needs height"),
        ('wall = "sheet"', 'wall = "gold"', "wall: needs one of boards, sheet"),
        ('wall = "sheet"', "wall = 3", 'for example wall = "sheet"'),
        ('material = "mix"', 'material = "jam"', "one of mix, topsoil"),
        ('depth = "rest"', 'depth = "two spits"', "depth: needs a number and a unit"),
        ('latitude = "48 deg"', 'latitude = "480 deg"', "place, latitude"),
        ("format = 2", "", "needs a line format = 2"),
        ("[place]", "[[place", "not a garden file"),
        ("[place", "[plaice", "needs a part"),
        ('name = "C"', 'name = "B"', "given twice: B"),
    ],
)
def test_a_wrong_file_says_where_and_what(garden, tmp_path, old, new, words):
    path = bc.save(garden, tmp_path / "g.toml")
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new))

    with pytest.raises(GardenError) as error:
        bc.load(path)

    assert words in str(error.value)


def test_loading_runs_nothing(garden, tmp_path):
    path = bc.save(garden, tmp_path / "g.toml")
    trap = tmp_path / "trap"
    text = path.read_text().replace(
        '"720 mm"', f"\"__import__('pathlib').Path('{trap}').touch() mm\""
    )
    path.write_text(text)

    with pytest.raises(GardenError):
        bc.load(path)
    assert not trap.exists()


def test_a_missing_file_says_so(tmp_path):
    with pytest.raises(GardenError, match="there is no such file"):
        bc.load(tmp_path / "none.toml")


@pytest.mark.parametrize("when", ["write", "fsync", "replace"])
def test_killed_half_way_the_old_file_is_still_whole(garden, tmp_path, when):
    """A process that dies inside save() leaves the old garden, byte for byte."""
    path = bc.save(garden, tmp_path / "g.toml")
    before = path.read_bytes()
    code = textwrap.dedent(f"""
        import os, sys
        import bedcalc as bc

        def die(*args, **kwargs):
            os._exit(9)

        real = os.fdopen

        def half(handle, *args, **kwargs):
            file = real(handle, *args, **kwargs)
            whole = file.write
            def write(text):
                whole(text[: len(text) // 2])
                file.flush()
                die()
            file.write = write
            return file

        garden = bc.load(sys.argv[1])
        if {when!r} == "write":
            os.fdopen = half
        elif {when!r} == "fsync":
            os.fsync = die
        else:
            os.replace = die
        bc.save(garden.with_bed(garden["B"].change(ties=1)), sys.argv[1])
    """)
    run = subprocess.run([sys.executable, "-c", code, str(path)], timeout=60)

    assert run.returncode == 9
    assert path.read_bytes() == before
    assert bc.load(path) == garden


def test_a_failing_save_cleans_up(garden, tmp_path, monkeypatch):
    path = bc.save(garden, tmp_path / "g.toml")

    def full(*args):
        raise OSError("no space left")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="no space left"):
        bc.save(garden, path)

    assert [p.name for p in tmp_path.iterdir()] == ["g.toml"]


def test_two_beds_of_one_name_are_refused(garden):
    with pytest.raises(GardenError, match="given twice: B"):
        Garden(place=garden.place, beds=(garden["B"], garden["B"]))


def test_an_unknown_bed_lists_the_known(garden):
    with pytest.raises(KeyError, match="A, B, C, D, E, F"):
        garden["Z"]
