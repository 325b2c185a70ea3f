"""Money wherever it is shown: always in the currency of the list at hand, never ¤."""

from __future__ import annotations

import ast
import importlib
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path

import ipywidgets
import nbformat
import pytest
from openpyxl import load_workbook

import bedcalc as bc
from bedcalc import Currency, units
from bedcalc.app import (  # fmt: skip
    cost_questions,
    cutting,
    fill,
    size,
    walls_questions,
)
from bedcalc.app.bench import bench
from bedcalc.app.cutting_game import strip_game
from bedcalc.app.cutting_plan import cutter
from bedcalc.app.kit import answers, view
from bedcalc.app.kit.question import check
from bedcalc.app.session import open_session
from bedcalc.app.walls_tables import six_beds
from bedcalc.printing import build_sheet
from bedcalc.questions.shopping import shopping
from bedcalc.spreadsheets.exports import write_order, write_order_csv
from bedcalc.tables import table

ROOT = Path(__file__).parents[2]
DEMO = bc.demo_garden()
ANY = "\N{CURRENCY SIGN}"
MODULES = (
    "size", "fill", "kit.stack", "walls", "walls_own", "cutting", "cost", "cost_order",
)  # fmt: skip
OWN = {
    "CHF": Currency.of("CHF"),
    "JPY": Currency.of("JPY"),
    "USD": Currency.of("USD"),
    "Taler": Currency(sign="T", decimals=0),
}
ITEMS = {
    "00": answers.item,
    "01": lambda name: size.size_items(name)[0],
    "02": fill.item,
    "03": walls_questions.item,
    "04": cutting.item,
    "05": cost_questions.item,
}
MARKS = {"€", "$", "¥", "CHF", "£"}


# ---- what stands in the files


def test_no_text_says_some_currency():
    """Only tests may write the sign that stands for any currency."""
    listed = subprocess.run(
        ["git", "ls-files", "bedcalc", "data", "workbooks", "README.md", "benchmarks"],
        cwd=ROOT, capture_output=True, text=True,
    )  # fmt: skip
    if listed.returncode:
        pytest.skip("not a checkout: git lists no files here")
    names = [n for n in listed.stdout.splitlines() if not n.endswith((".png", ".svg"))]
    assert len(names) > 200
    assert not [n for n in names if ANY in (ROOT / n).read_text(encoding="utf-8")]


def test_the_sums_of_the_workbooks_are_in_the_demo_currency():
    found = []
    for path in sorted((ROOT / "workbooks").glob("[0-9][0-9]_*.ipynb")):
        for cell in nbformat.read(path, as_version=4).cells:
            if cell.cell_type != "code" or '"coins", ' not in cell.source:
                continue
            for out in cell.outputs:
                found.append(out.get("text") or out["data"]["text/plain"])

    assert len(found) >= 3
    assert all("\N{NO-BREAK SPACE}€" in text for text in found)


def test_every_sum_that_is_shown_is_given_its_units():
    """``show(x, "money")`` alone would show a bare number to a reader."""
    bare = []
    for path in (ROOT / "bedcalc").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call) or len(node.args) < 2:
                continue
            name = getattr(node.func, "id", getattr(node.func, "attr", ""))
            at = {
                "show": 1,
                "cell": 1,
                "unit_sign": 0,
                "show_range": 2,
                "sign_after": 1,
            }
            if name in at and len(node.args) > at[name]:
                kind = node.args[at[name]]
                if getattr(kind, "value", "") in ("money", "coins"):
                    if len(node.args) < at[name] + 2:
                        bare.append(f"{path.name}:{node.lineno}")

    assert not bare


# ---- what a reader sees


def _texts(widget) -> Iterator[str]:
    """Everything that a block of the page says."""
    for name in ("value", "html", "description", "says", "unit", "label", "texts"):
        said = getattr(widget, name, "")
        yield from map(str, said if isinstance(said, list | tuple) else (said,))
    for child in getattr(widget, "children", ()):
        yield from _texts(child)


def _drawing(drawing) -> Iterator[str]:
    yield drawing.alt
    yield drawing.caption
    yield drawing.numbers.html()
    yield from (note["text"] for note in drawing.annotations)
    yield str(drawing.live_layout)
    yield from (str(trace.get("text", "")) for trace in drawing.traces)


def _page(made) -> Iterator[str]:
    yield from _texts(getattr(made, "widget", made))
    picture = getattr(made, "picture", None)
    if picture is not None:
        yield from _drawing(picture.shown)
    for picture in (getattr(made, "closes", None) or {}).values():
        yield from _drawing(picture.shown)


def _makers() -> dict:
    """All views and blocks that are about the bed on the desk."""
    found = {}
    for name in MODULES:
        module = importlib.import_module(f"bedcalc.app.{name}")
        for key in module.__all__:
            if key.endswith(("_view", "_block")) and key != "decide_block":
                found[f"{name}.{key}"] = getattr(module, key)
    return found


def _garden(currency: Currency) -> bc.Garden:
    """Three demo beds, but the prices are those of a list of one's own."""
    rows = DEMO.place.prices.rows
    prices = bc.PriceList(name="spring", rows=rows, currency=currency, date="3 May")
    beds = [DEMO[name].change(name=f"Bed {name.lower()}") for name in "BAE"]
    return bc.Garden(
        place=DEMO.place.change(name="Our plot", prices=prices),
        beds=tuple(beds), price_lists=(prices,),
    )  # fmt: skip


