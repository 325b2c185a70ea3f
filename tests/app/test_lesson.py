"""The blocks of a lesson: what they show, what they open, what they never leave out."""

from __future__ import annotations

import re

import ipywidgets
import pytest

from bedcalc.app import lesson
from bedcalc.app.kit import style
from bedcalc.app.kit.predict import compare
from bedcalc.app.kit.words import phrase
from bedcalc.figures import theme
from bedcalc.model.outcome import Check
from bedcalc.tables import table
from bedcalc.units import Q_

STANDING = (
    "This workbook teaches estimating. It is not a design by a licensed person, and "
    "local law, codes and the instructions of the tool and material come first."
)


def text_of(widget) -> str:
    """All HTML of a block, from top to bottom."""
    own = getattr(widget, "value", "")
    inner = "".join(map(text_of, getattr(widget, "children", ())))
    return (own if isinstance(own, str) else "") + inner


def hidden(widget) -> bool:
    return "bc-hide" in widget._dom_classes


# ---- predict


def make_guess(answer=None, **more):
    below = ipywidgets.HTML("the bench")
    answer = answer or (lambda: Q_(31, "mm"))
    made = lesson.predict(
        "How far does it bow?", answer, unit="mm", kind="bow", then=below,
        tells="Most guess less.", **more,
    )  # fmt: skip
    return made, below


def test_nothing_below_before_a_guess():
    made, below = make_guess()
    assert hidden(below)
    assert not made.opened
    assert "31" not in text_of(made)


def test_it_opens_after_a_guess_and_compares_in_words():
    made, below = make_guess()
    made.entry.send_text("20")
    assert made.opened
    assert not hidden(below)
    assert below in made.children
    said = made.said.replace("\N{NO-BREAK SPACE}", " ")
    assert "You guessed 20 mm" in said
    assert "<strong>31 mm</strong>, about 1.6 times as much" in said  # 31/20 = 1.55
    assert "Most guess less." in said
    assert made.guess == Q_(20, "mm")
    assert made._says.html == f"<p>{made.said}</p>"


def test_it_opens_after_an_honest_skip():
    made, below = make_guess()
    made.skip.click()
    assert not hidden(below)
    assert made.guess is None
    assert "You skipped the guess" in made.said
    assert "31\N{NO-BREAK SPACE}mm" in made.said


def test_a_guess_in_another_unit():
    made, _ = make_guess()
    made.entry.value = "1.2 in"
    made.go.click()
    assert made.guess.m_as("mm") == pytest.approx(30.48)
    assert "very near" in made.said


@pytest.mark.parametrize("text", ["", "a lot", "3 kg"])
def test_no_guess_no_opening_but_a_sentence(text):
    made, below = make_guess()
    made.entry.send_text(text)
    assert hidden(below)
    assert made.entry.says


def test_one_guess_stands():
    made, _ = make_guess()
    made.entry.send_text("20")
    said = made.said
    made.entry.send_text("31")
    made.make_skip()
    assert made.said == said
    assert made.entry.disabled


def test_the_answer_is_asked_for_only_when_it_opens():
    asked = []
    made, _ = make_guess(lambda: asked.append(1) or Q_(31, "mm"))
    assert asked == []
    made.make_skip()
    assert asked == [1]


def test_a_bench_is_its_own_source_of_the_answer():
    class Bench:
        system, outcome = "us", {"bow": Q_(25.4, "mm")}
        widget = ipywidgets.HTML("bench")

    made = lesson.predict(
        "How far?", lambda outcome: outcome["bow"], unit="mm", kind="bow", then=Bench()
    )
    made.make_skip()
    assert "1.0\N{NO-BREAK SPACE}in" in made.said
    assert not hidden(Bench.widget)


def test_what_opens_may_stand_in_a_cell_of_its_own():
    made, below = make_guess(below=False)
    assert below not in made.children
    assert hidden(below)
    made.make_skip()
    assert not hidden(below)


def test_a_guess_by_choice():
    made = lesson.predict(
        "And with a tie?", "sixteenth",
        choices={"half": "half of it", "sixteenth": "a sixteenth"},
        tells={"half": "Many think so."},
    )  # fmt: skip
    made.make_guess()
    assert not made.opened
    made.choice.index = 0
    made.make_guess()
    assert made.guess == "half"
    assert "half of it" in made.said
    assert "<strong>a sixteenth</strong>" in made.said
    assert "Many think so." in made.said


