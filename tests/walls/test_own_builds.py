"""Own boards, posts and blocks: in the sheet and back, and in the beds of them."""

from __future__ import annotations

import dataclasses

import pytest
from openpyxl import load_workbook

import bedcalc as bc
from bedcalc import Q_, BlockSize, Garden, Wall
from bedcalc.garden.garden import new_bed
from bedcalc.questions.own_builds import own_build, own_builds, with_builds
from bedcalc.spreadsheets.own_numbers import NumbersError, read_numbers, write_numbers
from bedcalc.walls.custom_sections import sized_wall, wall_of_block

QUARRY = BlockSize(
    key="my_quarry", name="blocks from the quarry", length=Q_(500, "mm"),
    course=Q_(250, "mm"), thickness=Q_(300, "mm"), unit_weight=Q_(24, "kN/m^3"),
)  # fmt: skip
BARN = Wall.named("boards").own("barn", "boards from the barn")
BARN = sized_wall(BARN, thickness=Q_(48, "mm"), course=Q_(170, "mm"))


@pytest.fixture(params=["metric", "us"])
def garden(request):
    stones = wall_of_block(QUARRY)
    wall = new_bed("Wall").change(wall=stones, height=Q_(500, "mm"))
    boards = new_bed("Boards").change(wall=BARN)
    return Garden.empty("Quarry lane").change(
        beds=(wall, boards), walls=(stones, BARN), blocks=(QUARRY,),
        system=request.param,
    )  # fmt: skip


def test_a_build_of_own_blocks_is_as_thick_and_high_as_they_are():
    wall = wall_of_block(QUARRY)
    bed = new_bed("Wall").change(wall=wall, height=Q_(500, "mm"))
    other = bed.change(wall=Wall.named("blocks"), height=Q_(600, "mm"))
    out = bc.evaluate(bed, Garden.empty("x").place)

    # 1.2 m outside, 0.3 m of block on each side
    assert out.size.inside_width.m_as("m") == pytest.approx(bed.si.width - 0.6)
    # two courses, heavier and twice as thick: it must stand better
    safe = [
        bc.evaluate(b, Garden.empty("x").place).check("tipping") for b in (bed, other)
    ]
    assert safe[0].utilisation < safe[1].utilisation
    assert [line.goods for line in out.cost.unpriced if line.part == "walls"][0] == (
        QUARRY.key
    )


def test_own_boards_posts_and_blocks_come_back_as_they_went(garden, tmp_path):
    path = write_numbers(garden, tmp_path / "n.xlsx")
    assert read_numbers(path, garden) == garden

    new = read_numbers(path, Garden.empty("New").change(system=garden.system))
    (block,), walls = new.blocks, {wall.name: wall for wall in new.walls}
    for name in ("length", "course", "thickness"):
        assert block.row.q(name).m_as("mm") == pytest.approx(
            QUARRY.row.q(name).m_as("mm")
        )
    assert set(walls) == {"blocks from the quarry", "boards from the barn"}
    barn = walls["boards from the barn"]
    assert barn.thickness.m_as("mm") == pytest.approx(48)
    assert barn.goods == BARN.goods == "board of 48 × 170 mm"
    assert barn.post == Wall.named("boards").post
    assert bc.evaluate(new_bed("x").change(wall=barn), new.place).cost.missing


def test_a_changed_block_and_a_changed_board_reach_the_beds_built_of_them(
    garden, tmp_path
):
    path = write_numbers(garden, tmp_path / "n.xlsx")
    book = load_workbook(path)
    heads = [cell.value for cell in book["Blocks"][1]]
    book["Blocks"].cell(4, 1 + _at(heads, "Block height")).value = "200 mm"
    heads = [cell.value for cell in book["Boards and posts"][1]]
    book["Boards and posts"].cell(4, 1 + _at(heads, "Board thickness")).value = "45 mm"
    book.save(path)
    back = read_numbers(path, garden)

    assert back["Wall"].wall.course == Q_(200, "mm")
    assert back["Wall"].height.m_as("mm") == pytest.approx(400)  # two courses still
    assert back["Boards"].wall.thickness.m_as("mm") == pytest.approx(45)
    assert back["Boards"].wall.goods == "board of 45 × 170 mm"
    assert back["Boards"].wall == dict((w.key, w) for w in back.walls)["barn"]


def _at(heads, words):
    return next(n for n, head in enumerate(heads) if head.startswith(words))


def test_wrong_boards_and_blocks_name_sheet_row_and_column(garden, tmp_path):
    path = write_numbers(garden, tmp_path / "n.xlsx")
    book = load_workbook(path)
    for sheet, cells in (
        ("Blocks", ("tiny", "solid concrete block 400 × 200 × 150 mm", "20 mm")),
        ("Blocks", ("odd", "brick")),
        ("Boards and posts", ("thin", "larch boards 140 × 33 on posts", "3 mm")),
        ("Boards and posts", (None, "larch boards 140 × 33 on posts")),
    ):
        page = book[sheet]
        page.insert_rows(4)
        for column, value in enumerate(cells, start=1):
            page.cell(4, column).value = value
    book.save(path)
    with pytest.raises(NumbersError) as refused:
        read_numbers(path, garden)
    said = str(refused.value)

    for words in (
        "Blocks, row 5, Block length: needs a number, 100 to 1200 mm; given 20 mm",
        "sheet Blocks, row 4, Most like: needs",
        "sheet Boards and posts, row 5: wall of boards, thickness: needs at least 5 mm",
        "sheet Boards and posts, row 4, Name: needs some words; given nothing",
    ):
        assert words in said


def test_a_build_keeps_what_its_sheet_does_not_say():
    before = dataclasses.replace(BARN, cap_out=Q_(25, "mm"))
    given = {"name": BARN.name, "like": "boards", "post": Q_(90, "mm"),
             "thickness": Q_(48, "mm"), "course": Q_(170, "mm")}  # fmt: skip
    made = own_build("barn", given, before)

    assert made.cap_out == Q_(25, "mm")
    assert made.post_goods == "post of 90 × 90 mm"
    assert own_build("barn", given | {"post": None}, before) == before


def test_a_deleted_block_takes_its_build_along_unless_a_bed_is_built_of_it(garden):
    used = with_builds(garden, blocks=())
    assert used["Wall"].wall.block == QUARRY
    unused = with_builds(garden.without_bed("Wall"), blocks=())
    assert [wall.key for wall in unused.walls] == ["barn"]
    assert own_builds(garden) == (BARN,)