@pytest.fixture(params=OWN)
def own(request, tmp_path, monkeypatch):
    """A session with a garden in another currency; a bare sum is an error."""
    currency = OWN[request.param]
    real = units._show_money

    def strict(value, kind, system, *more):
        assert units.currency_of(system), f"a sum without its currency: {value} {kind}"
        return real(value, kind, system, *more)

    monkeypatch.setattr(units, "_show_money", strict)
    monkeypatch.chdir(tmp_path)
    session = open_session(tmp_path / "my_garden.toml")
    session.start("Our plot")
    session.update(_garden(currency), "Bed b")
    return session


def _foreign(text: str, currency: Currency) -> list[str]:
    """Signs of another currency in a text."""
    text = re.sub(r"\$\{|data-[a-z]+=\S+", "", text)
    return [mark for mark in (*MARKS, ANY) if mark != currency.mark and mark in text]


def test_every_view_and_block_of_an_own_garden(own):
    currency, made = own.garden.place.currency, _makers()
    assert len(made) >= 30
    with_money = 0
    for name, make in made.items():
        desk = view.desk("B", own.path)
        said = "\n".join(_page(make(desk)))
        assert not _foreign(said, currency), (name, _foreign(said, currency))
        with_money += currency.mark in said

    assert with_money >= 12


def test_bench_and_cut_plans(own):
    garden, currency = own.garden, own.garden.place.currency
    board = bench("B", own.path)
    board.close.value = "bill"
    board.close.value = "fill"
    plan = cutter(garden)
    plan.find()
    for made in (board, strip_game(garden, "post_70x70"), plan):
        said = "\n".join(_page(made))
        assert currency.mark in said and not _foreign(said, currency), made
    acts = [row.button.description for row in board.rows]
    assert any(currency.mark in act for act in acts)


def test_the_table_of_the_own_beds(own):
    """Under it stands the same of the demo garden, with the demo's prices."""
    page = "\n".join(_texts(six_beds(view.desk("B", own.path))))
    mine = page[: page.index("Six beds of the demo garden")]
    assert own.garden.place.currency.mark in mine
    assert not _foreign(mine, own.garden.place.currency)
    assert "€" in page


def test_questions_about_the_own_bed(own):
    currency, seen = own.garden.place.currency, 0
    for workbook, read in ITEMS.items():
        for row in table(f"checks_{workbook}"):
            if row.part != "question" or row.about == "demo":
                continue
            (made,) = check(read(row.item), view.desk("B", own.path)).items
            for _ in range(5):
                made.ask_help()
            said = "\n".join(_texts(made))
            assert not _foreign(said, currency), (row.key, said)
            seen += currency.mark in said

    assert seen >= 2


def test_an_answer_may_carry_the_sign_of_the_own_list(own):
    (made,) = check(cost_questions.item("tax"), view.desk("B", own.path)).items
    currency = own.garden.place.currency
    right = float(made.item.key.answer(made.outcome).m)
    typed = currency.around(f"{right:.{currency.decimals}f}".replace(".", ","))
    assert made.item.judge(made.outcome, typed).state == "right"
    other = "€" if currency.mark != "€" else "$"
    assert made.item.judge(made.outcome, f"{right:.0f} {other}").state == "unread"


def test_sheet_and_spreadsheets(own, tmp_path):
    garden = own.garden
    currency = garden.place.currency
    sheet = build_sheet(garden)
    assert currency.mark in sheet and not _foreign(sheet, currency)
    for with_tax in (False, True):
        place = garden.place.change(with_tax=with_tax)
        cost = shopping(garden, place)
        book = load_workbook(write_order(cost, place, tmp_path / "order.xlsx"))
        said = [
            str(cell.value or "")
            for page in book.worksheets for row in page.iter_rows() for cell in row
        ]  # fmt: skip
        said.append(write_order_csv(cost, place, tmp_path / "o.csv").read_text("utf-8"))
        for text in said:
            if text.startswith("="):  # $G$19 in a formula is a cell, no dollars
                text = re.sub(r"\$[A-Z]+\$\d+", "", text)
            assert not _foreign(text, currency), text
        assert any(currency.mark in text for text in said)


def test_the_demo_shows_euros_and_the_us_list_dollars(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    desk = view.desk("B", tmp_path / "none.toml")
    bill = _makers()["cost.bill_view"](desk)
    assert "533\N{NO-BREAK SPACE}€" in bill.says.html and not _foreign(
        bill.says.html, OWN["CHF"].of("EUR")
    )
    bill.put(wall="boards_us", prices="demo_us")
    assert re.search(r"<strong>\$\d", bill.says.html)
    assert "€" not in "\n".join(_page(bill))


def test_two_prices_in_dollars_are_no_formula(tmp_path, monkeypatch):
    """Where the page knows formulas, "$12 to $15" would be set as one."""
    monkeypatch.chdir(tmp_path)
    bill = _makers()["cost.bill_view"](view.desk("B", tmp_path / "none.toml"))
    bill.put(wall="boards_us", prices="demo_us")
    assert "\n".join(_drawing(bill.picture.shown)).count("$") > 2
    assert "typesetMath: false" in bill.picture.plot._esm


def test_widgets_are_found():
    """The walk reads what is inside of what is inside."""
    inner = ipywidgets.VBox(
        [ipywidgets.HTML("12 €"), ipywidgets.Button(description="b")]
    )
    assert {"12 €", "b"} <= set(_texts(ipywidgets.VBox([inner])))
