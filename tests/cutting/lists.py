"""The demo garden's cut lists, in tenths of a millimetre and smallest coins."""

from __future__ import annotations

from bedcalc.cutting import Coins, Piece, Saw, Stock, Tenths, tenths

__all__ = ["DEMO", "bed_list", "pieces", "stocks"]


def pieces(*rows: tuple[int, int], straight: bool = False) -> tuple[Piece, ...]:
    """Pieces from (millimetres, count) rows."""
    return tuple(
        Piece(label=f"p{mm}", length=tenths(mm / 1000), count=number, straight=straight)
        for mm, number in rows
    )


def stocks(*rows: tuple[float, float]) -> tuple[Stock, ...]:
    """Stock from (metres, price) rows."""
    return tuple(
        Stock(key=f"{m} m", length=tenths(m), price=Coins(round(100 * price)))
        for m, price in rows
    )


SAW = Saw(kerf=Tenths(32), trim=Tenths(200))
PLAIN = Saw(kerf=Tenths(32))
SHEET = Saw(kerf=Tenths(20))
BOARD = stocks((2.4, 8.90), (3.0, 11.40), (3.6, 13.90), (4.2, 16.60), (4.8, 19.50))
POST = stocks((2.4, 11.20), (3.0, 14.30), (3.6, 17.40))
CAP = stocks((2.4, 5.10), (3.0, 6.50), (4.2, 9.40))
FRAME = stocks((2.4, 6.30), (3.6, 9.60), (4.8, 13.20))
SHEETS = stocks((1.8, 21.00), (2.1, 24.00), (2.4, 28.50), (3.0, 35.00))
PLANK = stocks((2.0, 14.00), (3.0, 20.50), (4.0, 28.00))
SLEEPER = stocks((2.4, 31.00), (3.0, 40.00))

# name: (pieces, stock, saw), least cost, first fit, boards to buy
DEMO = {
    "board 140x33": (
        (pieces((2700, 8), (984, 8), (2100, 4), (534, 4)), BOARD, SAW),
        16500,
        16850,
    ),
    "post 70x70": ((pieces((560, 8), (720, 8), (800, 6)), POST, SAW), 7340, 7840),
    "cap 90x22": ((pieces((2780, 4), (1130, 4), (534, 22)), CAP, SAW), 6450, 6500),
    "frame 70x45": (
        (pieces((2700, 4), (960, 4), (2100, 2), (534, 3)), FRAME, SAW),
        5880,
        6240,
    ),
    "sheet": ((pieces((720, 12)), SHEETS, SHEET), 10500, 10500),
    "plank": ((pieces((1800, 6), (840, 6)), PLANK, PLAIN), 12300, 12300),
    "sleeper": ((pieces((3000, 4), (1000, 4)), SLEEPER, PLAIN), 22200, 22200),
    "post 60x60": ((pieces((375, 6)), stocks((2.4, 9.80)), SAW), 980, 980),
}


def bed_list(seed: int, number: int, lengths: int):
    """A small random list like those of a bed: posts, ends and sides, whole mm."""
    import random

    draw = random.Random(seed)
    sizes: set[int] = set()
    while len(sizes) < lengths:
        kind = draw.random()
        if kind < 0.35:
            sizes.add(draw.randint(350, 950))
        elif kind < 0.75:
            sizes.add(draw.randint(900, 1400))
        else:
            sizes.add(draw.randint(1500, 2300))
    counts = dict.fromkeys(sorted(sizes, reverse=True), 1)
    for _ in range(number - lengths):
        counts[draw.choice(list(counts))] += 1
    return pieces(*counts.items()), BOARD, SAW
