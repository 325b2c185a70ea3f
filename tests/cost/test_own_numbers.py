"""The spreadsheet of one's own numbers: it comes back as it went, or says why not."""

from __future__ import annotations

from datetime import datetime

import pytest
from openpyxl import Workbook, load_workbook

import bedcalc as bc
from bedcalc import Q_
from bedcalc.app.session import new_bed
from bedcalc.currency import Currency
from bedcalc.garden.garden import Garden, demo_garden
from bedcalc.garden.words import write_garden
from bedcalc.model.materials import FillMaterial, Person
from bedcalc.model.place import Levelling, Survey
from bedcalc.model.plot import Plot, Thing
from bedcalc.model.prices import PriceList
from bedcalc.questions.shopping import shopping
from bedcalc.spreadsheets.own_numbers import (
    NumbersError,
    numbers_file,
    read_numbers,
    write_numbers,
)

HEAVY = FillMaterial(
    key="clay_mix", name="clay mix", like="mix", unit_weight_moist=Q_(14, "kN/m^3"),
    unit_weight_soaked=Q_(18, "kN/m^3"), settle=Q_(20, "percent"),
)  # fmt: skip
GRAN = Person(key="gran", name="Gran", like="adult", reach=Q_(52, "cm"))
L_SHAPE = ((0, 0), (9.5, 0), (9.5, 4), (5, 4), (5, 8), (0, 8))


def _own() -> Garden:
    """A garden of one's own in Swiss money on an L-shaped plot."""
    rows = [
        row.changed(price=row.price * 1.3)
        for row in PriceList.named("demo").rows
        if row.goods != "straw"
    ]
    francs = PriceList(
        name="spring", rows=tuple(rows), currency=Currency.of("CHF"), date="3. März",
        taxed_inside=True,
    )  # fmt: skip
    tree = Thing(name="apple", kind="tree", x=7, y=1, length=2, width=2, height=4)
    garden = Garden.empty(
        'Our "hill" / plot', prices=francs, latitude=Q_(-33.9, "deg"), soil="clay",
        tax_rate=Q_(8.1, "percent"), longest_carried=Q_(3.2, "m"), crew=4,
        levelling=Levelling(rule="limited", gravel=Q_(5, "cm")),
        plot=Plot(outline=L_SHAPE, downhill=75, things=(tree,)),
        survey=Survey(readings=((0, 0, 0.1), (9, 0, 0.33), (0, 7.5, 1.24))),
    )  # fmt: skip
    bed = new_bed("Beans").change(fill=(bc.Layer(material=HEAVY),), users=GRAN)
    return garden.with_bed(bed).change(
        fills=(HEAVY,), people=(GRAN,), price_lists=(francs,)
    )


GARDENS = {
    "demo": demo_garden,
    "demo, US": lambda: demo_garden().change(system="us"),
    "own": _own,
    "own, US": lambda: _own().change(system="us"),
    "empty": lambda: Garden.empty("Nothing yet"),
    "one bed, no prices": lambda: Garden.empty("Plot 7").with_bed(new_bed("Bed")),
}


@pytest.mark.parametrize("name", GARDENS)
def test_what_is_written_comes_back_the_same(name, tmp_path):
    garden = GARDENS[name]()
    path = write_numbers(garden, tmp_path / numbers_file(garden))
    back = read_numbers(path, garden)

    assert write_garden(back) == write_garden(garden)
    assert back == garden


def test_all_of_it_comes_back_into_an_empty_garden(tmp_path):
    own = _own()
    path = write_numbers(own, tmp_path / "n.xlsx")
    back = read_numbers(path, Garden.empty("New").change(beds=own.beds))

    assert back.place.change(prices=None) == own.place.change(prices=None)
    for name in ("name", "currency", "date", "taxed_inside"):
        assert getattr(back.place.prices, name) == getattr(own.place.prices, name)
    assert (back.fills, back.people) == (own.fills, own.people)
    assert shopping(back, cut="hand").total == shopping(own, cut="hand").total


def test_a_garden_without_prices_gets_no_demo_price(tmp_path):
    garden = Garden.empty("Plot 7").with_bed(new_bed("Bed"))
    book = load_workbook(write_numbers(garden, tmp_path / "n.xlsx"))
    rows = [[c.value for c in row] for row in book["Prices"].iter_rows(min_row=4)]
    named = [row for row in rows if row[0]]

    assert {"larch board 140 × 33", "garden mix"} <= {row[0] for row in named}
    assert all(row[4:9] == [None] * 5 for row in named)
    for name in ("Fills", "People", "Plot corners", "Level readings"):
        cells = [c.value for row in book[name].iter_rows(min_row=4) for c in row]
        assert not any(cells), name


