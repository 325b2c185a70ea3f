"""Questions: right in any unit, each usual mistake named, untried is not wrong."""

from __future__ import annotations

import asyncio
import importlib
import re
import string
from pathlib import Path

import pytest

import bedcalc as bc
import bedcalc.app
from bedcalc.app.kit import question as asking
from bedcalc.app.kit.answers import KEYS
from bedcalc.app.kit.grading import Item, Key, Option, Question
from bedcalc.app.kit.question import check, check_yourself, recall
from bedcalc.tables import data_folder, table
from bedcalc.units import Q_

GARDEN = bc.demo_garden()
OUTCOMES = {bed.name: bc.evaluate(bed, GARDEN.place) for bed in GARDEN}
B = OUTCOMES["B"]


def all_keys() -> dict[str, dict]:
    """Keys by workbook: answers.py, and panels/*_questions.py for later workbooks."""
    found = dict(KEYS)
    books = [path.stem[-2:] for path in sorted(data_folder().glob("checks_*.csv"))]
    folder = Path(bedcalc.app.__file__).parent
    modules = [path.stem for path in sorted(folder.glob("*_questions.py"))]
    for name in modules:
        keys = importlib.import_module(f"bedcalc.app.{name}").KEYS
        items = {book: {row.item for row in table(f"checks_{book}")} for book in books}
        (book,) = (book for book in books if items[book] == set(keys))
        found[book] = keys
    return found


ALL = all_keys()
ITEMS = [(book, name) for book, keys in ALL.items() for name in keys]


def item(name: str, book: str = "00") -> Item:
    return Item(question=Question.read(name, book), key=ALL[book][name])


every_item = pytest.mark.parametrize(("book", "name"), ITEMS)
every_bed = pytest.mark.parametrize("bed", OUTCOMES)
both_systems = pytest.mark.parametrize("system", ["metric", "us"])


class Board:
    """Something like a bench: an outcome that changes and tells."""

    system = "metric"

    def __init__(self, outcome):
        self.outcome, self.listeners = outcome, []

    def observe(self, listener):
        self.listeners.append(listener)

    def show(self, outcome):
        self.outcome = outcome
        for listener in self.listeners:
            listener(outcome)


def right_entry(one: Item, outcome, system="metric") -> str:
    """The stored solution as somebody would type it."""
    if one.question.options:
        return one.key.answer(outcome)
    return one.answer_words(outcome, system)


# ---- what is stored


def test_each_question_has_its_key_and_each_key_its_question():
    for book, keys in ALL.items():
        assert {row.item for row in table(f"checks_{book}")} == set(keys)


@every_item
def test_each_question_fits_some_bed_of_the_demo_garden(book, name):
    assert any(item(name, book).fits(outcome) for outcome in OUTCOMES.values())


@every_item
def test_a_question_is_complete(book, name):
    question = item(name, book).question
    assert question.text and question.solution
    assert len(question.hints) == 2
    if question.options:
        assert 2 <= len(question.options) <= 5
        assert all(option.says for option in question.options)
    else:
        assert set(question.mistakes) == set(item(name, book).key.mistakes)
        assert len(question.mistakes) >= 2


@every_item
@every_bed
@both_systems
def test_every_stored_solution_passes_its_own_check(book, name, bed, system):
    one, outcome = item(name, book), OUTCOMES[bed]
    if not one.fits(outcome):
        assert one.judge(outcome, "1 m").state == "absent"
        return
    entry = right_entry(one, outcome, system)
    assert one.judge(outcome, entry).state == "right"
    solution = one.words(one.question.solution, outcome, system)
    assert one.answer_words(outcome, system) in solution


@every_item
@every_bed
@both_systems
def test_all_gaps_are_filled(book, name, bed, system):
    one = item(name, book)
    if not one.fits(OUTCOMES[bed]):
        return
    texts = [one.question.text, one.question.solution, *one.question.hints]
    texts += [*one.question.mistakes.values()]
    texts += [text for o in one.question.options for text in (o.text, o.says)]
    for text in texts:
        filled = one.words(text, OUTCOMES[bed], system)
        assert "{" not in filled
        assert "nan" not in filled.split()


@pytest.mark.parametrize(
    ("book", "name", "mistake"),
    [(book, name, m) for book, name in ITEMS for m in item(name, book).key.mistakes],
)
@every_bed
def test_each_listed_mistake_is_recognised_and_named(book, name, mistake, bed):
    one, outcome = item(name, book), OUTCOMES[bed]
    if not one.fits(outcome):
        return
    unit = one.question.unit
    wrong = one.key.mistakes[mistake](outcome)
    verdict = one.judge(outcome, f"{wrong.m_as(unit):.4g} {unit}")
    assert (verdict.state, verdict.name) == ("mistake", mistake)
    assert one.words(one.question.mistakes[mistake], outcome) in verdict.says


