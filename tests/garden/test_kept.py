"""What a person wrote into a garden file stays there, at every level."""

from __future__ import annotations

import pytest

import bedcalc as bc
from bedcalc import Q_, FillMaterial, Layer, PriceList, Wall
from bedcalc.app.session import Session, new_bed
from bedcalc.currency import Currency
from bedcalc.model.plot import Plot, Thing

FILE = """\
# all of it is ours
format = 2
motto = "dig first"

[place]
name = "Elm Lane"
well = "behind the shed"
prices = "spring"

[place.levelling]
rule = "all_cut"
staff = "5 m, borrowed"
# Aunt holds the staff

[place.plot]
outline = [[0, 0], [8, 0], [8, 6], [0, 6]]
fence = "old"
things = [
    # the tap drips
    { name = "tap", kind = "tap", x = "1 m", y = "1 m", valve = "left" },
    { name = "ash", kind = "tree", x = "5 m", y = "4 m", planted = 1999 },
]

[[own.fills]]
key = "pit" # from the pit
name = "pit soil"
like = "topsoil"
smell = "good"

[[own.walls]]
key = "thick"
name = "roof boards"
like = "boards"
thickness = "48 mm"
found = "in the barn"

[[price_lists]]
# asked by telephone
name = "spring"
currency = { code = "CHF", coins = "round to five" }
asked = "Ms. K."
rows = [
    # a cubic metre, tipped
    { goods = "mix", name = "mix", group = "soil", sold_by = "m3", price = 50, cm = 9 },
]

[[beds]]
# the sunny one
name = "Beans"
length = "240 cm"
width = "120 cm"
height = "60 cm"
paint = "none"
fill = [
    # from the orchard
    { material = "logs", depth = "20 cm", wood = "plum" },
    { material = "pit", depth = "rest" }, # two trailers
]

[beds.wall]
like = "thick"
cap_wide = "120 mm" # a board we had
stain = "oil"
"""
NOTES = (
    "# all of it is ours", 'motto = "dig first"', 'well = "behind the shed"',
    'staff = "5 m, borrowed"', 'coins = "round to five"', 'asked = "Ms. K."',
    "cm = 9", "# Aunt holds the staff", 'fence = "old"', "# the tap drips",
    'valve = "left"', "planted = 1999", "# from the pit", 'smell = "good"',
    'found = "in the barn"', "# asked by telephone", "# a cubic metre, tipped",
    "# the sunny one", 'paint = "none"', "# from the orchard", 'wood = "plum"',
    "# two trailers", "# a board we had", 'stain = "oil"',
)  # fmt: skip


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "my_garden.toml"
    path.write_text(FILE)
    return path


def lost(path) -> list[str]:
    text = path.read_text()
    return [note for note in NOTES if note not in text]


def test_a_save_loses_no_note_and_no_entry(path):
    garden = bc.load(path)
    bc.save(garden, path)

    assert lost(path) == []
    assert bc.load(path) == garden


def test_the_second_save_changes_nothing_and_no_save_makes_it_longer(path):
    bc.save(bc.load(path), path)
    once = path.read_text()
    bc.save(bc.load(path), path)
    assert path.read_text() == once

    sizes = set()
    for ties in (1, 2, 1, 2, 1):
        garden = bc.load(path)
        bc.save(garden.with_bed(garden["Beans"].change(ties=ties)), path)
        sizes.add(len(path.read_text()))
    assert len(sizes) == 1


def test_a_change_of_everything_keeps_what_it_does_not_know(path):
    garden = bc.load(path)
    place, bed = garden.place, garden["Beans"]
    things = tuple(
        Thing(name=t.name, kind=t.kind, x=t.x + 1, y=t.y) for t in place.plot.things
    )
    (row,) = place.prices.rows
    dearer = place.prices.with_rows([row.changed(price=66.0)], date="3 May")
    fill = (Layer(material="logs", depth=Q_(15, "cm")), bed.fill[1])
    changed = garden.change(
        place=place.change(
            plot=Plot(outline=place.plot.outline, downhill=90, things=things),
            levelling=place.levelling.change(gravel=Q_(5, "cm")),
            prices=dearer, crew=3,
        ),
        price_lists=(dearer,),
        beds=(bed.change(fill=fill, cap_wide=Q_(140, "mm"), ties=2),),
    )  # fmt: skip
    bc.save(changed, path)

    assert lost(path) == []
    assert bc.load(path) == changed


def test_another_list_of_layers_keeps_what_stood_beside_those_that_stay(path):
    garden = bc.load(path)
    chips = Layer(material="chips", depth=Q_(10, "cm"))
    bed = garden["Beans"]
    bed = bed.change(fill=(bed.fill[0], chips, bed.fill[1]))
    bc.save(garden.with_bed(bed), path)

    assert 'wood = "plum"' in path.read_text()
    assert bc.load(path)["Beans"].fill == bed.fill


def test_another_wall_keeps_the_note_of_the_bed(path):
    garden = bc.load(path)
    for wall in (Wall.named("sheet"), Wall.named("planks").own("mine", "mine")):
        bed = garden["Beans"].change(wall=wall)
        bc.save(garden.with_bed(bed), path)
        assert bc.load(path)["Beans"].wall == wall
        assert 'stain = "oil"' in path.read_text()


def test_beds_added_copied_and_deleted_leave_the_others_notes(path):
    session = Session(path)
    session.add(new_bed("Kale"))
    session.choose("Beans")
    session.copy()
    session.rename("Peas")
    session.choose("Kale")
    session.delete()

    assert [bed.name for bed in bc.load(path)] == ["Beans", "Peas"]
    assert lost(path) == []


def test_a_price_list_in_one_line_becomes_one_that_can_be_read(path):
    """As files were written before: a list of lists, all in one line."""
    fill = FillMaterial(key="pit", name="pit soil", like="topsoil")
    garden = bc.Garden.empty("Elm").change(
        fills=(fill,),
        price_lists=(PriceList(name="spring", rows=PriceList.named("demo").rows[:3],
                               currency=Currency.of("CHF")),),
    )  # fmt: skip
    path.write_text(
        'format = 2\nprice_lists = [{name = "spring", currency = {code = "CHF"}, '
        'rows = []}]\n[place]\nname = "Elm"\n'
    )
    bc.save(garden, path)

    assert bc.load(path) == garden
    assert max(map(len, path.read_text().splitlines())) < 300
