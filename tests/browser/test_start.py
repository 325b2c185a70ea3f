"""``python -m bedcalc`` without a browser: which folder, workbook and server."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest

from bedcalc.app.kit import plot
from bedcalc.lab import clean_saves, lessons, shared_plotly, start
from bedcalc.lab import folder as folders

BOOKS = ["00_start_here", "01_size", "03_walls", "11_choose", "facilitator_walls"]


@pytest.fixture
def folder(tmp_path) -> Path:
    for name in BOOKS:
        (tmp_path / f"{name}.ipynb").write_text("{}")
    return tmp_path


@pytest.fixture
def installed(tmp_path, monkeypatch) -> Path:
    """As if installed from a wheel: the workbooks lie inside the package."""
    source = tmp_path / "site" / "bedcalc" / "_workbooks"
    (source / "pictures").mkdir(parents=True)
    (source / "00_start_here.ipynb").write_text("as it came")
    (source / "pictures" / "bed.svg").write_text("<svg/>")
    (source / "my_garden.toml").write_text("somebody's own")
    monkeypatch.setattr(lessons, "_PACKAGE", source.parent)
    monkeypatch.chdir(tmp_path)
    return tmp_path / "bedcalc_workbooks"


@pytest.mark.parametrize(
    ("wanted", "found"),
    [
        ("00_start_here", "00_start_here"),
        ("00_start_here.ipynb", "00_start_here"),
        ("0", "00_start_here"),
        ("1", "01_size"),
        ("11", "11_choose"),
        ("Size", "01_size"),
    ],
)
def test_a_workbook_is_found_by_number_or_name(folder, wanted, found):
    assert folders.find_workbook(wanted, folder).stem == found


@pytest.mark.parametrize("wanted", ["7", "roof"])
def test_an_unknown_workbook_says_what_there_is(folder, wanted):
    with pytest.raises(FileNotFoundError, match=f"{wanted}.*01_size.*03_walls"):
        folders.find_workbook(wanted, folder)


def test_a_word_that_fits_two_workbooks_names_both(folder):
    with pytest.raises(FileNotFoundError, match="several.*03_walls, facilitator_walls"):
        folders.find_workbook("walls", folder)


def test_an_empty_folder_is_told(tmp_path):
    with pytest.raises(FileNotFoundError, match="a choice of: none"):
        folders.find_workbook("0", tmp_path)


def test_an_installed_package_hands_out_copies(installed):
    assert folders.workbook_folder() == installed
    assert (installed / "00_start_here.ipynb").read_text() == "as it came"
    assert (installed / "pictures" / "bed.svg").is_file()
    assert not (installed / "my_garden.toml").exists()


def test_what_a_person_wrote_is_never_overwritten(installed):
    """A file that we did not hand out, under the name of a lesson, is kept."""
    installed.mkdir()
    (installed / "00_start_here.ipynb").write_text("my notes")
    folders.workbook_folder()
    assert (installed / "00_start_here my copy.ipynb").read_text() == "my notes"
    assert (installed / "00_start_here.ipynb").read_text() == "as it came"


def test_a_folder_of_ones_own(installed, tmp_path):
    own = folders.workbook_folder(tmp_path / "deep" / "mine")
    assert own == tmp_path / "deep" / "mine"
    assert (own / "00_start_here.ipynb").is_file()


def test_the_server_is_asked_for_our_settings_only(tmp_path, monkeypatch):
    monkeypatch.setattr(os, "geteuid", lambda: 1000, raising=False)
    book = tmp_path / "a b" / "00 bed.ipynb"
    words = start.lab_arguments(book, tmp_path, browser=False, port=8123)
    assert f"--ServerApp.root_dir={book.parent}" in words
    assert "--LabApp.default_url=/lab/tree/00%20bed.ipynb" in words
    assert "--ServerApp.port=8123" in words and "--no-browser" in words
    assert not [word for word in words if "token" in word or "allow-root" in word]
    monkeypatch.setattr(os, "geteuid", lambda: 0, raising=False)
    words = start.lab_arguments(book, tmp_path)
    assert "--allow-root" in words
    assert "--no-browser" not in words
    assert not [word for word in words if "port" in word]


def test_the_extension_for_the_browser_is_whole():
    """A folder with another name than its package is not found by JupyterLab."""
    (folder,) = (start._HERE / "share" / "labextensions").iterdir()
    package = json.loads((folder / "package.json").read_text("utf-8"))
    assert package["name"] == folder.name
    script = folder / package["jupyterlab"]["_build"]["load"]
    assert f"const NAME = '{folder.name}'" in script.read_text("utf-8")


def test_a_wrong_workbook_ends_with_a_sentence(tmp_path):
    command = [sys.executable, "-m", "bedcalc", "roof", "--folder", str(tmp_path)]
    done = subprocess.run(command, capture_output=True, text=True, cwd=tmp_path)
    assert done.returncode == 1
    assert done.stderr.startswith("bedcalc: no workbook fits 'roof'")
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize("extension", [clean_saves, lessons, shared_plotly])
def test_an_unknown_server_is_left_as_it_is(extension, monkeypatch):
    monkeypatch.setitem(sys.modules, "jupyter_server.utils", None)
    monkeypatch.setenv("BEDCALC_PLOTLY", "left over")
    said = []
    log = SimpleNamespace(info=lambda text, *more: said.append(text % more))
    extension._load_jupyter_server_extension(SimpleNamespace(log=log))
    assert len(said) == 1 and said[0].startswith("bedcalc: ")
    if extension is shared_plotly:
        assert "BEDCALC_PLOTLY" not in os.environ


@pytest.mark.parametrize("address", ["", "/bedcalc/plotly.min.js?v=0.0.1"])
def test_without_our_server_a_figure_brings_its_library(monkeypatch, address):
    monkeypatch.setenv("BEDCALC_PLOTLY", address)
    assert shared_plotly.address() == ""
    assert len(plot._module("")) > 1_000_000


def test_with_our_server_a_figure_does_not_carry_the_library(monkeypatch):
    import plotly

    address = f"/bedcalc/plotly.min.js?v={plotly.__version__}"
    monkeypatch.setenv("BEDCALC_PLOTLY", address)
    assert shared_plotly.address() == address
    module = plot._module(address)
    assert f"const ADDRESS = '{address}';" in module and len(module) < 10_000
