"""Files that somebody spoiled: read, or refused in words; never anything else."""

from __future__ import annotations

import re
import time

import pytest

import bedcalc as bc
from bedcalc import GardenError
from bedcalc.currency import Currency
from bedcalc.garden.schema import schema
from bedcalc.garden.words import INLINE, KNOWN
from bedcalc.spreadsheets.columns import NumbersError
from bedcalc.spreadsheets.levels import read_levels, write_levels
from bedcalc.spreadsheets.prices import read_prices, write_prices
from bedcalc.text_files import FileError
from benchmarks.changed_files import run

PLAIN = """\
format = 2

[place]
name = "Elm Lane"

[[beds]]
name = "Beans"
length = "240 cm"
width = "120 cm"
height = "60 cm"
wall = "boards"

[[beds]]
name = "Kale"
length = "240 cm"
width = "120 cm"
height = "60 cm"
fill = [
    { material = "logs", depth = "20 cm" },
    { material = "mix", depth = "rest" },
]

[beds.wall]
like = "boards"
thickness = "33 mm"
"""


def message(tmp_path, text: str | bytes) -> str:
    path = tmp_path / "our.toml"
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    begun = time.process_time()
    with pytest.raises(GardenError) as error:
        bc.load(path)
    assert time.process_time() - begun < 1
    said = str(error.value)
    assert said.startswith("our.toml") and len(said) < 1000
    return said


LAST = 'height = "60 cm"\nfill'


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('"60 cm"\nwall', '"1 m**9**9**9"\nwall', r"line 10: bed Beans, height: .*"),
        ('"60 cm"\nwall', '"1 10**99999999"\nwall', r"line 10: bed Beans, height: .*"),
        ('"60 cm"\nwall', '"1 #"\nwall', r"line 10: bed Beans, height: .*"),
        ('"60 cm"\nwall', '"1 m/0"\nwall', r"line 10: bed Beans, height: .*"),
        ('"60 cm"\nwall', f'"1 {"m*" * 9000}"\nwall', r"line 10: bed Beans, height: .*"),  # noqa: E501
        ('"60 cm"\nwall', f"{'9' * 4000}\nwall", r"line 10: bed Beans, height: .*"),
        ('"60 cm"\nwall', "nan\nwall", r'line 10.*nan; for example height = "720 mm"'),
        (LAST, f"users = []\n{LAST}", r"line 17: bed Kale, users: .*given \[\]; for "
         r'example users = "adult"'),
        (LAST, f'title = ["a"]\n{LAST}', r"line 17: bed Kale, title: needs text in quo"),  # noqa: E501
        ('name = "Elm Lane"', 'name = "Elm"\nwith_tax = "no"',
         r"line 5: place, with_tax: needs true or false; given .no.; for example wit"),
        ('name = "Elm Lane"', 'name = "Elm"\nsurvey = [[0, 0], [1, 2, 3]]',
         r"line 5: place, survey 1: needs a row of 3 numbers; given \[0, 0\]; for ex"),
        ('like = "boards"', 'like = "boards"\nsheet = "x"',
         r"line 2\d: .*bed Kale.*sheet: needs one of .*given 'x'; for example sheet = .sinus"),  # noqa: E501
        ('thickness = "33 mm"', 'thickness = "1 mm"',
         r'line 25: bed Kale, wall of boards, thickness.*; for example thickness = "33 mm'),  # noqa: E501
        ('depth = "20 cm"', 'depth = "20 kg"', r"line 19: bed Kale, fill 1.*depth"),
        ('material = "logs"', 'material = "jam"', r"line 19: fill 1.*|line 19: bed Kale, "  # noqa: E501
         "fill.*material"),
        ("format = 2", "format = -7", "needs a line format = 2, given -7"),
        ("[place]", "beds = [1]\n[place]", "not a garden file"),
        ('name = "Kale"', 'name = "Kale"\nodd = ' + "[" * 3000, "not a garden file"),
        ('name = "Kale"', 'name = "Kale"\n' + "a." * 20_000 + "a = 1", "too many .* dots"),  # noqa: E501
        ('name = "Kale"', 'name = "Kale"\nodd = ' + "9" * 5000, "not a garden file"),
        ('name = "Kale"', f'name = "{"x" * 100_000}"', r"line 1\d: bed x+….*60 signs"),
    ],
)  # fmt: skip
def test_a_wrong_entry_is_named_with_line_and_example(tmp_path, old, new, words):
    assert old in PLAIN
    assert re.search(words, message(tmp_path, PLAIN.replace(old, new, 1)))


