"""Without a browser: what is ours, how it is saved, handed out and started."""

from __future__ import annotations

import copy
import json
import os
import subprocess
import sys
from pathlib import Path

import nbformat
import pytest
from jupyter_server.services.contents.filemanager import FileContentsManager

from bedcalc.lab import clean_saves, lessons, start
from bedcalc.lab import folder as folders

BOOKS = sorted(lessons.source_folder().glob("*.ipynb"))


def read_as_page(path: Path) -> dict:
    """A lesson as the page sends it to be saved, after it has run and been read."""
    book = nbformat.read(path, as_version=4)
    book.metadata["widgets"] = {"state": {}}
    book.metadata["language_info"]["version"] = "3.99.0"
    for number, cell in enumerate(book.cells):
        cell.metadata["trusted"] = True
        cell.metadata["scrolled"] = True
        if cell.cell_type == "code":
            cell.execution_count = 100 + number
            cell.outputs = [nbformat.v4.new_output("stream", text="seen\n")]
    return {"type": "notebook", "format": "json", "content": book}


@pytest.fixture
def server(tmp_path):
    made = FileContentsManager(root_dir=str(tmp_path))
    made.notary.store_factory = lambda: nbformat.sign.MemorySignatureStore()
    made.register_pre_save_hook(clean_saves.as_it_came)
    return made


@pytest.mark.parametrize("path", BOOKS, ids=lambda p: p.stem)
def test_a_lesson_that_was_only_read_is_saved_byte_for_byte(server, tmp_path, path):
    server.save(read_as_page(path), path.name)
    assert (tmp_path / path.name).read_bytes() == path.read_bytes()


def test_what_a_person_wrote_is_saved_without_numbers_of_runs(server, tmp_path):
    path = BOOKS[0]
    model = read_as_page(path)
    cells = model["content"]["cells"]
    changed = next(i for i, c in enumerate(cells) if not c.metadata.get("tags")
                   and c.cell_type == "code")  # fmt: skip
    cells[changed]["source"] += "\nprint('mine')"
    result = nbformat.v4.new_output("execute_result", execution_count=7)
    cells[changed]["outputs"].append(result)
    cells.append(nbformat.v4.new_code_cell("my_notes = 1", execution_count=9))
    server.save(model, path.name)

    came = nbformat.read(path, as_version=4)
    saved = nbformat.read(tmp_path / path.name, as_version=4)
    assert saved.cells[changed].source.endswith("print('mine')")
    assert saved.cells[changed].outputs[0].text == "seen\n"
    assert saved.cells[changed].outputs[1].execution_count is None
    assert saved.cells[changed].execution_count is None
    assert saved.cells[-1].source == "my_notes = 1"
    assert saved.cells[-1].execution_count is None
    for number, cell in enumerate(came.cells):
        assert number == changed or saved.cells[number] == cell
    assert saved.metadata == came.metadata


@pytest.mark.parametrize("flagged", [True, False])
def test_a_notebook_of_somebody_else_is_saved_as_it_is(flagged):
    cells = [nbformat.v4.new_code_cell("6 * 7", execution_count=3)]
    meta = {lessons.FLAG: flagged, "widgets": {}}
    book = nbformat.v4.new_notebook(cells=cells, metadata=meta)
    model = {"type": "notebook", "content": book}
    before = copy.deepcopy(model)
    clean_saves.as_it_came(model, path="x.ipynb", contents_manager=None)
    clean_saves.as_it_came({"type": "file", "content": "text"})
    assert model == before


def test_code_that_was_changed_in_the_workbook_is_no_longer_ours(tmp_path, monkeypatch):
    """The digests decide, not the file: a changed workbook in a checkout is changed."""
    book = nbformat.read(BOOKS[0], as_version=4)
    code = [c for c in book.cells if c.cell_type == "code"]
    came = code[0].source
    assert came in set(lessons.own_code())
    code[0].source += " "
    (tmp_path / "_workbooks").mkdir()
    nbformat.write(book, tmp_path / "_workbooks" / BOOKS[0].name)
    monkeypatch.setattr(lessons, "_PACKAGE", tmp_path)
    lessons.installed.cache_clear()
    try:
        ours = set(lessons.own_code())
    finally:
        lessons.installed.cache_clear()
    assert code[1].source in ours
    assert came not in ours and came + " " not in ours


@pytest.mark.parametrize(
    ("cells_trusted", "signed"), [((True, True), True), ((True, False), False)]
)
def test_a_save_signs_only_what_the_reader_has_run(server, cells_trusted, signed):
    """Jupyter would sign both: there is no output in them that could do harm."""
    lessons.sign_what_was_run(server)
    cells = [nbformat.v4.new_code_cell(f"mine = {t}", metadata={"trusted": t})
             for t in cells_trusted]  # fmt: skip
    ours = next(lessons.own_code())
    cells.append(nbformat.v4.new_code_cell(ours, metadata={"trusted": False}))
    book = nbformat.v4.new_notebook(cells=cells, metadata={lessons.FLAG: True})
    model = {"type": "notebook", "format": "json", "content": book}
    server.save(model, "x.ipynb")
    read = server.get("x.ipynb")["content"]
    assert [c.metadata.get("trusted") for c in read.cells] == [signed] * 3
    assert "trusted" not in (Path(server.root_dir) / "x.ipynb").read_text()


@pytest.fixture
def package(tmp_path, monkeypatch):
    """An installed package with two lessons, and an empty folder to work in."""
    source = tmp_path / "site" / "_workbooks"
    source.mkdir(parents=True)
    for name in ("03_walls", "05_cost"):
        (source / f"{name}.ipynb").write_text(f"{name} of the first edition")
    monkeypatch.setattr(lessons, "_PACKAGE", source.parent)
    monkeypatch.chdir(tmp_path)
    return source


