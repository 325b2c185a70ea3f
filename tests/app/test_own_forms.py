"""A fill and people of one's own: added, changed and deleted in a form."""

from __future__ import annotations

import pytest

import bedcalc as bc
from bedcalc import Q_, Layer
from bedcalc.app import fill
from bedcalc.app.cost_own import own_prices
from bedcalc.app.kit import view
from bedcalc.app.kit.stack import stack_view
from bedcalc.app.own_block import own_block
from bedcalc.app.own_fill import own_fill
from bedcalc.app.own_people import own_people
from bedcalc.app.size import posture_view
from tests.gardens.opened import open_garden


@pytest.fixture
def priced(tmp_path):
    """A garden with a price list of its own, in Swiss francs."""
    return open_garden("own fill", tmp_path)


@pytest.fixture
def plain(tmp_path):
    """A garden with one bed and nothing else."""
    return open_garden("a new bed", tmp_path)


def typed(form, **texts) -> None:
    form.name.value = texts.pop("name", form.name.value)
    for name, text in texts.items():
        (form.price if name == "price" else form.entries[name]).value = text


def test_a_fill_is_added_kept_and_offered(priced):
    desk = view.desk("B", priced.path)
    stack, buying, form = stack_view(desk), fill.buying_view(desk), own_fill(desk)
    typed(form, name="Grit mix", unit_weight_moist="1300", unit_weight_soaked="1700",
          friction="32", settle="12", price="44")  # fmt: skip
    form.like.value = "topsoil"
    form.add()
    made = priced.garden.fills[-1]

    assert made.name == "Grit mix"
    # 1300 kg/m³ × 9.80665 m/s²
    assert made.unit_weight_moist.m_as("kN/m^3") == pytest.approx(12.748645)
    assert made.settle.m_as("percent") == pytest.approx(12)
    assert (made.key, "Grit mix") in stack.controls["material_1"].options
    assert (made.key, "Grit mix") in buying.controls["goods"].options
    again = bc.load(priced.path)
    assert again.fills == priced.garden.fills
    (row,) = again.place.prices.goods[made.key]
    assert row.price / row.content == pytest.approx(44)
    stack.controls["material_2"].value = made.key
    assert priced.bed.fill[1].material == made
    assert "Grit mix" in stack.says.html
    assert "CHF" in stack.says.html


def test_what_is_left_empty_is_as_in_the_fill_it_is_like(plain):
    form = own_fill(view.desk("B", plain.path))
    assert form.entries["settle"].placeholder.startswith("15")
    typed(form, name="Forest soil")
    form.like.value = "compost"
    form.add()
    made = plain.garden.fills[0]

    assert made.given == {}
    assert made.row.settle == pytest.approx(bc.tables.table("fills")["compost"].settle)


@pytest.mark.parametrize(
    ("name", "text", "needed"),
    [
        ("unit_weight_moist", "9000", "51 to 2549 kg/m³"),
        ("unit_weight_moist", "12 m", "kg/m³"),
        ("friction", "5", "15 to 45"),
        ("settle", "-3", "0 to 70"),
        ("unit_weight_soaked", "600", "at least the moist weight of 1122"),
        ("price", "cheap", "Price"),
        ("price", "-4", "zero or more"),
    ],
)
def test_what_cannot_be_is_said_beside_its_field(priced, name, text, needed):
    before = priced.garden
    form = own_fill(view.desk("B", priced.path))
    typed(form, name="Grit", **{name: text})
    form.add()
    entry = form.price if name == "price" else form.entries[name]

    assert needed in entry.says.replace("\xa0", " ")
    assert entry.value == text
    assert form.name.value == "Grit"
    assert priced.garden == before


@pytest.mark.parametrize("name", ["", "garden mix", "quarry soil", "x" * 61])
def test_a_name_is_needed_and_is_its_own(priced, name):
    before = priced.garden
    form = own_fill(view.desk("B", priced.path))
    typed(form, name=name)
    form.add()

    assert "Name: needs" in form.name.says
    assert priced.garden == before


def test_a_change_reaches_the_beds_and_one_undo_takes_it_back(priced):
    desk = view.desk("B", priced.path)
    form = own_fill(desk)
    before = priced.garden
    form.which.value = "quarry"
    assert form.entries["settle"].value == "22"
    typed(form, settle="30", name="quarry soil, washed", price="40")
    form.change()

    assert priced.bed.fill[1].row.settle == pytest.approx(0.30)
    assert priced.bed.fill[1].row.name == "quarry soil, washed"
    assert not desk.outcome.cost.missing
    form.which.value = "quarry"
    assert form.price.value == "40"
    priced.undo()
    assert priced.garden == before
    assert form.desk.bed.fill[1].row.settle == pytest.approx(0.22)


def test_a_fill_in_use_stays_and_an_unused_one_goes_with_its_price(priced):
    desk = view.desk("B", priced.path)
    form = own_fill(desk)
    form.which.value = "quarry"
    typed(form, price="40")
    form.change()
    form.delete()
    assert "Slope uses quarry soil" in form.says.html
    assert priced.garden.fills
    desk.take(desk.bed.change(fill=(Layer(material="mix"),)))
    form.delete()

    assert priced.garden.fills == ()
    assert "quarry" not in priced.garden.place.prices.goods
    assert form.which.value == ""


def test_without_an_own_list_the_price_is_not_kept_and_that_is_said(plain):
    form = own_fill(view.desk("B", plain.path))
    typed(form, name="Grit", price="38")
    form.add()

    assert "price was not kept" in form.says.html
    assert plain.garden.place.prices is None
    assert len(plain.garden.fills) == 1