@every_item
def test_each_option_has_its_own_answer(book, name):
    one = item(name, book)
    states = [one.judge(B, option.name).state for option in one.question.options]
    said = {one.judge(B, option.name).says for option in one.question.options}
    assert states.count("right") == (1 if states else 0)
    assert len(said) == len(states)


@every_item
def test_untried_is_not_wrong(book, name):
    verdict = item(name, book).judge(B, "  ")
    assert (verdict.state, verdict.says) == ("untried", "Not tried yet.")


# ---- judging


@pytest.mark.parametrize(
    "entry", ["1.8 m3", "1804 L", "1.80 m³", "2.36 cu yd", "63.7 ft³", "1,8 m3"]
)
def test_any_fitting_unit_is_taken(entry):
    # bed B: (2.700 - 0.090) (1.050 - 0.090) 0.720 = 1.804 m³ by hand
    assert item("room").judge(B, entry).state == "right"


@pytest.mark.parametrize(
    ("entry", "state", "says"),
    [
        ("1.8", "unread", "1.8 m³"),
        ("1.8 kg", "unread", "does not fit"),
        ("plenty", "unread", "needs a number"),
        ("1804 m³", "mistake", "would be right in liter"),
        ("0.0180 m³", "mistake", "100 times too small"),
        ("180 m³", "mistake", "100 times too large"),
        ("3 m³", "wrong", "too large"),
        ("1 m³", "wrong", "too small"),
        ("-1.8 m³", "wrong", "too small"),
        ("1e400 m³", "unread", "does not fit"),
    ],
)
def test_what_is_not_right_is_answered_in_words(entry, state, says):
    verdict = item("room").judge(B, entry)
    assert verdict.state == state
    assert says in verdict.says


def bow_item(answer, **question):
    return Item(
        question=Question(
            name="bow", text="How far?", unit="mm", kind="bow", solution="{answer}",
            mistakes={"tenth": "You took a tenth of the length."}, **question,
        ),
        key=Key(answer=answer, mistakes={"tenth": lambda length: length / 10}),
    )  # fmt: skip


@pytest.mark.parametrize("entry", ["31 mm", "3.1 cm", "0.031 m", "1.22 in"])
def test_bow_in_any_unit(entry):
    verdict = bow_item(lambda length: Q_(31, "mm")).judge(Q_(2.7, "m"), entry)
    assert verdict.state == "right"


def test_a_tenth_of_the_length_is_named():
    verdict = bow_item(lambda length: Q_(31, "mm")).judge(Q_(2.7, "m"), "27 cm")
    assert verdict.says.endswith("You took a tenth of the length.")


def test_inches_for_millimetres_is_named():
    verdict = bow_item(lambda length: Q_(31, "mm")).judge(Q_(2.7, "m"), "31 in")
    assert (verdict.name, "right in mm" in verdict.says) == ("other_unit", True)


def test_tolerance_is_a_share_or_an_amount():
    one = bow_item(lambda length: Q_(31, "mm"), near=0.01)
    assert one.judge(Q_(2.7, "m"), "31.3 mm").state == "right"
    assert one.judge(Q_(2.7, "m"), "31.4 mm").state == "wrong"
    one = bow_item(lambda length: Q_(31, "mm"), near=0.01, least=Q_(2, "mm"))
    assert one.judge(Q_(2.7, "m"), "29.1 mm").state == "right"
    assert one.judge(Q_(2.7, "m"), "28.9 mm").state == "wrong"


def test_a_mistake_that_gives_the_right_number_is_right():
    """Bed 310 mm long: a tenth of it is the answer itself."""
    one = bow_item(lambda length: Q_(31, "mm"))
    assert one.judge(Q_(310, "mm"), "31 mm").state == "right"


def test_the_nearer_of_answer_and_mistake_wins():
    """Divide by 0.85, not multiply by 1.15: 2.3 % apart, both within 2 % of 2.1."""
    order, full = item("order"), B.size.fill_volume.m_as("m^3")
    near = 0.4 * full / 0.85 + 0.6 * full * 1.15
    assert order.judge(B, f"{near:.4f} m^3").name == "times"
    near = 0.6 * full / 0.85 + 0.4 * full * 1.15
    assert order.judge(B, f"{near:.4f} m^3").state == "right"


@pytest.mark.parametrize("answer", [None, Q_(float("nan"), "mm")])
def test_a_question_without_an_answer_does_not_fit_the_bed(answer):
    verdict = bow_item(lambda length: answer).judge(Q_(2.7, "m"), "31 mm")
    assert verdict.state == "absent"


# ---- on the page


def test_untouched_items_say_so():
    block = check_yourself("room", "order", "tie", given=B)
    for one in block.items:
        assert one.verdict.state == "untried"
        assert "Not tried yet." in one._says.html


def test_enter_and_the_button_check():
    (one,) = check("room", B).items
    one.entry.send_text("1.8 m3")
    assert one.verdict.state == "right"
    assert one._says.tone == "right"
    one.entry.value = "2.04 m3"
    one.go.click()
    assert one.verdict.name == "outside"
    assert "from outside" in one._says.html
    for _ in range(5):
        one.entry.send_text("1.8")
    assert one.entry.tone == "refused"
    one.entry.send_text("")
    assert one.verdict.state == "untried"


