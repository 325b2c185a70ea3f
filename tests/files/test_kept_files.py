"""Killed, starved, crowded: a garden that is being saved is never broken or lost."""

from __future__ import annotations

import os

import pytest

import bedcalc as bc
from bedcalc.text_files import FileError
from benchmarks.kept_files import kills, three

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")


def test_twenty_kills_break_nothing_and_leave_nothing(tmp_path):
    """A short run of ``benchmarks/kept_files.py``."""
    found = kills(20, 3, tmp_path)

    assert found["killed"] == 20
    assert found["broken"] == found["copy broken"] == 0
    assert found["left after the next save"] == 0


def test_three_writers_lose_nothing(tmp_path):
    found = three(4, tmp_path)

    assert found["writers that failed"] == found["changes lost"] == found["left"] == 0


def test_what_a_killed_save_left_is_cleared_and_nothing_else(tmp_path):
    path = bc.save(bc.demo_garden(), tmp_path / "my_garden.toml")
    mine = ("notes.new", "my_garden-old.new", ".other-abcd.new")
    ours = (".my_garden-abcdefgh.new", "..my_garden.before-abcdefgh.new")
    for name in (*mine, *ours):
        (tmp_path / name).write_text("half")
    bc.save(bc.demo_garden(), path)

    assert sorted(p.name for p in tmp_path.iterdir()) == sorted((path.name, *mine))


def test_somebody_who_saves_for_long_is_waited_for_and_then_said(tmp_path, monkeypatch):
    fcntl = pytest.importorskip("fcntl")
    monkeypatch.setattr("bedcalc.garden.saving.PATIENCE", 0.05)
    path = bc.save(bc.demo_garden(), tmp_path / "g.toml")
    handle = os.open(tmp_path, os.O_RDONLY)
    fcntl.flock(handle, fcntl.LOCK_EX)
    with pytest.raises(FileError, match="another program has been saving"):
        bc.save(bc.demo_garden(), path)
    os.close(handle)

    assert bc.save(bc.demo_garden(), path) == path
