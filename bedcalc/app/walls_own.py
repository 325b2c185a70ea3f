"""Views of workbook 03 about one's own bed: own sizes, and who may use the rim."""

from __future__ import annotations

import ipywidgets

from ..evaluate import evaluate
from ..figures.utilisation_chart import part_words, parts_figure, rim_use_figure
from ..questions.fixes import as_wanted, first_to_fail, stands
from ..questions.repair import trellis, uphill_push
from ..questions.size_limits import (
    SIZES,
    custom_sections_of,
    limit_of,
    rim_load_mass,
    tie_words,
    trellis_apart,
    who_may_sit,
)
from ..units import Q_, show
from .kit.controls import choice_row, slider_row
from .kit.inputs import NumberField
from .kit.style import button, button_row, care
from .kit.trial import USE, Trial, bed_row, trial
from .kit.view import Desk, View, list_block
from .walls import TIED, counts, read_bed, write_bed

__all__ = ["OwnView", "own_view", "preservatives", "rim_use_view"]

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


def _size_row(name: str, wall):
    label, unit, low, high, step = _ROWS[name]
    size = getattr(wall, name)
    start = size if size.m > 0 else Q_(low, unit)
    return slider_row(label, unit, low, high, step, start, name=name)


class OwnView(View):
    """The view of own sizes, with a line to keep them as a build with a name."""

    def __init__(self, about: Trial, *given, **named):
        super().__init__(about, *given, **named)
        self.build = NumberField(
            label="Name of this build", placeholder="boards from the old barn"
        )
        self.build.on_sent(lambda text: self.save_build())
        save = button("Save as a build of mine", self.save_build)
        line = ipywidgets.Box([self.build, button_row(save)])
        self.widget.children[0].children += (line.add_class("bc-bar-ask"),)

    def save_build(self) -> None:
        """Keep the wall that is tried in the garden, under the name that is typed."""
        self._act(lambda: self.desk.save_wall(self.build.value))


def own_view(about: Desk) -> OwnView:
    """Type in boards, rails and posts of any size; hear the least that holds."""
    about = trial(about)
    bed = about.bed
    rows = {name: _size_row(name, bed.wall) for name in _ROWS}
    beds = bed_row(about)
    top = choice_row("Ties on top", counts(bed.ties), bed.ties, name="ties")
    foot = choice_row(
        "Ties at foot", counts(bed.base_ties), bed.base_ties, name="base_ties"
    )

    def reads():
        bed = about.bed
        top.offer(counts(bed.ties), int(bed.ties))
        foot.offer(counts(bed.base_ties), int(bed.base_ties))
        sizes = {name: getattr(bed.wall, name) for name in SIZES[bed.wall.family]}
        return read_bed(about, beds) | sizes

    def writes(moved):
        if "bed" in moved:
            about.choose(moved["bed"])
        ties = {name: moved[name] for name in ("ties", "base_ties") if name in moved}
        sizes = SIZES[about.bed.wall.family]
        if not ties and not moved.keys() & set(sizes):
            return
        # from the build as it was, so that a size moved back has its goods again
        start, wall = about.start, about.bed.wall
        now = {name: moved.get(name, getattr(wall, name)) for name in sizes}
        other = {k: v for k, v in now.items() if v != getattr(start.wall, k)}
        ties = {"ties": about.bed.ties, "base_ties": about.bed.base_ties} | ties
        about.take(custom_sections_of(start, **other).change(**ties))

    def render(values, size):
        bed = about.bed
        for name, row in rows.items():
            row.shown = name in SIZES[bed.wall.family]
        rows["post_spacing"].shown = _spaced(bed)
        top.shown = foot.shown = bed.wall.family in TIED
        drawing = parts_figure(about.outcome, system=about.system, **size)
        return drawing, _own_sentence(about.outcome, about.system)

    return OwnView(
        about, [beds, *rows.values(), top, foot], render, name="own", reads=reads,
        writes=writes, acts={USE: about.use},
    )  # fmt: skip  # rows of a table


def _spaced(bed) -> bool:
    """Whether it matters to the wall how far apart its posts stand."""
    family = bed.wall.family
    return family in ("boards", "trough") or (family == "sheet" and bed.ribs_lying)


def _own_sentence(o, system: str) -> str:
    worst, family = first_to_fail(o), o.bed.wall.family
    verb = "The wall holds. Nearest to its limit" if stands(o) else "Gives way first"
    if stands(o) and not as_wanted(o):
        verb = f"The wall holds, but {worst.goes} more than you want"
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
    about = trial(about)
    beds = bed_row(about)
    used = [(False, "leaned and sat on"), (True, "climbed on, pulled")]
    controls = [
        beds,
        choice_row("The rim is", used, about.bed.climbed, name="climbed"),
        slider_row("Trellis high", "cm", 30, 220, 5, Q_(150, "cm"), name="high"),
        slider_row("Its posts every", "cm", 30, 200, 5, Q_(90, "cm"), name="apart"),
    ]

    def render(values, size):
        o = about.outcome
        controls[2].shown = controls[3].shown = bool(o.bed.wall.si.post)
        wind = None
        if o.bed.wall.si.post:
            wind = trellis(o, values["high"], values["apart"]).use
        drawing = rim_use_figure(o, wind, system=about.system, **size)
        words = _sit_words(o, about.system) + _wind_words(o, wind, values, about.system)
        return drawing, words

    return View(
        about,
        controls,
        render,
        name="rim-use",
        reads=lambda: read_bed(about, beds) | {"climbed": about.bed.climbed},
        writes=lambda moved: write_bed(
            about, {n: v for n, v in moved.items() if n in ("bed", "climbed")}
        ),
        acts={USE: about.use},
    )


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
    mass = show(rim_load_mass(check.capacity), "mass", system)
    how = "pulling outwards" if o.bed.climbed else "sitting, while others lean on it"
    words += f" It bears {mass} {how}, with the fill behind it."
    can = o.bed.wall.family in ("boards", "sheet", "sleepers") and o.bed.ties < 8
    if not check.ok and can:
        tied = evaluate(o.bed.change(ties=int(o.bed.ties) + 1), o.place)
        if tied.check("sitting").ok:
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
    columns = {
        "name": "on the wood",
        "when": "when and where",
        "food": "beside food?",
        "liner": "liner",
        "where": "from memory or practice; see",
    }
    made = list_block("preservatives", columns, "Treated wood: what may stand there")
    made.children = (*made.children, care("preservatives"))
    return made
