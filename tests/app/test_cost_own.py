"""Workbook 05 on the reader's own garden: prices, money, all views, the order."""

from __future__ import annotations

import pytest
from openpyxl import load_workbook

import bedcalc as bc
from bedcalc import Q_
from bedcalc.app import cost
from bedcalc.app.kit import view
from bedcalc.app.session import new_bed, open_session
from bedcalc.currency import Currency
from bedcalc.garden.garden import demo_garden
from bedcalc.model.bed import Wall
from bedcalc.model.layers import Layer, strategy_layers
from bedcalc.model.materials import FillMaterial
from bedcalc.model.prices import PriceList
from bedcalc.questions.shopping import shopping

VIEWS = [
    cost.bill_view, cost.doubt_view, cost.swings_view, cost.life_view,
    cost.builds_view, cost.share_view, cost.parts_view, cost.order_view,
]  # fmt: skip
BLOCKS = [cost.gifts_block, cost.lengths_block, cost.tools_block, cost.gear_block]
CLAY = FillMaterial(key="clay_mix", name="clay mix", like="mix")
HALF = tuple(
    row.changed(price=round(row.price / 2, 2)) for row in PriceList.named("demo").rows
)


def _half(code: str) -> PriceList:
    """Half the invented prices in another currency, as a list of one's own."""
    return PriceList(name="spring", rows=HALF, currency=Currency.of(code), date="2 May")


def _logs():
    return new_bed("Logs").change(fill=strategy_layers("logs_chips_mix"))


def _trough():
    return new_bed("Trough").change(wall=Wall.named("sheet"), length=Q_(180, "cm"))


GARDENS = {
    "blocks": ([lambda: new_bed("Wall").change(wall=Wall.named("blocks"))], "CHF"),
    "logs": ([_logs], "GBP"),
    "trough": ([_trough], "JPY"),
    "nine": ([new_bed] * 9, "EUR"),
    "own fill": (
        [lambda: new_bed("Clay").change(fill=(Layer(material=CLAY),))], "SEK"
    ),
    "long": ([lambda: new_bed("Long").change(length=Q_(7.5, "m"))], "CHF"),
    "US": ([lambda: new_bed("Deck").change(wall=Wall.named("boards_us"))], "USD"),
    "boards and mix": ([lambda: new_bed("Thin")], "CHF"),
    "logs, no prices": ([_logs], None),
    "nine, no prices": ([new_bed] * 9, None),
}  # fmt: skip


