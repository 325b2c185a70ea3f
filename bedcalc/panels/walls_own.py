"""Views of workbook 03 about one's own bed: own sizes, and who may use the rim."""

from __future__ import annotations

from ..evaluate import evaluate
from ..figures.walls_ruler import part_words, parts_figure, rim_use_figure
from ..mends import first_to_fail, stands
from ..repair import trellis, uphill_push
from ..size_limits import (
    SIZES,
    limit_of,
    own_sizes,
    rim_mass,
    tie_words,
    trellis_apart,
    who_may_sit,
)
from ..units import Q_, show
from .bench_words import bed_title
from .controls import choice_row, list_row, slider_row
from .view import Desk, View, list_block
from .walls import OWN

__all__ = ["own_view", "preservatives", "rim_use_view"]

_SYSTEMS = [("metric", "metric"), ("us", "feet, inches")]
#: name of the size: what people read, unit, from, to, step
_ROWS = {
    "thickness": ("Board thick", "mm", 15, 150, 1),
    "course": ("Board face", "mm", 60, 300, 1),
    "rail_thin": ("Rail thick", "mm", 15, 150, 1),
    "rail_wide": ("Rail face", "mm", 30, 250, 1),
    "post": ("Post", "mm", 40, 150, 1),
    "post_spacing": ("Posts every", "cm", 30, 150, 5),
}
#: what the sentence says the limit of, by family; the way of the rail chooses
_LIMITS = {"thickness": "boards", "rail_thin": "rails", "rail_wide": "rails"}


def _beds(about: Desk):
    """The beds one may choose from, the reader's own first where there is one."""
    found = {bed.name: bed for bed in about.garden.beds}
    first = about.bed.name
    if about.own:
        found, first = {OWN: about.start} | found, OWN
    return found, [(key, bed_title(bed)) for key, bed in found.items()], first


def _start(name: str, wall):
    """Where a row begins: the size of the wall, or the end of the row next to it."""
    _, unit, low, high, _ = _ROWS[name]
    size = getattr(wall, name)
    if low <= size.m_as(unit) <= high:
        return size
    return Q_(min(max(size.m_as(unit), low), high), unit)


def _size_row(name: str, wall):
    label, unit, low, high, step = _ROWS[name]
    return slider_row(label, unit, low, high, step, _start(name, wall), name=name)


def _moved(value: int, own: int) -> int:
    """The ties chosen; the bed's own where it has more than the row shows."""
    return int(own) if value == min(int(own), 3) else value


def own_view(about: Desk) -> View:
    """Type in boards, rails and posts of any size; hear the least that holds."""
    beds, names, first = _beds(about)
    rows = {name: _size_row(name, beds[first].wall) for name in _ROWS}
    counts = [(n, "none" if n == 0 else str(n)) for n in range(4)]
    bed_row = list_row("Bed", names, first, name="bed")
    top = choice_row("Ties on top", counts, min(beds[first].ties, 3), name="ties")
    foot = choice_row(
        "Ties at foot", counts, min(beds[first].base_ties, 3), name="base_ties"
    )
    units = choice_row("Show in", _SYSTEMS, about.system, name="system")
    last = {"bed": first}

    def begin(bed):
        """Another bed begins with its own sizes and ties."""
        for name in SIZES[bed.wall.family]:
            rows[name].set(_start(name, bed.wall))
        top.set(min(int(bed.ties), 3))
        foot.set(min(int(bed.base_ties), 3))

    def follow(values, size):
        bed = beds[values["bed"]]
        if values["bed"] != last["bed"]:
            last["bed"] = values["bed"]
            begin(bed)
        for name, row in rows.items():
            row.shown = name in SIZES[bed.wall.family]
        rows["post_spacing"].shown = _spaced(bed)
        top.shown = foot.shown = bed.wall.family in ("sheet", "boards", "sleepers")
        if top.shown:
            bed = bed.change(
                ties=_moved(top.value, bed.ties),
                base_ties=_moved(foot.value, bed.base_ties),
            )
        chosen = {
            n: r.value
            for n, r in rows.items()
            if r.shown and r.value != _start(n, bed.wall)
        }
        about.take(own_sizes(bed, **chosen), system=values["system"])
        drawing = parts_figure(about.outcome, system=about.system, **size)
        return drawing, _own_sentence(about.outcome, about.system)

    controls = [bed_row, *rows.values(), top, foot, units]
    return View(about, controls, follow, name="own")