def test_choosing_is_enough():
    (one,) = check("tie").items
    one.choice.index = 0
    assert one.verdict.name == "half"
    one.choice.index = 2
    assert one.verdict.state == "right"


def test_two_hints_then_the_solution():
    (one,) = check("room", B).items
    labels, shown = [one.help.description], []
    for _ in range(3):
        one.help.click()
        labels.append(one.help.description)
        shown.append(one._hints.html)
    assert labels[:3] == ["Hint 1 of 2", "Hint 2 of 2", "Show the solution"]
    assert [text.count("<p>") for text in shown] == [1, 2, 3]
    assert "1.80\N{NO-BREAK SPACE}m³" in shown[2]
    assert "Solution" not in shown[1]
    assert one.help.disabled
    one.ask_help()
    assert one.helped == 3


def test_numbers_follow_the_bench_and_what_was_tried_is_untried():
    board = Board(B)
    (one,) = check("room", board).items
    one.entry.send_text("1.8 m3")
    board.show(OUTCOMES["A"])
    assert "bed A" in one._head.value
    assert one.verdict.state == "untried"
    assert "has changed" in one._says.html
    one.entry.send_text("1.45 m3")
    assert one.verdict.state == "right"


def test_a_moving_bench_is_followed_once_it_rests(monkeypatch):
    monkeypatch.setattr(asking, "CALM", 0.01)
    board = Board(B)
    (one,) = check("room", board).items
    heads = []
    one._head.observe(lambda change: heads.append(change.new), "value")

    async def drag():
        for name in "ACDEA":
            board.show(OUTCOMES[name])
        assert heads == []
        await asyncio.sleep(0.05)

    asyncio.run(drag())
    assert len(heads) == 1
    assert "bed A" in heads[0]


def test_given_may_be_a_function_or_an_outcome():
    (one,) = check("room", lambda: B).items
    assert one.outcome is B
    (one,) = check("room", B).items
    assert one.outcome is B


def test_us_units_are_shown_where_the_bench_shows_them():
    board = Board(B)
    board.system = "us"
    (one,) = check("room", board).items
    assert "106.30\N{NO-BREAK SPACE}in" in one._head.value


def test_a_bed_s_name_cannot_break_the_page():
    bed = GARDEN["B"].change(name="<img src=x onerror=alert(1)> {answer} **x**")
    (one,) = check("room", bc.evaluate(bed, GARDEN.place)).items
    for _ in range(3):
        one.ask_help()
    one.entry.send_text("<b>1</b>")
    for text in (one._head.value, one._hints.html, one._says.html):
        assert "<img" not in text
        assert "<b>" not in text


def test_recall_and_check_yourself_have_headings_and_numbers():
    block = recall(["room", "tie"], B)
    assert "<h2>Remember?</h2>" in block.children[0].children[0].value
    assert [bool(re.search(r">\d</span>", i._head.value)) for i in block.items] == [
        True, True,
    ]  # fmt: skip
    block = check_yourself("tie")
    assert "<h2>Check yourself</h2>" in block.children[0].children[0].value


def test_an_item_of_one_s_own():
    own = Item(
        question=Question(
            name="own", text="Two and two?", solution="{answer}",
            options=(Option(name="4", text="four", says="So it is."),
                     Option(name="5", text="five", says="Count again.")),
        ),
        key=Key(answer=lambda outcome: "4"),
    )  # fmt: skip
    (one,) = check(own).items
    one.choice.index = 1
    assert "Count again." in one._says.html


def test_an_unknown_question_names_those_there_are():
    with pytest.raises(KeyError, match="room, order, tie"):
        Question.read("no_such_question")


def test_texts_hold_only_known_gaps():
    """A gap in a text that no key fills would fail only in front of a class."""
    for book, name in ITEMS:
        one = item(name, book)
        known = {"answer", *one.key.facts(B)}
        for row in table(f"checks_{book}"):
            if row.item == name:
                gaps = {gap for _, gap, _, _ in string.Formatter().parse(row.text)}
                assert gaps - {None} <= known, row.key


def test_the_solution_as_it_is_shown_is_right_however_small_the_bed():
    """60 by 40 by 15 cm: 0.027 m³ of room are shown as 0.03, which is 12 % away."""
    box = bc.Bed(
        name="Box", length=Q_(60, "cm"), width=Q_(40, "cm"), height=Q_(15, "cm"),
        wall=bc.Wall.named("boards"),
    )  # fmt: skip
    outcome = bc.evaluate(box, bc.Place.unknown("Sill"))
    found = item("room", "00")
    for system in ("metric", "us"):
        shown = found.answer_words(outcome, system)
        assert found.judge(outcome, shown).state == "right", shown
    assert found.judge(outcome, "0.04 m3").state != "right"