def test_a_right_choice_and_choices_as_a_plain_list():
    made = lesson.predict("And?", "up", choices=["up", "down"])
    made.choice.index = 0
    made.make_guess()
    assert made.said == inline_phrase("predict_same_choice", found="up")


def inline_phrase(key, **gaps):
    return re.sub(r"\*\*(.+?)\*\*", r"<strong>\1</strong>", phrase(key, **gaps))


def test_nothing_to_compare():
    made = lesson.predict("Bow of a block wall?", lambda: None, unit="mm")
    made.make_skip()
    assert "nothing to compare" in made.said


@pytest.mark.parametrize(
    ("guess", "says"),
    [
        (31, "very near"),
        (33, "very near"),
        (25, "a little low"),
        (40, "a little high"),
        (10, "about 3 times as much"),
        (62, "about 2.0 times as much as the calculation shows"),
        (310, "about 10 times"),
        (0, "You guessed"),
        (-5, "You guessed"),
    ],
)
def test_comparing_in_words_and_without_a_mark(guess, says):
    said = compare(Q_(guess, "mm"), Q_(31, "mm"), f"{guess} mm", "31 mm")
    assert says in said
    assert not re.search(r"wrong|right\b|score|point", said.replace("right size", ""))


# ---- the other blocks


def test_title_card():
    text = text_of(lesson.title_card("Will it bow?", 30, "a tape", "a number"))
    assert "<h1>Will it bow?</h1>" in text
    assert "about 30 minutes" in text
    assert text.count("<dt>") == text.count("<dd>") == 3


def test_aims_and_five_lines_are_few():
    assert text_of(lesson.aims("say a", "do b")).count("<li>") == 2
    with pytest.raises(ValueError, match="aims: needs 1 to 3 lines, given 4"):
        lesson.aims(*"abcd")
    assert text_of(lesson.five_lines(*"abcde")).count("<li>") == 5
    with pytest.raises(ValueError, match="five lines: needs 3 to 5 lines, given 6"):
        lesson.five_lines(*"abcdef")


def test_going_deeper_and_glossary_are_folded_with_native_means():
    for block in (lesson.going_deeper("why", "because"), lesson.glossary("kerf")):
        assert re.search(r"<details><summary>.+</summary>.+</details>", text_of(block))


@pytest.mark.parametrize("keys", [("services",), tuple(table("cautions").rows)])
def test_the_caution_box_always_has_the_standing_sentence(keys):
    text = text_of(lesson.caution_box(*keys))
    assert STANDING in text
    assert text.count("Who decides") == len(keys)
    assert text.count("Source:") == len(keys)


def test_every_caution_says_what_to_do_and_who_decides():
    for row in table("cautions"):
        assert row.hazard and row.who
        assert row.control.endswith(".")


def test_the_caution_box_has_one_shape():
    first, second = (
        lesson.caution_box(*keys) for keys in (("saws",), ("water", "trips"))
    )
    shapes = [
        re.sub(r">[^<]+<", "><", re.sub(r"<li>.*</li>", "", text_of(box)))
        for box in (first, second)
    ]
    assert shapes[0] == shapes[1]
    assert "<h2>" in shapes[0]


def test_glossary_terms_in_the_order_of_the_alphabet():
    text = text_of(lesson.glossary("tie", "bow", "kerf"))
    assert re.findall(r"<dt>(\w+)</dt>", text) == ["bow", "kerf", "tie"]
    assert text_of(lesson.glossary()).count("<dt>") == len(table("glossary"))


def test_glossary_explains_in_short_sentences_of_plain_words():
    for row in table("glossary"):
        sentences = [s for s in re.split(r"[.!?] ?", row.meaning) if s]
        assert max(len(s.split()) for s in sentences) <= 22, row.key
        assert row.meaning.endswith(".")
    assert len(table("glossary")) >= 60


def test_sources_are_honest_about_their_kind():
    text = text_of(lesson.sources("from_memory", "nds_2018", "invented"))
    assert text.index("National Design Specification") < text.index("From memory.")
    assert "<strong>From memory.</strong> Look it up" in text
    assert '<span class="bc-kind">standard</span>' in text


def test_every_honest_kind_of_source_has_its_words():
    from bedcalc.app.kit.words import HONEST, source_line

    for row in table("sources"):
        lesson.sources(row.key)
        if row.kind in HONEST:
            assert phrase(f"kind_{row.kind}")
            assert source_line(row.key, "page 3") == f"{row.kind}, page 3"


