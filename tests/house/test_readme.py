"""The scripts of the README run as they stand there, and do what the text says."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import bedcalc as bc

README = Path(__file__).parents[2] / "README.md"
BLOCKS = re.findall(
    r"^```python\n(.*?)^```$", README.read_text("utf-8"), re.DOTALL | re.MULTILINE
)
OWN = next(block for block in BLOCKS if "Garden.empty" in block)


def run(block: str, folder: Path, monkeypatch) -> dict:
    """The names that a script leaves behind."""
    monkeypatch.chdir(folder)
    names: dict = {}
    exec(compile(block, "README.md", "exec"), names)
    return names


@pytest.mark.parametrize("block", BLOCKS, ids=lambda block: block.split("\n")[1][:20])
def test_each_script_runs(block, tmp_path, monkeypatch, capsys):
    run(block, tmp_path, monkeypatch)

    assert capsys.readouterr().out.strip()


def test_the_own_garden_is_saved_with_its_own_materials(tmp_path, monkeypatch):
    made = run(OWN, tmp_path, monkeypatch)["garden"]
    saved = bc.load(tmp_path / "our_garden.toml")

    assert saved.beds == made.beds
    assert [bed.name for bed in saved] == ["Beans", "Peas"]
    assert saved.place.prices == made.place.prices
    assert saved.place.survey is saved.place.plot is saved.place.latitude is None
    assert [bed.person.name for bed in saved] == ["the two of us"] * 2
    assert saved["Beans"].wall.name == "boards 150 × 45"


def test_only_what_the_own_list_has_is_counted(tmp_path, monkeypatch):
    """A board costs 21.50, a cubic metre of mix 62; nothing else has a price."""
    garden = run(OWN, tmp_path, monkeypatch)["garden"]
    cost = bc.evaluate(garden["Beans"], garden.place).cost
    lines = {line.goods: line for line in cost.lines}
    boards, mix = lines["my_boards"], lines["yard_mix"]

    assert set(lines) == {"my_boards", "yard_mix"}
    total = 21.5 * boards.quantity + 62 * mix.quantity
    assert cost.total.m == pytest.approx(total)
    assert any("post 70 × 70" in words for words in cost.missing)


def test_the_printed_sheet_is_of_this_garden_in_its_money(tmp_path, monkeypatch):
    run(OWN, tmp_path, monkeypatch)
    text = (tmp_path / "our_garden.html").read_text(encoding="utf-8")

    for words in ("Our garden", "Beans", "Peas", "CHF", "not measured"):
        assert words in text, words
    for words in ("Plumtrellis", "€", "¤"):
        assert words not in text, words
