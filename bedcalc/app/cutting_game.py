"""The paper-strip game: take boards, cut pieces, pay as little as you can."""

from __future__ import annotations

from dataclasses import dataclass

from ..figures.cutting import BoardRow, strips_figure
from ..garden.garden import Garden
from ..questions.cut_garden import COIN, cut_garden, nothing_to_cut
from ..units import show
from .desk import demo_garden_once
from .kit.inputs import Message, WidthWatch
from .kit.pictures import Picture
from .kit.style import button, button_row, html, paper
from .kit.words import inline, plain

__all__ = ["StripGame", "Strips", "in_coins", "strip_game"]

_WIDEST = 900


def in_coins(coins: float, units: str) -> str:
    """The small coins of a cut plan as money."""
    return show(coins / COIN, "coins", units)


class Strips:
    """A picture over buttons and a sentence, as wide as the output allows."""

    def __init__(self, name: str, drawing, *below):
        self.watch, self.says = WidthWatch(), Message()
        self.says.add_class("bc-live")
        self.picture = Picture(drawing, name)
        self.widget = paper(
            self.watch, self.says, self.picture.widget, *below, kind="bench"
        )
        self.widget.add_class(f"bc-view-{name}")
        self.watch.observe(lambda change: self.redraw(), "width")

    def _repr_mimebundle_(self, **kwargs):
        return self.widget._repr_mimebundle_(**kwargs)

    @property
    def width(self) -> int:
        """Of the picture in px."""
        seen = self.watch.width or 652
        return max(min(seen - 32, _WIDEST), 240)

    def say(self, words: str) -> None:
        """Say one sentence above the picture."""
        said = f"<p>{inline(words)}</p>"
        if self.says.html != said:
            self.says.html = said

    def redraw(self) -> None:
        """Bring everything to what is so now."""
        raise NotImplementedError


# ---- the paper-strip game


@dataclass
class _Taken:
    """A board taken in the game, and the lengths cut from it so far."""

    stock: object
    cuts: list[int]

    def free(self, saw) -> int:
        return self.stock.room(saw) - sum(c + saw.kerf for c in self.cuts)


