"""Shopping: one bill for a whole garden, at once or in parts.

The bill to order by uses the cheapest cut plan of all beds together; the bench, which
must answer at once, uses the hand rule for one bed.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from ..cost import Cost, cost_of
from ..cost.counting import work
from ..fill import assess_fill
from ..garden.garden import Garden
from ..model.bed import Bed
from ..model.place import Place
from ..units import Q_

__all__ = ["Stage", "in_parts", "shopping"]


def shopping(
    beds: Garden | Iterable[Bed],
    place: Place | None = None,
    *,
    cut: str = "cheapest",
    extras: Sequence[str] = (),
    pallets: bool = True,
) -> Cost:
    """One bill for several beds bought together.

    Parameters
    ----------
    beds : Garden or iterable of Bed
    place : Place, optional
        The garden's own if left out.
    cut : str
        ``"cheapest"`` or ``"hand"``.
    extras : sequence of str
        Of ``liner``, ``gravel``, ``hire``, ``protection``.
    pallets : bool
        Whether a pallet may be bought where it is cheaper.
    """
    place = place or beds.place
    beds = tuple(beds)
    fills = [assess_fill(bed, place) for bed in beds]
    return cost_of(beds, fills, place, cut=cut, extras=extras, pallets=pallets)


@dataclass(frozen=True, kw_only=True)
class Stage:
    """Some of the beds bought at one time."""

    name: str
    beds: tuple[str, ...]
    cost: Cost
    so_far: float
    area: float = 0.0

    @property
    def crop(self) -> tuple[float, float]:
        """Kilograms that the planted area may bring a season: an assumption."""
        return tuple(self.area * work(name) for name in ("crop_low", "crop_high"))


def in_parts(
    garden: Garden, groups: Sequence[Sequence[str]], *, rise: float = 0.0, **options
) -> tuple[tuple[Stage, ...], float]:
    """Build in steps: the bill of each step, and what buying in parts costs more.

    Parameters
    ----------
    garden : Garden
    groups : sequence of sequences of str
        Names of the beds of the first step, the second, and so on.
    rise : float
        Share by which all prices rise from one step to the next, 0.03 for 3 %.
    **options
        As for :func:`shopping`.

    Returns
    -------
    stages, more
        Steps in order, each with the square metres that are planted by then; money
        more than all at once, today (packs, boards and trips are whole).
    """
    stages, so_far, area = [], 0.0, 0.0
    now = 1 + garden.place.price_rise.m_as("")
    for number, names in enumerate(groups, start=1):
        beds = [garden[n] for n in names]
        share = now * (1 + rise) ** (number - 1) - 1
        later = garden.place.change(price_rise=Q_(100 * share, "percent"))
        cost = shopping(beds, later if rise else garden.place, **options)
        so_far += cost.si.total
        area += sum(b.si.inside_length * b.si.inside_width * b.count for b in beds)
        stages.append(
            Stage(
                name=f"step {number}",
                beds=tuple(names),
                cost=cost,
                so_far=so_far,
                area=area,
            )
        )
    everything = [garden[n] for names in groups for n in names]
    together = shopping(everything, garden.place, **options)
    return tuple(stages), so_far - together.si.total