def _spaced(bed) -> bool:
    """Whether it matters to the wall how far apart its posts stand."""
    family = bed.wall.family
    return family in ("boards", "trough") or (family == "sheet" and bed.ribs_lying)


def _own_sentence(o, system: str) -> str:
    worst, family = first_to_fail(o), o.bed.wall.family
    verb = "The wall stands. Nearest to its limit" if stands(o) else "Fails first"
    words = f"**{verb}: {part_words(worst.name, o)}.**"
    if family == "blocks":
        return words + " Blocks come as they are: compare kinds of block below."
    wide = family == "sheet" and o.bed.rail_lying
    thick = "rail_wide" if wide else "rail_thin" if family == "sheet" else "thickness"
    what = "sleepers" if family == "sleepers" else _LIMITS[thick]
    words += _limit_words(o, thick, f"{what} {{}} thick or more", system)
    if _spaced(o.bed):
        words += _limit_words(o, "post_spacing", "posts {} apart or closer", system)
    if o.cost.missing:
        words += f" ! Not priced: {'; '.join(o.cost.missing)}. The bill leaves it out."
    return words


def _limit_words(o, name: str, what: str, system: str) -> str:
    found = limit_of(o, name)
    kind = "size" if name == "post_spacing" else "stock"
    if found.size is None:
        return f" No {what.split()[0]} of any size tried hold, whatever the ties."
    size = show(found.size, kind, system)
    words = f" Holds: **{what.format(size)}**"
    more = found.ties - o.bed.ties, found.base_ties - o.bed.base_ties
    if any(more):
        words += f", if you add {tie_words(*map(int, more))}"
    return words + "."


def rim_use_view(about: Desk) -> View:
    """Who may sit on the rim, and how tall a trellis the posts carry in a storm."""
    beds, names, first = _beds(about)
    controls = [
        list_row("Bed", names, first, name="bed"),
        slider_row("Trellis high", "cm", 30, 220, 5, Q_(150, "cm"), name="high"),
        slider_row("Its posts every", "cm", 30, 200, 5, Q_(90, "cm"), name="apart"),
        choice_row("Show in", _SYSTEMS, about.system, name="system"),
    ]

    def follow(values, size):
        about.take(beds[values["bed"]], system=values["system"])
        o = about.outcome
        wind = None
        if o.bed.wall.si.post:
            wind = trellis(o, values["high"], values["apart"]).use
        drawing = rim_use_figure(o, wind, system=about.system, **size)
        words = _sit_words(o, about.system) + _wind_words(o, wind, values, about.system)
        return drawing, words

    return View(about, controls, follow, name="rim-use")


_MAY = {
    "adult": "**Grown people may sit on this rim.**",
    "child": "**A child may sit on this rim, no grown person.**",
    "nobody": "**Nobody should sit on this rim.**",
    "unknown": "**Do not sit on loose blocks**: they rock, and no sum here covers it.",
}


def _sit_words(o, system: str) -> str:
    check = o.check("sitting")
    words = _MAY[who_may_sit(check)]
    if check is None:
        return words
    mass = show(rim_mass(check.capacity), "mass", system)
    words += f" It bears {mass} pushing outwards, with the fill behind it."
    tied = evaluate(o.bed.change(ties=int(o.bed.ties) + 1), o.place)
    can = o.bed.wall.family in ("boards", "sheet", "sleepers")
    if not check.ok and can and tied.check("sitting").ok:
        words += " With one tie more, grown people may."
    return words


def _wind_words(o, wind, values, system: str) -> str:
    inwards = show(uphill_push(o), "line load", system)
    hill = f" While the bed is empty, the ground uphill pushes {inwards} inwards."
    if not o.site.measured:
        hill = (
            " How the ground uphill pushes an empty bed is open until it is measured."
        )
    if wind is None:
        return f" No post here carries a trellis: give it posts in the ground.{hill}"
    high = show(values["high"], "size", system)
    far = show(trellis_apart(o, values["high"]), "size", system)
    verb = "holds" if wind <= 1 else "breaks"
    return (
        f" The trellis {verb} in a storm: {high} high, its posts may stand **{far}** "
        f"apart at most.{hill}"
    )


def preservatives():
    """What was put on wood, when, and whether food may grow beside it, as a block."""
    columns = {"name": "on the wood", "when": "when and where", "food": "beside food?",
               "liner": "liner", "where": "from memory or practice; see"}  # fmt: skip
    return list_block("preservatives", columns, "Treated wood: what may stand there")
