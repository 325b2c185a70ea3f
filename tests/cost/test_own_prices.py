"""One's own price list: low and high prices, bad rows, and the row in the bill."""

from __future__ import annotations

import pytest
from openpyxl import load_workbook

import bedcalc as bc
from bedcalc import Q_, Garden, PriceList, Wall
from bedcalc.app import cost
from bedcalc.app.kit import view
from bedcalc.app.session import new_bed, open_session
from bedcalc.currency import Currency
from bedcalc.questions.shopping import shopping
from bedcalc.spreadsheets.columns import NumbersError
from bedcalc.spreadsheets.prices import PRICES, read_prices, write_prices
from bedcalc.tables import table
from bedcalc.walls.custom_sections import sized_wall


@pytest.fixture
def place():
    return bc.demo_garden().place


@pytest.fixture
def there(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


def _edit(path, name, **cells):
    book = load_workbook(path)
    sheet = book["Prices"]
    names = [column.key for column in PRICES]
    row = next(r for r in sheet.iter_rows(min_row=4) if r[0].value == name)
    for key, value in cells.items():
        row[names.index(key)].value = value
    book.save(path)
    return row[0].row


def test_metric_and_us_lists_are_separate():
    yards = {name: {row.yard for row in table(f"prices_{name}")}
             for name in ("demo", "demo_us")}  # fmt: skip

    assert yards == {"demo": {"metric"}, "demo_us": {"us"}}


def test_low_and_high_prices_of_a_line_widen_the_bill(place, there):
    path = write_prices(place, there / "p.xlsx")

    def bought():
        own = place.change(prices=read_prices(path))
        return shopping(bc.demo_garden(), own, cut="hand")

    before = bought()
    _edit(path, "garden mix", low=23, high=48)
    after = bought()
    line = next(line for line in after.lines if line.goods == "mix")

    assert (line.low, line.high) == pytest.approx((23 / 24 - 1, 1.0))
    assert after.total == before.total
    assert after.high > before.high
    assert after.spread().under(0.9) > before.spread().under(0.9)


def test_low_and_high_go_with_a_price_that_rises(place, there):
    path = write_prices(place, there / "p.xlsx")
    _edit(path, "garden mix", low=20, high=30)
    row = read_prices(path).times(soil=1.5).goods["mix"][0]

    assert (row.low, row.price, row.high) == (30, 36, 45)


@pytest.mark.parametrize(
    ("cells", "column"),
    [({"low": 25}, "Lowest price"), ({"high": 20}, "Highest price"),
     ({"low": -1}, "Lowest price"), ({"price": "24,000"}, "Price each"),
     ({"price": "dear"}, "Price each"), ({"price": None, "low": 20}, "Price each"),
     ({"group": "sand"}, "Group")],
)  # fmt: skip
def test_a_bad_row_says_line_column_need_and_given(place, there, cells, column):
    path = write_prices(place, there / "my_prices.xlsx")
    line = _edit(path, "garden mix", **cells)

    with pytest.raises(NumbersError) as caught:
        read_prices(path)
    assert f"sheet Prices, row {line}, {column}: " in str(caught.value)
    if cells != {"price": "24,000"}:  # which is asked about instead
        for words in ("needs ", "given", "for example"):
            assert words in str(caught.value)
    assert "nan" not in str(caught.value)


def test_what_is_no_spreadsheet_is_said(there):
    path = there / "my_prices.xlsx"
    path.write_text("goods, price")

    with pytest.raises(NumbersError, match=r"needs a spreadsheet saved as \.xlsx"):
        read_prices(path)


def test_csv_of_a_program_that_writes_semicolons(place, there):
    path = write_prices(place, there / "p.csv")
    text = path.read_text(encoding="utf-8-sig").splitlines()
    kept = [line.replace(",", ";") for line in text if '"' not in line]
    path.write_text("\n".join(kept), encoding="utf-8")

    assert len(read_prices(path).rows) == len(kept) - 1


def test_csv_with_decimal_commas_in_old_windows_text(there):
    text = "What it is;Sold by;Length in m;Amount in one;Price each\r\n"
    text += "larch board 140 × 33;St\u00fcck;3,6;1;13,90 €\r\n"
    (there / "p.csv").write_bytes(text.encode("cp1252"))
    (row,) = read_prices(there / "p.csv", Currency.of("EUR")).rows

    assert (row.length, row.price, row.sold_by) == (3.6, 13.9, "Stück")


def test_the_row_price_list_of_the_bill():
    about = view.demo_desk("B")
    made, life = cost.bill_view(about), cost.life_view(about)
    made.put(prices="demo_us")
    assert "Not complete" in made.says.html and "Choose a wall" in made.says.html
    made.put(wall="boards_us", length=Q_(8, "ft"))
    assert "Not complete" not in made.says.html
    assert {row.yard for line in about.outcome.cost.lines
            for row in about.place.goods[line.goods]} == {"us"}  # fmt: skip
    assert "has no" not in life.says.html  # both builds shown are on this list
    life.put(one="boards")
    assert "has no larch boards" in life.says.html


def test_own_boards_and_posts_last_like_those_they_are_made_from_and_it_is_said(
    tmp_path,
):
    """Without a life of their own they would be paid off over thirty years."""
    wall = sized_wall(
        Wall.named("boards").own("barn", "barn boards"), thickness=Q_(48, "mm"),
        course=Q_(170, "mm"),
    )  # fmt: skip
    row = dict(group="timber", sold_by="4 m", length=4.0)
    words = [
        row | {"goods": wall.goods, "name": "barn board", "price": 20},
        row | {"goods": "larch_140x33", "name": "larch board", "price": 20},
        {"goods": "mix", "name": "mix", "group": "soil", "sold_by": "m³", "price": 50},
        {"goods": "compost", "name": "compost", "group": "soil", "sold_by": "m³",
         "price": 40},
        {"goods": "truck", "name": "truck", "group": "soil", "sold_by": "trip",
         "price": 30},
    ]  # fmt: skip
    mine = PriceList.from_words({"name": "spring", "rows": words}, "list")
    garden = Garden.empty("Barn", prices=mine).with_bed(new_bed("B").change(wall=wall))
    out = bc.evaluate(garden["B"], garden.place)
    plain = bc.evaluate(garden["B"].change(wall=Wall.named("boards")), garden.place)

    (name,) = out.cost.lent_lives
    assert name.startswith("barn board")
    assert plain.cost.lent_lives == {}
    # the same interest and life: the cost of a year goes with the price
    shares = [o.cost.yearly().box / o.cost.si.walls for o in (out, plain)]
    assert shares[0] == pytest.approx(shares[1])
    session = open_session(tmp_path / "my_garden.toml")
    session.start("Barn")
    session.update(garden)
    said = cost.share_view(view.desk("B", session.path)).says.html
    assert "The life of barn board" in said
    assert "counted to last like larch boards of 33 mm" in said.replace("\xa0", " ")