@pytest.fixture
def there(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture(params=GARDENS)
def own(request, there):
    """A desk with a garden of the reader's own."""
    beds, code = GARDENS[request.param]
    session = open_session()
    session.start("Our plot")
    for n, make in enumerate(beds):
        bed = make(f"Bed {n}") if make is new_bed else make()
        session.add(bed)
    if code:
        prices = _half(code)
        if request.param == "boards and mix":
            thin = ("larch_140x33", "mix")
            prices = prices.with_rows(r for r in prices.rows if r.goods in thin)
        place = session.place.change(prices=prices)
        session.update(session.garden.change(place=place, price_lists=(prices,)))
    if request.param == "US":
        session.show_in("us")
    return view.desk("B")


def _ends(control):
    if hasattr(control, "slider"):
        low, high, _, unit = control._scales["metric"]
        return [Q_(float(v), unit) if unit else int(v) for v in (low, high)]
    return [value for value, _ in control.options]


def test_every_view_serves_an_own_garden(own):
    made = [make(own) for make in VIEWS]
    for block in BLOCKS:
        assert block(own)
    for one in made:
        words = one.says.html
        assert "¤" not in words and "nan" not in words and "demo" not in words
        if one.picture is not None:
            shown = one.picture.shown
            assert "nan" not in f"{shown.annotations} {shown.live_layout}"
        if own.place.prices is None:
            assert "No prices yet" in words
        elif own.place.currency.code != "JPY":
            said = ("hold as they are", "a year cannot be said")
            assert own.place.currency.mark in words or any(s in words for s in said)


def test_every_control_of_the_bill_moves_and_can_be_taken_back(own):
    before = own.session.garden
    made = cost.bill_view(own)
    for control in made.controls:
        for value in _ends(control):
            made.put(**{control.name: value})
            assert "nan" not in made.says.html and "¤" not in made.says.html
        made.reset()
    while own.session.can_undo and own.session.garden != before:
        own.session.undo()

    assert own.session.garden == before


def test_another_bed_is_not_written_over_by_the_bill(there):
    session = open_session()
    session.start("Our plot")
    for name, length in (("One", 200), ("Two", 300)):
        session.add(new_bed(name).change(length=Q_(length, "cm")))
    made = cost.bill_view(view.desk("B"))
    session.choose("One")
    made.put(tax=True)
    made.put(strategy="half_logs")

    assert session.garden["One"].length == Q_(200, "cm")
    assert session.garden["Two"].length == Q_(300, "cm")
    assert session.garden["Two"].fill == new_bed("x").fill
    assert session.garden["One"].fill == strategy_layers("half_logs")


@pytest.mark.parametrize("name", cost.KEYS)
def test_every_question_has_its_answer(own, name):
    item = cost.item(name)
    given = own if item.question.about == "own" else own.demo
    if not item.fits(given.outcome):
        assert own.place.prices is None
        given = own.demo
    answer = item.key.answer(given.outcome)
    for text in (item.question.text, *item.question.hints, item.question.solution):
        words = item.words(text, given.outcome, given.system)
        assert "{" not in words and "nan" not in words and "¤" not in words
    if item.question.options:
        assert item.judge(given.outcome, answer).state == "right"
    else:
        typed = given.outcome.cost.currency.around(f"{answer.m:.5g}")
        assert item.judge(given.outcome, typed).state == "right"


def test_an_order_of_an_own_garden(there):
    session = open_session()
    session.start("Our plot")
    session.add(_trough())
    prices = _half("CHF")
    session.update(session.garden.change(
        place=session.place.change(prices=prices), price_lists=(prices,)
    ))  # fmt: skip
    made = cost.order_view(view.desk("B"))
    assert "CHF" in made.says.html and "1 bed." in made.says.html
    assert "2 May" in made.says.html
    from bedcalc.app.cost_order import ORDER

    buttons = [w for w in _widgets(made.widget) if getattr(w, "description", "") ==
               "Write the order"]  # fmt: skip
    buttons[0].click()
    cells = [
        str(cell.value)
        for sheet in load_workbook(there / ORDER).worksheets
        for row in sheet.iter_rows()
        for cell in row
    ]

    assert "Our plot" in cells and "2 May" in cells
    assert any("CHF" in cell for cell in cells)
    assert not any("Plumtrellis" in cell or "€" in cell for cell in cells)


def _widgets(widget):
    yield widget
    for child in getattr(widget, "children", ()):
        yield from _widgets(child)


def test_prices_with_tax_inside_say_of_which_tax(there):
    session = open_session()
    session.start("Our plot")
    session.add(new_bed("Bed"))
    prices = _half("CHF").with_rows(HALF, taxed_inside=True)
    place = session.place.change(prices=prices)
    session.update(session.garden.change(place=place, price_lists=(prices,)))
    desk = view.desk("B")
    tax = bc.show(desk.outcome.cost.tax, "coins", desk.system)
    for make in (cost.bill_view, cost.order_view):
        made = make(desk)
        assert "of which tax" in made.says.html
        rows = {row.name: row for row in made.controls}
        assert not rows["tax"].shown and rows["rate"].shown
    assert tax in cost.bill_view(desk).says.html.replace("&nbsp;", "\u00a0")


def test_steps_of_one_bed_say_so(there):
    session = open_session()
    session.start("Our plot")
    session.add(_logs())
    session.take_place(session.place.change(prices="demo"))
    made = cost.parts_view(view.desk("B"))
    made.put(steps=4)

    assert "Our plot has one bed, so there is one step" in made.says.html


def test_the_list_of_the_place_is_in_the_file(there):
    garden = bc.Garden.empty("Our plot", prices=_half("CHF"))
    bc.save(garden, there / "plot.toml")

    assert bc.load(there / "plot.toml").place.prices == _half("CHF")


# ---- the form


@pytest.fixture
def form(there):
    session = open_session()
    session.start("Our plot")
    session.add(new_bed("Bed"))
    return cost.own_prices(view.desk("B"))


def _type(form, number, **texts):
    boxes = form.goods.rows[number].boxes
    for key, text in texts.items():
        boxes[key].send_text(text)
    return boxes


def test_prices_are_put_in_by_number_boxes(form):
    assert "has no prices yet" in form.says.html
    assert form.goods.goods.options[0][1].endswith("needed, no price yet")
    form.code.value = "CHF"
    form.date.send_text("3. März")
    form.goods.goods.value = "larch_140x33"
    _type(form, 0, length="2,4", price="8.90")
    form.goods.add()
    boxes = _type(form, 1, length="12 ft", price="CHF 14,50", low="13", high="dear")
    assert "needs a number" in boxes["high"].says
    boxes["high"].send_text("18")
    prices = form.session.place.prices

    assert prices.currency == Currency.of("CHF") and prices.date == "3. März"
    assert [(r.length, r.price) for r in prices.rows] == [
        (2.4, 8.9), (pytest.approx(3.6576), 14.5),
    ]  # fmt: skip
    assert (prices.rows[1].low, prices.rows[1].high) == (13, 18)
    assert bc.load(form.session.path).place.prices == prices
    form.session._moved_at = 0.0  # some time later
    form.goods.take_out(0)
    assert [r.price for r in form.session.place.prices.rows] == [14.5]
    form.session.undo()
    assert len(form.session.place.prices.rows) == 2


def test_a_box_that_will_not_do_keeps_the_list(form):
    form.goods.goods.value = "larch_140x33"
    boxes = _type(form, 0, price="9")
    assert "needs the length of one" in boxes["length"].says
    boxes = _type(form, 0, length="40 m")
    assert "needs a number, 0.05 to 20\N{NO-BREAK SPACE}m" in boxes["length"].says
    assert form.prices is None
    _type(form, 0, length="3")
    assert len(form.prices.rows) == 1


def test_an_own_sign_and_another_list(form):
    form.code.value = "own"
    form.sign.send_text("Taler")
    form.decimals.value = 0
    form.before.value = True
    assert form.prices.currency == Currency(sign="Taler", decimals=0, before=True)
    form.sign.send_text("12")
    assert "needs" in form.sign.says
    form.lists.value = "new"
    assert form.prices.name == "own prices 2"
    form.lists.value = "own prices"
    assert form.prices.currency.sign == "Taler"
    assert len(form.session.garden.price_lists) == 2


def test_the_invented_prices_are_never_changed(form):
    form.session.take_place(form.session.place.change(prices="demo"))
    assert "uses the invented prices" in form.says.html
    form.goods.goods.value = "mix"
    _type(form, 0, content="0.5", price="31")

    assert [row.price for row in form.session.place.prices.rows] == [31]
    assert demo_garden().place.prices == PriceList.named("demo")


def test_the_spreadsheet_goes_out_and_comes_back(form):
    session = form.session
    form._act(form.read)
    assert "Write it first" in form.told.html
    form._act(form.write)
    path = session.path.with_name("Our plot numbers.xlsx")
    book = load_workbook(path)
    row = next(r for r in book["Prices"].iter_rows() if r[0].value == "garden mix")
    row[5].value, row[6].value = 1, "60,50"
    book.save(path)
    form._act(form.read)
    assert "1 prices" in form.told.html or "1 price" in form.told.html
    assert session.place.prices.goods["mix"][0].price == 60.5
    row[6].value = "dear"
    book.save(path)
    form._act(form.read)
    assert "sheet Prices, row" in form.told.html
    assert session.place.prices.goods["mix"][0].price == 60.5
    form._act(form.write)
    assert path.with_name("Our plot numbers before.xlsx").exists()


def test_the_demo_garden_has_no_form(there):
    made = cost.own_prices(view.desk("B"))

    assert "start one in the bar" in made.says.html
    assert "bc-hide" in made.form._dom_classes


def test_steps_say_what_is_planted_and_what_waiting_costs(there):
    session = open_session()
    session.start("Steps")
    tall = new_bed("Tall").change(height=Q_(84, "cm"), y=Q_(3, "m"))
    beds = (tall, new_bed("Low"))
    prices = _half("CHF")
    place = session.place.change(prices=prices)
    session.update(session.garden.change(beds=beds, place=place, price_lists=(prices,)))
    made = cost.parts_view(view.desk("B"))

    def said():
        return made.says.html.replace("\xa0", " ")

    inside = [bc.evaluate(b, place).size.si.inside_area for b in beds]
    assert "Step 1 (Tall)" in said() and "step 2 (Low)" in said()
    assert f"fter step 1 {inside[0]:.2f} m²" in said()
    assert f"after step 2 {sum(inside):.2f} m²" in said()
    made.controls["first"].value = "low"
    assert "Step 1 (Low)" in said() and "step 2 (Tall)" in said()
    made.controls["first"].value = "cheap"
    assert "Step 1 (Low)" in said()  # half as high, of the same boards
    together = shopping(beds, place, cut="hand").si.total
    one, two = (shopping([b], place, cut="hand").si.total for b in beds[::-1])
    assert f"CHF {one + two - together:.0f} more" in said()
    made.controls["rise"].value = Q_(10, "percent")
    # every price of the second step is a tenth dearer, rounded to the coin
    later = float(said().split("step 2 (Tall) CHF ")[1].split(".")[0].split()[0])
    assert later == pytest.approx(1.1 * two, abs=1.5)
    assert "prices rise meanwhile" in said()