def test_formula_in_words_signs_and_source():
    text = text_of(
        lesson.formula(
            "Bow grows with length.", "u = w L^4",
            [("L", "length", "m"), ("w", "x", "")], "hicks_formulas", "Table 2.1",
        )
    )  # fmt: skip
    assert text.index("Bow grows") < text.index("$$u = w L^4$$") < text.index("<table")
    assert text.count('scope="col"') == 3
    assert text.count('scope="row"') == 2
    assert "Formulas (edition 1, 2002), Table 2.1" in text


NASTY = '<img src=x onerror="alert(1)">'


@pytest.mark.parametrize(
    "block",
    [
        lambda: lesson.title_card(NASTY, 30, NASTY, NASTY),
        lambda: lesson.aims(NASTY),
        lambda: lesson.five_lines(NASTY, NASTY, NASTY),
        lambda: lesson.going_deeper(NASTY, f"{NASTY}\n\n- {NASTY}"),
        lambda: lesson.formula(NASTY, NASTY, [(NASTY, NASTY, NASTY)], "computed"),
        lambda: lesson.predict(NASTY, NASTY, choices=[NASTY], tells=NASTY),
    ],
)
def test_all_text_is_escaped(block):
    made = block()
    if hasattr(made, "make_skip"):
        made.make_skip()
        assert "<img" not in made.said
    assert "<img" not in text_of(made)


# ---- the sheet of paper


def test_every_block_is_a_sheet_that_carries_the_style():
    block = lesson.aims("a")
    assert {"bc", "bc-lesson"} <= set(block._dom_classes)
    again = lesson.aims("b")
    # one of its own: cells run again must not wait for a widget of another cell
    assert again.children[-1]._css == style.css()
    assert block.children[-1]._css == style.css()


def test_colours_come_from_the_theme_and_from_nowhere_else():
    text = style.css()
    for colour in (theme.INK, theme.ACCENT, theme.HOLDS, theme.WATCH, theme.FAILS):
        assert colour in text
    used = set(re.findall(r"var\((--bc-[\w-]+)", text))
    defined = set(re.findall(r"(--bc-[\w-]+):", text))
    assert used <= defined


def test_braces_of_the_style_close():
    assert style.css().count("{") == style.css().count("}")


def test_what_is_hidden_comes_last_and_wins():
    assert (
        style.css()
        .rstrip()
        .endswith(".bc-hide, .bc .bc-hide { display: none !important; }")
    )


def luminance(colour: str) -> float:
    """Relative luminance of WCAG 2.2."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    r, g, b = (
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts
    )
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


@pytest.mark.parametrize(
    ("front", "back", "least"),
    [
        (theme.INK, theme.PAPER, 4.5),
        (theme.SECOND, theme.PAPER, 4.5),
        (theme.ACCENT, theme.PAPER, 4.5),
        (theme.FAILS, theme.PAPER, 4.5),
        (theme.LATER, theme.PAPER, 4.5),  # links
        (theme.LATER, theme.PAPER, 3),  # focus ring
        (theme.CONTROL, theme.PAPER, 3),  # edges of controls, slider track
        (theme.INK, "#FBF6DF", 4.5),  # caution box
        ("#4A524D", "#FBF6DF", 4.5),
        (theme.SECOND, "#F3F5F4", 4.5),
    ],
)
def test_contrast_after_wcag(front, back, least):
    light, dark = sorted((luminance(front), luminance(back)), reverse=True)
    assert (light + 0.05) / (dark + 0.05) >= least


def test_a_button_calls_what_it_should():
    pressed = []
    made = style.button("Go", lambda: pressed.append(1), strong=True)
    made.click()
    assert pressed == [1]
    assert {"bc-button", "bc-strong"} <= set(made._dom_classes)


def test_verdict_signs_carry_shape_glyph_and_word():
    def check(use, **more):
        given = dict(name="x", says="", source="", demand=Q_(use, "mm"))
        return Check(**given, capacity=Q_(1, "mm"), **more)

    made = [check(0.5, aim=0.7), check(0.8, aim=0.7), check(1.5)]
    made += [check(u, family="straightness", parts=180) for u in (0.5, 1.2, 2, 4)]
    signs = {one.verdict: style.verdict_sign(one) for one in made}
    assert set(signs) == set(theme.VERDICT)
    assert len({re.search(r">(.)<", text)[1] for text in signs.values()}) == 7
    assert 'aria-label="Does not hold"' in signs["fails"]
    assert 'aria-label="Plainly bowed"' in signs["bowed"]
    for verdict in signs:
        assert f".bc-sign-{verdict}" in style.css()


def test_a_headline_is_escaped():
    assert "&lt;b&gt;" in style.headline("<b>", "1", "mm")