def test_after_an_upgrade_lessons_are_renewed_and_changed_ones_kept(package, capsys):
    own = folders.workbook_folder()
    (own / "05_cost.ipynb").write_text("with my numbers")
    folders.workbook_folder()
    assert (own / "05_cost.ipynb").read_text() == "with my numbers"  # no upgrade yet
    assert capsys.readouterr().out == ""

    for edition, kept in (
        ("second", "05_cost my copy.ipynb"),
        ("third", "05_cost my copy 2.ipynb"),
    ):
        for path in package.iterdir():
            path.write_text(f"{path.stem} of the {edition} edition")
        folders.workbook_folder()
        assert (
            own / "03_walls.ipynb"
        ).read_text() == f"03_walls of the {edition} edition"
        assert (
            own / "05_cost.ipynb"
        ).read_text() == f"05_cost of the {edition} edition"
        assert kept in capsys.readouterr().out
        (own / "05_cost.ipynb").write_text(f"mine again, {edition}")
    assert (own / "05_cost my copy.ipynb").read_text() == "with my numbers"
    assert (own / "05_cost my copy 2.ipynb").read_text() == "mine again, second"
    assert not (own / "03_walls my copy.ipynb").exists()


@pytest.mark.parametrize("copy", ["05_cost my copy", "05_cost-Copy1"])
def test_a_kept_copy_does_not_stand_in_the_way_of_the_lesson(package, copy):
    own = folders.workbook_folder()
    (own / f"{copy}.ipynb").write_text("mine")
    assert folders.find_workbook("5", own).stem == "05_cost"
    assert folders.find_workbook("cost", own).stem == "05_cost"
    assert folders.find_workbook(copy, own).stem == copy


def test_a_damaged_note_of_what_was_handed_out_loses_nothing(package):
    own = folders.workbook_folder()
    (own / folders._NOTE).write_text("[")
    (own / "03_walls.ipynb").write_text("mine")
    folders.workbook_folder()
    assert (own / "03_walls my copy.ipynb").read_text() == "mine"
    assert (own / "05_cost.ipynb").read_text() == "05_cost of the first edition"
    assert not (own / "05_cost my copy.ipynb").exists()


def server_settings(tmp_path: Path, script: str) -> dict:
    """What a server started as ours finds, beside a person's own settings."""
    config = tmp_path / "config"
    config.mkdir(exist_ok=True)
    theirs = {"ServerApp": {"jpserver_extensions": {"jupyter_lsp": False}}}
    (config / "jupyter_server_config.json").write_text(json.dumps(theirs))
    own = {"JUPYTER_CONFIG_DIR": str(config), "JUPYTER_CONFIG_PATH": "",
           "JUPYTER_PATH": "/somewhere"}  # fmt: skip
    done = subprocess.run(
        [sys.executable, "-c", script], env=os.environ | own, capture_output=True,
        text=True, check=True, cwd=Path(__file__).parents[2],
    )  # fmt: skip
    return json.loads(done.stdout.splitlines()[-1])


def test_a_persons_own_extensions_are_merged_with_ours_not_replaced(tmp_path):
    found = server_settings(tmp_path, """
import json, os, pathlib, tempfile
from bedcalc.lab import start
from jupyterlab.labapp import LabApp
start._bring_our_settings()
book = pathlib.Path.cwd() / "workbooks" / "00_start_here.ipynb"
words = start.lab_arguments(book, pathlib.Path(tempfile.mkdtemp()), browser=False)
server = LabApp.initialize_server(argv=words)
from jupyterlab_server.settings_utils import _get_overrides
overrides, _ = _get_overrides(server.extension_manager.extension_apps
                              ["jupyterlab"].copy().pop().app_settings_dir)
print(json.dumps({"extensions": server.jpserver_extensions, "overrides": overrides,
                  "loaded": list(server.extension_manager.extensions),
                  "path": os.environ["JUPYTER_PATH"]}))
""")  # fmt: skip
    assert found["extensions"]["jupyter_lsp"] is False  # as the person wants it
    for ours in ("clean_saves", "lessons", "shared_plotly"):
        assert found["extensions"][f"bedcalc.lab.{ours}"] is True
    assert "jupyterlab" in found["loaded"]
    notices = found["overrides"]["@jupyterlab/apputils-extension:notification"]
    assert notices["fetchNews"] == "false"
    assert found["path"].endswith(f"{os.pathsep}/somewhere")


def test_starting_says_three_lines_and_the_log_goes_to_a_file(tmp_path):
    words = start.first_words("http://here", tmp_path, tmp_path / "x.log")
    assert len(words.splitlines()) == 3
    for part in ("http://here", "Ctrl+C", "-m bedcalc", str(tmp_path)):
        assert part in words


def test_a_start_that_fails_says_why_in_the_terminal(tmp_path):
    """The log is in a file, so its last lines must not stay there unseen."""
    own = {"JUPYTER_RUNTIME_DIR": str(tmp_path / "run")}
    command = [sys.executable, "-m", "bedcalc", "--no-browser", "--port", "-7"]
    done = subprocess.run(
        [*command, "--folder", str(tmp_path / "books")], env=os.environ | own,
        capture_output=True, text=True, cwd=Path(__file__).parents[2], timeout=60,
    )  # fmt: skip
    assert done.returncode != 0
    assert "bedcalc: JupyterLab ended by itself" in done.stderr
    assert str(tmp_path / "run" / "bedcalc.log") in done.stderr