def test_the_demo_garden_keeps_nothing(tmp_path):
    form = own_fill(view.desk("B", tmp_path / "none.toml"))
    typed(form, name="Grit")
    form.add()

    assert "demo garden" in form.says.html
    assert form.name.value == "Grit"


def test_feet_and_pounds(priced):
    form = own_fill(view.desk("B", priced.path))
    form.which.value = "quarry"
    typed(form, unit_weight_moist="1602")
    priced.show_in("us")
    # 1602 kg/m³ is 100 lb/ft³: 1 lb/ft³ = 16.018 kg/m³ (NIST SP 811, B.8)
    assert float(form.entries["unit_weight_moist"].value) == pytest.approx(100, abs=0.1)
    typed(form, unit_weight_soaked="115", price="30")
    form.change()
    made = priced.garden.fills[0]

    assert made.unit_weight_moist.m_as("kN/m^3") == pytest.approx(15.71, abs=0.01)
    (row,) = priced.garden.place.prices.goods["quarry"]
    assert row.price == 15.0
    assert row.content == pytest.approx(0.3823, abs=1e-4)  # half a cubic yard


def test_people_are_added_and_the_bed_is_for_them(plain):
    desk = view.desk("A", plain.path)
    posture, form = posture_view(desk), own_people(desk)
    typed(form, name="our twins", reach="44", stature="131")
    form.like.value = "child_6_8"
    form.add()
    made = plain.garden.people[0]

    assert plain.bed.users == made
    assert desk.outcome.size.reach.m_as("cm") == pytest.approx(44)
    assert posture.controls["users"].value == made.key
    assert posture.controls["stature"].value.m_as("cm") == pytest.approx(131)
    form.delete()
    assert "Bed" in form.says.html and plain.garden.people
    form.which.value = made.key
    typed(form, reach="40")
    form.change()
    assert desk.outcome.size.reach.m_as("cm") == pytest.approx(40)
    assert bc.load(plain.path).beds[0].users.reach == Q_(40, "cm")
    desk.take(desk.bed.change(users="adult"))
    form.delete()
    assert plain.garden.people == ()


def test_people_who_cannot_be(plain):
    form = own_people(view.desk("A", plain.path))
    typed(form, name="giants", reach="140", stature="cm")
    form.add()

    assert "15 to 110 cm" in form.entries["reach"].says.replace("\xa0", " ")
    assert form.entries["stature"].says
    assert plain.garden.people == ()


# ---- blocks


def test_blocks_are_added_offered_built_with_and_priced(priced):
    desk = view.desk("B", priced.path)
    form, prices = own_block(desk), own_prices(desk)
    typed(form, name="old kerbs", length="1000", course="300", thickness="180",
          unit_weight="2300")  # fmt: skip
    form.add()
    (made,), (wall,) = priced.garden.blocks, priced.garden.walls

    # 2300 kg/m³ × 9.80665 m/s²
    assert made.unit_weight.m_as("kN/m^3") == pytest.approx(22.5553, abs=1e-4)
    assert (wall.name, wall.block, wall.course) == ("old kerbs", made, Q_(300, "mm"))
    desk.take(desk.bed.change(wall=wall, height=Q_(600, "mm")))
    assert desk.outcome.size.inside_width.m_as("mm") == pytest.approx(
        desk.bed.width.m_as("mm") - 360
    )
    assert made.key in [line.goods for line in desk.outcome.cost.unpriced]
    prices.goods.goods.value = made.key
    assert "old kerbs" in dict(prices.goods.goods.options)[made.key]
    row = prices.goods.rows[0].boxes
    row["price"].value = "12"
    row["price"].send_text("12")
    (line,) = [n for n in desk.outcome.cost.lines if n.goods == made.key]
    assert (line.unit, line.group, line.price) == ("piece", "stone", 12)
    assert bc.load(priced.path).blocks == (made,)


def test_a_changed_block_changes_the_beds_of_it_and_a_used_one_stays(plain):
    desk = view.desk("B", plain.path)
    form = own_block(desk)
    typed(form, name="kerbs", course="250", thickness="150")
    form.add()
    desk.take(desk.bed.change(wall=plain.garden.walls[0], height=Q_(500, "mm")))
    typed(form, thickness="220", course="200")
    form.change()

    assert plain.bed.wall.thickness == Q_(220, "mm")
    assert plain.bed.height.m_as("mm") == pytest.approx(400)  # two courses still
    form.delete()
    assert "Not deleted" in form.says.html and plain.garden.blocks
    typed(form, thickness="600")
    form.change()
    assert "Not changed" in form.says.html and "between the inner faces" in (
        form.says.html
    )
    assert plain.bed.wall.thickness == Q_(220, "mm")
    desk.take(desk.bed.change(wall=bc.Wall.named("boards")))
    form.delete()
    assert plain.garden.blocks == plain.garden.walls == ()


@pytest.mark.parametrize(
    ("name", "text", "needed"),
    [("length", "5", "100 to 1200 mm"), ("thickness", "thick", "Thickness"),
     ("unit_weight", "99", "510 to 3059 kg/m³")],
)  # fmt: skip
def test_a_block_that_cannot_be_is_refused_beside_its_box(plain, name, text, needed):
    form = own_block(view.desk("B", plain.path))
    typed(form, name="kerbs", **{name: text})
    form.add()

    assert needed in form.entries[name].says.replace("\xa0", " ")
    assert form.entries[name].value == text
    assert plain.garden.blocks == ()