class Edited:
    """A spreadsheet of a garden in which some cells were changed by hand."""

    def __init__(self, garden, folder):
        self.garden = garden
        self.path = write_numbers(garden, folder / "my numbers.xlsx")
        self.book = load_workbook(self.path)

    def entry(self, label, value):
        sheet = self.book["Place"]
        row = next(r for r in sheet.iter_rows() if str(r[0].value).startswith(label))
        row[1].value = value
        return row[1].row

    def add(self, sheet, *cells):
        self.book[sheet].insert_rows(4)
        for column, value in enumerate(cells, start=1):
            self.book[sheet].cell(row=4, column=column).value = value

    def read(self):
        self.book.save(self.path)
        return read_numbers(self.path, self.garden)

    def refused(self):
        with pytest.raises(NumbersError) as error:
            self.read()
        return error.value.problems


@pytest.fixture
def plain(tmp_path):
    return Edited(Garden.empty("Plot 7").with_bed(new_bed("Bed")), tmp_path)


def test_cells_as_people_write_them(plain):
    plain.entry("Currency", "chf")
    plain.entry("Date", datetime(2026, 3, 5))
    plain.entry("Latitude", "-33,9")
    plain.entry("Gravel", "2 in")
    plain.entry("Soil", "Heavy Loam")
    plain.add("Prices", "Garden mix", None, None, "bag", None, "40 L", "CHF 4,20")
    plain.add(
        "Prices", "larch board 140 × 33", None, None, None, "12 ft", 1, "1’015.50"
    )
    plain.add("Fills", "clay mix", "garden mix", "1400 kg/m3", "18", None, "20 %")
    for corner in (("a", 0, 0), ("b", "12,5", 0), ("c", "41 ft", "8 m"), ("d", 0, 8)):
        plain.add("Plot corners", *corner)
    plain.book["Plot corners"].move_range("A4:C7", rows=0)
    place = plain.read().place
    board, mix = place.prices.rows

    assert place.currency == Currency.of("CHF")
    assert place.prices.date == "5 March 2026"
    assert place.latitude.m_as("deg") == pytest.approx(-33.9)
    assert place.levelling.gravel.m_as("mm") == pytest.approx(50.8)
    assert place.soil == "heavy_loam"
    assert (mix.price, mix.content, mix.group) == (4.2, pytest.approx(0.04), "soil")
    assert board.length == pytest.approx(12 * 0.3048)  # a foot: 0.3048 m, exactly
    assert board.price == 1015.5
    assert place.plot.area == pytest.approx((12.5 + 41 * 0.3048) / 2 * 8, rel=1e-6)
    assert plain.read().fills[0].unit_weight_moist.m_as("kN/m^3") == pytest.approx(
        1.4 * 9.81
    )


def test_every_error_names_sheet_row_column_need_and_given(plain):
    plain.add("Prices", "gardn mix", None, None, "bag", None, 1, 4)
    plain.add("Prices", "garden mix", None, None, "bag", None, 1, "dear")
    plain.add("Prices", "garden mix", None, None, "bag", None, 1, 4, 5, 6)
    plain.add("Prices", "post 70 × 70", None, None, None, None, 1, 12)
    plain.add("Fills", "clay mix", "mud", 14)
    plain.add("Fills", None, "garden mix", 14)
    plain.add("Level readings", "a", 0, None, "deep")
    plain.add("Things on the plot", "shed", "castle", 1, 1)
    line = plain.entry("Tax rate", 90)
    problems = plain.refused()
    said = "\n".join(problems)

    for words in (
        "sheet Prices, row 7, What it is: needs a name from sheet Words; given gardn "
        "mix; for example garden mix",
        "sheet Prices, row 6, Price each: needs a number, 0 or more; given dear",
        "sheet Prices, row 5, Lowest price: needs low, price, high in rising order",
        "sheet Prices, row 4, Length: needs the length of one post 70 × 70",
        "sheet Fills, row 5, Most like: needs a name from sheet Words; given mud",
        "sheet Fills, row 4, Name: needs some words; given nothing",
        "sheet Level readings, row 4, Down the page: needs",
        "sheet Level readings, row 4, Down from the level line: needs a number",
        "sheet Things on the plot, row 4, Kind: needs house, fence",
        f"sheet Place, row {line}, Tax rate: needs a number, 0 to 50 %; given 90",
    ):
        assert words in said
    assert len(problems) == 10