def test_a_value_is_repeated_in_sixty_signs_at_most(tmp_path):
    said = message(tmp_path, PLAIN.replace('"60 cm"', f'"{"spade " * 9999}"', 1))
    given = re.search(r"given (.*?)(; for example|$)", said)[1]

    assert len(given) <= 62


def test_a_folder_and_an_empty_file_are_no_gardens(tmp_path):
    (tmp_path / "folder.toml").mkdir()
    with pytest.raises(GardenError, match="folder.toml: is a folder"):
        bc.load(tmp_path / "folder.toml")
    assert "needs a line format = 2" in message(tmp_path, "")


@pytest.mark.parametrize("code", ["utf-8-sig", "utf-16", "utf-16-le", "cp1252"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_a_garden_is_read_as_editors_write_it(tmp_path, code, end):
    path = tmp_path / "our.toml"
    text = PLAIN.replace("Elm Lane", "Bäume").replace("\n", end)
    path.write_bytes(text.encode(code))
    garden = bc.load(path)

    assert (garden.name, len(garden.beds)) == ("Bäume", 2)
    bc.save(garden.with_bed(garden["Kale"].change(ties=1)), path)
    assert bc.load(path)["Kale"].ties == 1


def test_the_schema_knows_every_entry_that_is_written():
    def entries(part: str) -> set[str]:
        about = schema()
        for step in part.split(".") if part else ():
            about = about["properties"][step]
            about = about.get("items", about)
        return set(about["properties"])

    for part, names in (*KNOWN.items(), *((p, n) for p, (_, n) in INLINE.items())):
        assert names <= entries(part), part


# ---- spreadsheets as text


@pytest.fixture
def prices(tmp_path):
    return write_prices(bc.demo_garden().place, tmp_path / "prices.csv")


@pytest.mark.parametrize("code", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_a_price_list_is_read_as_spreadsheets_write_it(prices, code, end, mark):
    read = read_prices(prices, Currency.of("EUR"))
    lines = prices.read_text(encoding="utf-8-sig").splitlines()
    lines = [line for line in lines if '"' not in line]
    if mark != ",":
        number = re.compile(r"(?<=,)(\d+)\.(\d+)(?=,)")
        lines = [number.sub(r"\1|\2", number.sub(r"\1|\2", line)) for line in lines]
        lines = [line.replace(",", mark).replace("|", ",") for line in lines]
    prices.write_bytes(end.join(lines).encode(code))
    again = read_prices(prices, Currency.of("EUR"))

    known = {row.key: row.price for row in read.rows}
    assert len(again.rows) > 20
    assert all(known[row.key] == row.price for row in again.rows)


@pytest.mark.parametrize("bad", ["nan", "1e400", "9" * 5000, "=1+1", "x" * 100_000])
def test_a_count_that_is_none_is_named_with_its_row(prices, bad):
    head, first, *_ = prices.read_text(encoding="utf-8-sig").splitlines()
    cells = first.split(",")
    cells[head.split(",").index("How many there are")] = bad
    prices.write_text("\n".join([head, ",".join(cells)]))

    with pytest.raises(NumbersError, match="row 2, How many there are: needs") as error:
        read_prices(prices)
    assert len(str(error.value)) < 400


def test_readings_come_back_and_decimal_commas_are_read(tmp_path):
    survey = bc.demo_garden().place.survey
    path = write_levels(survey, tmp_path / "levels.csv")
    assert read_levels(path) == survey
    text = path.read_text(encoding="utf-8-sig").replace(",", ";").replace(".", ",")
    path.write_text(text, encoding="cp1252")

    assert read_levels(path) == survey


def test_a_wrong_reading_is_named_with_its_row(tmp_path):
    path = write_levels(bc.demo_garden().place.survey, tmp_path / "levels.csv")
    lines = path.read_text(encoding="utf-8-sig").splitlines()
    lines[2] = "gate,1,nan,0.2"
    path.write_text("\n".join(lines))

    with pytest.raises(FileError, match="levels.csv.*\n.*row 3, Down the page: needs"):
        read_levels(path)


@pytest.mark.parametrize("kind", ["garden", "prices", "readings", "weather"])
def test_files_changed_at_random_are_read_or_refused(kind):
    """A short run of ``benchmarks/changed_files.py``."""
    found, first, _, grown = run(kind, 60, 7)

    assert set(found) <= {"loaded", "refused"}, first
    assert sum(found.values()) == 60
    assert grown < 200_000_000
