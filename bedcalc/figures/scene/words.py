"""What the picture says in words: labels, caption, text for those who cannot see it."""

from __future__ import annotations

from bedcalc.figures.drawing import Numbers
from bedcalc.model.straightness import PAST, said
from bedcalc.units import NO_BREAK, number, show

from .shares import said_shares, weak_words

__all__ = ["alt", "bow_words", "caption", "layer_words", "numbers", "trench_words"]

_CORNERS = ("far left", "far right", "near right", "near left")
_STRAIGHT = 0.00005
_BUILDS = {
    "boards": "boards on posts",
    "sheet": "corrugated sheet in a timber frame",
    "trough": "a trough on legs",
    "blocks": "dry-stacked blocks",
    "sleepers": "stacked timbers",
}


def bow_size(metres: float, system: str) -> str:
    """A bow in words: tenths only where they matter."""
    return show(metres, "fine" if 0 < metres < 0.00295 else "bow", system)


def factor_words(wanted: float, drawn: float) -> str:
    """How much larger than true the bow is drawn."""
    if drawn < wanted - 1e-9:
        return "drawn only as far as the picture has room"
    return "drawn true" if wanted == 1 else f"drawn {wanted:g}{NO_BREAK}× larger"


def bow_words(outcome, system: str) -> str:
    """The label of the bowed wall."""
    walls = outcome.walls.si
    if float(walls.bow_years) < _STRAIGHT:
        return "<b>stays straight</b>"
    if walls.past_sums:
        return "<b>bows badly</b>"
    return f"bows <b>{_years(walls, system)}</b>"


def _years(walls, system: str) -> str:
    """The bow after years; without exact digits where it is large."""
    bow = float(walls.bow_years)
    kind = "fine" if 0 < bow < 0.00295 else "bow"
    return said(bow, bow / (120 * float(walls.bow_plain)), kind, system)


def layer_words(layer, system: str) -> str:
    """Name and depth of a layer, the name without its subordinate clause."""
    name = layer.si.name.split(" with ")[0]
    return f"{name} <b>{show(layer.si.depth, 'depth', system)}</b>"


def trench_words(outcome, system: str, lines: str = "<br>") -> str:
    """How deep the bed is dug in, here and where it differs most."""
    site = outcome.site.si
    depths = [float(d) for d in outcome.site.own_depths]
    here = depths[2]
    other = max(range(4), key=lambda k: abs(depths[k] - here))
    legs = outcome.bed.wall.family == "trough"
    what = "legs go down" if legs else "dug in"
    if not site.measured:
        return f"{what} <b>{show(here, 'depth', system)}</b>,{lines}ground not measured"
    first = f"{what} <b>{show(here, 'depth', system)}</b>"
    if here < -0.0005:
        first = f"on a block of <b>{show(-here, 'depth', system)}</b>"
    if abs(depths[other] - here) < 0.003:
        return f"{first}{lines if legs else ' '}all round"
    far = f"<b>{show(depths[other], 'depth', system)}</b>"
    if depths[other] < -0.0005:
        far = f"a block of <b>{show(-depths[other], 'depth', system)}</b>"
    elif here < -0.0005:
        far = f"{what} {far}"
    return f"{first} here,{lines}{far} at the {_CORNERS[other]}"


def caption(outcome, factors: tuple[float, float], system: str) -> str:
    """What to see in the picture."""
    bed, family = outcome.bed, outcome.bed.wall.family
    stays = {
        "sheet": "frame, posts and cap stay",
        "trough": "legs and floor stay",
        "boards": "posts and cap stay" if bed.wall.si.cap_wide else "the posts stay",
    }.get(family, "the wall is cut off clean")
    many = sum(layer.si.depth > 0.002 for layer in outcome.fill.layers) > 1
    fill = (
        "the fill is cut in steps so that each layer shows its top"
        if many
        else "the fill is cut flush"
    )
    text = f"Bed {bed.name}, one corner opened: {stays}, {fill}."
    if float(outcome.walls.si.bow_years) > 0:
        how = factor_words(*factors)
        text += (
            f" The dashed line runs straight from corner to corner; the bow is {how}."
        )
    if broken := weak_words(outcome):
        text += f" Striped: what gives way first ({broken})."
    if bed.ties or bed.base_ties:
        text += f" Ties: {bed.ties} at the top, {bed.base_ties} at the foot"
        text += "; dashed where the fill covers them."
    return text


def alt(outcome, factors: tuple[float, float], system: str) -> str:
    """The picture in words, with its key numbers."""
    bed, s, walls = outcome.bed, outcome.bed.si, outcome.walls.si
    size = " by ".join(show(v, "size", system) for v in (s.length, s.width, s.height))
    layers = ", ".join(
        f"{layer.si.name} {show(layer.si.depth, 'depth', system)}"
        for layer in outcome.fill.layers
    )
    bow, aim = float(walls.bow_years), float(walls.bow_aim)
    bent = "The long walls stay straight."
    if bow >= _STRAIGHT:
        bent = (
            f"The long walls bow out by {_years(walls, system)} over the years "
            f"({factor_words(*factors)}); the aim is {bow_size(aim, system)}."
        )
    if walls.past_sums:
        bent = f"A long wall {PAST}; it is drawn {factor_words(*factors)}."
    fall = float(outcome.site.si.slope)
    trench = trench_words(outcome, system, " ").replace("<b>", "").replace("</b>", "")
    ground = (
        f"The lawn falls {show(fall, 'percent')}; {trench}."
        if fall >= 0.003
        else f"The lawn is level; {trench}."
    )
    if not outcome.site.si.measured:
        ground = f"The ground is not measured and is drawn level; {trench}."
    return (
        f"Drawing of bed {bed.name}, {_BUILDS[bed.wall.family]}, {size} outside, seen "
        f"from the front with the near right corner opened. Layers from the bottom: "
        f"{layers}. {bent} {said_shares(outcome)}{_broken(outcome)}{ground}"
    )


def _broken(outcome) -> str:
    words = weak_words(outcome)
    return f"Striped, what gives way first: {words}. " if words else ""


def numbers(outcome, system: str) -> Numbers:
    """The numbers on the picture as a table."""
    bed, s, walls = outcome.bed, outcome.bed.si, outcome.walls.si
    rows = [
        ("Length outside", show(s.length, "size", system)),
        ("Width outside", show(s.width, "size", system)),
        ("Height", show(s.height, "size", system)),
    ]
    rows += [
        (f"Layer: {layer.si.name}", show(layer.si.depth, "depth", system))
        for layer in reversed(outcome.fill.layers)
    ]
    rows += [
        (
            "Bow at once",
            PAST if walls.past_sums else bow_size(float(walls.bow_once), system),
        ),
        ("Bow over the years", PAST if walls.past_sums else _years(walls, system)),
        ("Bow aimed at", bow_size(float(walls.bow_aim), system)),
        ("Ties at the top", number(bed.ties, 0)),
        ("Ties at the foot", number(bed.base_ties, 0)),
        (
            "The ground falls",
            show(float(outcome.site.si.slope), "slope", system)
            if outcome.site.si.measured
            else "not measured, drawn level",
        ),
    ]
    depths = outcome.site.own_depths
    rows += [
        (
            f"Dug in, {where}" if d > -0.0005 else f"Block, {where}",
            show(abs(float(d)), "depth", system),
        )
        for where, d in zip(_CORNERS, depths, strict=True)
    ]
    return Numbers(
        caption=f"Bed {bed.name}", headings=("What", "How much"), rows=tuple(rows)
    )