def test_no_more_than_twenty_are_listed(plain):
    for _ in range(30):
        plain.add("Prices", "garden mix", None, None, "bag", None, 1, "dear")
    plain.book.save(plain.path)
    with pytest.raises(NumbersError) as error:
        read_numbers(plain.path, plain.garden)

    assert len(error.value.problems) == 30
    assert len(str(error.value).splitlines()) == 22
    assert "and 10 more" in str(error.value)


def test_a_formula_is_never_run(plain):
    plain.add("Prices", "garden mix", None, None, "bag", None, 1, "=2*3")

    assert plain.refused() == (
        "sheet Prices, row 4, Price each: needs a number or a word, not a formula; "
        "given =2*3; for example 24.00",
    )


def test_a_comma_that_could_mean_two_things_is_asked_about(plain):
    plain.add("Prices", "garden mix", None, None, "bag", None, 1, "2,400")

    assert "Does 2,400 mean 2.400 or 2400?" in plain.refused()[0]


def test_numbers_in_the_row_of_examples_are_not_lost_in_silence(plain):
    plain.book["Prices"]["G3"].value = 31

    assert "this is the example row" in plain.refused()[0]


def test_hidden_and_deleted_columns_are_said(plain):
    plain.book["Prices"].column_dimensions["E"].hidden = True
    plain.book["People"].delete_cols(3)
    plain.book["Place"].delete_rows(10)
    said = "\n".join(plain.refused())

    assert "sheet Prices: column E is hidden" in said
    assert "sheet People, row 1: needs the column Reach from one side" in said


def test_a_deleted_entry_of_the_place_is_said(plain):
    row = plain.entry("Tax rate", 20)
    plain.book["Place"].delete_rows(row)

    assert "needs the rows Tax rate" in plain.refused()[0]


def test_another_heading_unit_holds_for_its_column(plain):
    plain.book["Level readings"]["D1"].value = "Down from the level line in mm"
    for reading in (("a", 0, 0, 100), ("b", 5, 0, 150), ("c", 0, 4, 420)):
        plain.add("Level readings", *reading)

    assert plain.read().place.survey.readings[0] == pytest.approx((0, 4, 0.42))


def test_sheets_that_are_not_there_leave_things_as_they_are(tmp_path):
    edited = Edited(_own(), tmp_path)
    for name in ("Plot corners", "Things on the plot", "Prices", "Fills"):
        del edited.book[name]

    assert edited.read() == _own()


def test_another_currency_brings_its_own_sign(tmp_path):
    edited = Edited(_own(), tmp_path)
    edited.entry("Currency", "JPY")

    assert edited.read().place.currency == Currency.of("JPY")


def test_changed_fill_and_people_reach_the_beds_that_use_them(tmp_path):
    edited = Edited(_own(), tmp_path)
    edited.book["Fills"]["C4"].value = 16
    edited.book["People"]["C4"].value = 48
    bed = edited.read()["Beans"]

    assert bed.fill[0].row.unit_weight_moist == pytest.approx(16_000)
    assert bed.person.reach == pytest.approx(0.48)


def _files(folder):
    (folder / "none.xlsx").unlink(missing_ok=True)
    (folder / "empty.xlsx").write_bytes(b"")
    (folder / "text.xlsx").write_text("a,b")
    (folder / "list.csv").write_text("a,b")
    other = Workbook()
    other.active.title = "Holidays"
    other.save(folder / "other.xlsx")
    bare = Workbook()
    bare.active.title = "Prices"
    bare.save(folder / "bare.xlsx")


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("none.xlsx", "no such file"),
        ("empty.xlsx", "the file is empty"),
        ("text.xlsx", "needs a spreadsheet saved as .xlsx"),
        ("list.csv", "needs a spreadsheet saved as .xlsx"),
        ("other.xlsx", "needs sheets such as Place, Prices"),
        ("bare.xlsx", "sheet Prices: is empty"),
    ],
)
def test_a_wrong_file_is_refused_with_words(name, words, tmp_path):
    _files(tmp_path)
    with pytest.raises(NumbersError) as error:
        read_numbers(tmp_path / name, demo_garden())

    assert words in str(error.value)
    assert str(error.value).startswith(f"{name}: nothing was taken over")