class StripGame(Strips):
    """Take boards, cut pieces, pay as little as you can; then see what is proven.

    Parameters
    ----------
    garden : Garden
    goods : str
        Which section is cut, a key of the price list.
    """

    def __init__(self, garden: Garden, goods: str):
        self.cut, self._units = cut_garden(garden)[goods], garden.units
        plan = self.cut.plan
        self.saw = plan.saw
        self.stocks = plan.stocks
        self.wanted: dict[int, int] = {}
        for piece in plan.pieces:
            self.wanted[piece.length] = self.wanted.get(piece.length, 0) + piece.count
        self.taken: list[_Taken] = []
        self.moves: list[tuple[str, int]] = []
        self._take = [
            button(
                f"Take {s.length / 10_000:.4g} m, {self._coins(s.price)}",
                lambda s=s: self.take(s.length),
            )
            for s in self.stocks
        ]
        self._cuts = {
            length: button("", lambda x=length: self.saw_off(x))
            for length in sorted(self.wanted, reverse=True)
        }
        acts = button_row(
            button("Undo", self.undo),
            button("Start again", self.restart),
            button("By the hand rule", self.by_hand),
            button("Show the cheapest", self.reveal),
        )
        which = "" if garden != demo_garden_once() else ", the demo garden"
        whose = html(f"<p>A game about the boards of {plain(garden.name)}{which}.</p>")
        super().__init__(
            "game",
            self._drawing(620),
            whose,
            button_row(*self._take),
            button_row(*self._cuts.values()),
            acts,
        )
        self.redraw()

    def _coins(self, coins: float) -> str:
        return in_coins(coins, self._units)

    @property
    def paid(self) -> int:
        """Smallest coins so far."""
        return sum(t.stock.price for t in self.taken)

    @property
    def left(self) -> dict[int, int]:
        """Pieces still to be cut, by length."""
        done: dict[int, int] = {}
        for t in self.taken:
            for cut in t.cuts:
                done[cut] = done.get(cut, 0) + 1
        return {x: n - done.get(x, 0) for x, n in self.wanted.items()}

    def take(self, length: int) -> None:
        """Take one more board of this length (tenths of a millimetre)."""
        stock = next(s for s in self.stocks if s.length == length)
        self.taken.append(_Taken(stock, []))
        self.moves.append(("take", length))
        self.redraw()

    def saw_off(self, length: int) -> None:
        """Cut a piece from the last board taken, or from an earlier one with room."""
        if not self.left[length]:
            return
        for n in reversed(range(len(self.taken))):
            if self.taken[n].free(self.saw) >= length + self.saw.kerf:
                self.taken[n].cuts.append(length)
                self.moves.append(("cut", n))
                self.redraw()
                return
        self.say(f"No board has room for {length / 10:g} mm. Take another one.")

    def undo(self) -> None:
        """Take back the last move."""
        if self.moves:
            what, n = self.moves.pop()
            self.taken.pop() if what == "take" else self.taken[n].cuts.pop()
        self.redraw()

    def restart(self) -> None:
        """Put everything back."""
        self.taken, self.moves = [], []
        self.redraw()

    def by_hand(self) -> None:
        """Lay it out by the hand rule: longest piece first, first board with room."""
        self._lay(self.cut.hand or self.cut.plan)

    def reveal(self) -> None:
        """Lay out the cheapest plan."""
        self._lay(self.cut.plan)

    def _lay(self, plan) -> None:
        self.taken = [_Taken(b.stock, [x for _, x in b.pieces]) for b in plan.boards]
        self.moves = []
        self.redraw()

    def _rows(self) -> list[BoardRow]:
        rows = []
        for t in self.taken:
            at, pieces = t.stock.trimmed(self.saw) // 2, []
            for cut in t.cuts:
                pieces.append((f"{cut / 10:g}", at / 10, (at + cut) / 10))
                at += cut + self.saw.kerf
            rows.append(
                BoardRow(
                    title=f"{t.stock.length / 10_000:.4g} m, "
                    f"{self._coins(t.stock.price)}",
                    board=t.stock.length / 10,
                    pieces=tuple(pieces),
                )
            )
        return rows

    def _drawing(self, width: int):
        missing = sum(self.left.values())
        return strips_figure(
            self._rows(),
            title=f"{self.cut.name}: {self._coins(self.paid)}"
            + (" so far" if missing else ""),
            under=f"{missing} pieces to go" if missing else "every piece is cut",
            caption="Dark lines are saw cuts. Hatched wood is left over.",
            width=width,
            least=2,
        )

    def redraw(self) -> None:
        """Bring picture, buttons and sentence to the state of the game."""
        width, left = self.width, self.left
        self.picture.size(width)
        self.picture.bring(self._drawing(width))
        for length, made in self._cuts.items():
            made.description = f"Cut {length / 10:g} mm ({left[length]} to go)"
            made.disabled = not left[length]
        self.say(self._sentence(left))

    def _sentence(self, left) -> str:
        best = self.cut.plan.cost
        if any(left.values()):
            if not self.taken:
                return (
                    "Take a board, then cut pieces from it. Pay as little as you can."
                )
            return f"**{self._coins(self.paid)}** so far."
        more = self.paid - best
        if more:
            return (
                f"All cut for **{self._coins(self.paid)}**. It can be done for "
                f"{self._coins(more)} less. Try again, or look."
            )
        return (
            f"**{self._coins(self.paid)}: {self.cut.plan.verdict()}.** "
            "No way of cutting costs less."
        )


def strip_game(garden: Garden, goods: str = "post_70x70"):
    """The paper-strip game on the screen; a sentence where nothing is cut.

    Another section is taken, the one with the most pieces, where the garden has none
    of ``goods``.
    """
    cut = cut_garden(garden)
    if not cut.cuts:
        said = nothing_to_cut(garden, garden.place)
        said = said or f"Nothing can be cut: {'; '.join(cut.missing)}."
        return paper(html(f"<p>{plain(said)}</p>"))
    if goods not in cut.plans:
        goods = max(cut, key=lambda c: sum(p.count for p in c.parts)).goods
    return StripGame(garden, goods)
