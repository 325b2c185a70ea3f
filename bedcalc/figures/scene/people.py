"""Somebody at work at the bed: who it is for, in the posture that its rim asks for.

Figures are drawn from the side, from tapered limbs: circles joined by tangents. Feet
stand at height 0, the wall's outer face at x = 0; metres, ``x`` towards the bed. Hip
and back are placed so that the hand reaches the fill: standing, bending, or on a knee.
"""

from __future__ import annotations

import zlib
from dataclasses import dataclass, field

import numpy as np

__all__ = ["Figure", "somebody"]

#: hair, skin, its shade, shirt, trousers, whether with a hat; one for each of us
_LOOKS = (
    ("#4a352a", "#C98F69", "#B07852", "#A9636A", "#56636B", True),
    ("#2b211c", "#8a5a3c", "#734830", "#7F9160", "#455159", True),
    ("#b9b4ab", "#dcae8c", "#c69270", "#B98A4E", "#56636B", False),
    ("#8a5a33", "#e3b796", "#cb9a77", "#6d8296", "#5d5348", True),
    ("#221c1a", "#6d4630", "#593825", "#B98A4E", "#455159", False),
)
_HAT, _HAT_DARK, _BOOT = "#E4CB90", "#c9ad6c", "#3E332B"
_STEEL, _WOOD, _TYRE = "#8f9ba3", "#8a5a30", "#3E332B"


@dataclass
class Figure:
    """Shapes in the order they are painted: (colour, rings (n, 2)).

    ``body`` is painted before the bed, ``arm`` after it. ``left`` and ``tall`` say how
    far it reaches.
    """

    body: list[tuple[str, list[np.ndarray]]] = field(default_factory=list)
    arm: list[tuple[str, list[np.ndarray]]] = field(default_factory=list)

    def _points(self) -> np.ndarray:
        return np.vstack([r for _, rings in (*self.body, *self.arm) for r in rings])

    @property
    def left(self) -> float:
        """Least x."""
        return float(self._points()[:, 0].min())

    @property
    def tall(self) -> float:
        """Greatest height."""
        return float(self._points()[:, 1].max())


def _limb(*nodes) -> list[np.ndarray]:
    """Tapered pieces between circles (x, z, r), rounded at both ends."""
    found = []
    half = np.linspace(np.pi / 2, 3 * np.pi / 2, 8)
    for (x0, z0, r0), (x1, z1, r1) in zip(nodes, nodes[1:], strict=False):
        turn = np.arctan2(z1 - z0, x1 - x0) + half
        unit = np.column_stack([np.cos(turn), np.sin(turn)])
        found.append(np.vstack([(x0, z0) + r0 * unit, (x1, z1) - r1 * unit]))
    return found


def _oval(x, z, rx, rz, turn=0.0, start=0.0, end=360.0, n=22) -> np.ndarray:
    """An oval or a part of it; ``turn`` in radians, forwards and down."""
    t = np.radians(np.linspace(start, end, n))
    a, b = rx * np.cos(t), rz * np.sin(t)
    c, s = np.cos(-turn), np.sin(-turn)
    return np.column_stack([x + a * c - b * s, z + a * s + b * c])


def _bent(a, b, first: float, second: float, way: float) -> np.ndarray:
    """The joint between two bones from a to b; ``way`` +1 bends it forwards or up."""
    a, b = np.asarray(a, float), np.asarray(b, float)
    far = float(np.clip(np.hypot(*(b - a)), 1e-6, 0.999 * (first + second)))
    unit = (b - a) / max(np.hypot(*(b - a)), 1e-9)
    along = (first**2 - second**2 + far**2) / (2 * far)
    aside = np.sqrt(max(first**2 - along**2, 0.0))
    return a + along * unit + way * aside * np.array([-unit[1], unit[0]])


class _Body:
    """Lengths of one person, and the shapes in the making."""

    def __init__(self, tall: float, child: bool, look):
        self.s, self.child, self.look = tall, child, look
        s = tall
        self.head = s * (0.160 if child else 0.138)
        self.trunk = s * (0.285 if child else 0.300)
        self.upper, self.fore = s * 0.175, s * 0.190  # the hand goes with the forearm
        self.thigh, self.shank = s * 0.245, s * 0.240
        self.hip = s * (0.49 if child else 0.52)
        self.figure = Figure()

    def paint(self, colour: str, rings, arm: bool = False) -> None:
        (self.figure.arm if arm else self.figure.body).append((colour, list(rings)))

    def leg(self, hip, ankle, far: bool, toe: float = 1.0) -> None:
        s, colour = self.s, _dark(self.look[4]) if far else self.look[4]
        knee = _bent(hip, ankle, self.thigh, self.shank, 1.0)
        calf = knee + 0.42 * (ankle - knee) + np.array([-0.012 * s, 0])
        self.paint(colour, [
            *_limb((*hip, 0.066 * s), (*knee, 0.040 * s)),
            *_limb((*knee, 0.040 * s), (*calf, 0.036 * s), (*ankle, 0.025 * s)),
        ])  # fmt: skip
        self.boot(ankle, toe, far)

    def boot(self, ankle, toe: float = 1.0, far: bool = False) -> None:
        s = self.s
        x, z = ankle
        low = z - 0.026 * s
        self.paint(_dark(_BOOT) if far else _BOOT, [
            *_limb((x, z, 0.027 * s), (x - 0.004 * s, low + 0.012 * s, 0.028 * s)),
            *_limb((x, low + 0.008 * s, 0.024 * s),
                   (x + toe * 0.085 * s, low - 0.002 * s, 0.014 * s)),
        ])  # fmt: skip

    def within(self, shoulder, hand) -> np.ndarray:
        """The hand where it is wanted, or as far that way as the arm is long."""
        way = hand - shoulder
        share = 0.99 * (self.upper + self.fore) / max(np.hypot(*way), 1e-9)
        return shoulder + min(share, 1.0) * way

    def arm(self, shoulder, hand, near: bool, way: float = -1.0) -> None:
        s, (_, skin, dark, shirt, _, _) = self.s, self.look
        hand = self.within(shoulder, hand)
        elbow = _bent(shoulder, hand, self.upper, self.fore, way)
        cuff = elbow + 0.12 * (hand - elbow)
        wrist = elbow + 0.80 * (hand - elbow)
        sleeve, bare = (_light(shirt), skin) if near else (_dark(shirt), dark)
        self.paint(bare, [
            *_limb((*elbow, 0.026 * s), (*wrist, 0.018 * s)),
            *_limb((*wrist, 0.019 * s), (*hand, 0.021 * s)),
        ], near)  # fmt: skip
        self.paint(sleeve, [
            *_limb((*shoulder, 0.044 * s), (*elbow, 0.033 * s)),
            *_limb((*elbow, 0.033 * s), (*cuff, 0.031 * s)),
        ], near)  # fmt: skip

    def trunk_to(self, hip, shoulder) -> None:
        s, shirt = self.s, self.look[3]
        way = (shoulder - hip) / np.hypot(*(shoulder - hip))
        back = np.array([-way[1], way[0]])
        mid = hip + 0.5 * (shoulder - hip) + 0.016 * s * back
        chest = hip + 0.80 * (shoulder - hip) + 0.018 * s * back
        wide = 0.9 if self.child else 1.0
        self.paint(shirt, [
            *_limb((*(hip + 0.01 * s * way), 0.073 * s * wide),
                   (*mid, 0.070 * s * wide), (*chest, 0.070 * s * wide)),
            *_limb((*chest, 0.070 * s * wide), (*shoulder, 0.052 * s * wide)),
        ])  # fmt: skip

    def head_on(self, shoulder, lean: float) -> None:
        hair, skin, dark, _, _, hat = self.look
        h, up = self.head, 0.62 * lean
        way = np.array([np.sin(up), np.cos(up)])
        base = shoulder + np.array([0.004 * self.s, 0.012 * self.s])
        at = base + way * (0.30 * h + 0.52 * h)
        look = up * 0.75 + 0.16
        self.paint(dark, _limb((*base, 0.235 * h), (*(at - 0.3 * h * way), 0.215 * h)))

        def on(a, b):
            """A point of the face: ahead and up, in heads."""
            c, d = np.cos(-look), np.sin(-look)
            return at + h * np.array([a * c - b * d, a * d + b * c])

        face = [_oval(*at, 0.365 * h, 0.49 * h, look)]
        face += _limb((*on(0.30, -0.02), 0.09 * h), (*on(0.425, -0.10), 0.045 * h))
        face += _limb((*on(0.02, -0.22), 0.24 * h), (*on(0.20, -0.36), 0.13 * h))
        self.paint(skin, face)
        self.paint(hair, [
            _oval(*on(-0.05, 0.06), 0.40 * h, 0.47 * h, look, 62, 232),
            *_limb((*on(-0.22, 0.10), 0.20 * h), (*on(-0.25, -0.16), 0.15 * h)),
            *([] if hat else [_oval(*on(0.0, 0.18), 0.39 * h, 0.36 * h, look, 0, 180)]),
        ])  # fmt: skip
        self.paint(dark, [_oval(*on(-0.06, -0.05), 0.065 * h, 0.10 * h, look)])
        if hat:
            self.paint(_HAT_DARK, _limb((*on(-0.62, 0.10), 0.03 * h),
                                        (*on(0.0, 0.27), 0.05 * h),
                                        (*on(0.70, 0.16), 0.03 * h)))  # fmt: skip
            self.paint(_HAT, [
                _oval(*on(-0.02, 0.24), 0.43 * h, 0.36 * h, look, 0, 180),
                *_limb((*on(-0.60, 0.13), 0.03 * h), (*on(0.0, 0.30), 0.05 * h),
                       (*on(0.68, 0.19), 0.03 * h)),
            ])  # fmt: skip

    def trowel(self, hand, to) -> None:
        """A trowel from the hand into the soil, and the hole it has made."""
        way = to - hand
        side = 0.034 * np.array([-way[1], way[0]]) / max(np.hypot(*way), 1e-9)
        neck, broad = hand + 0.40 * way, hand + 0.62 * way
        hole = [_oval(to[0] + 0.03, to[1] - 0.004, 0.085, 0.022)]
        self.paint("#3b2a20", hole, True)
        self.paint("#8b674f", [_oval(to[0] + 0.14, to[1] + 0.012, 0.06, 0.026)], True)
        self.paint(_WOOD, _limb((*(hand - 0.1 * way), 0.014), (*neck, 0.012)), True)
        blade = [
            neck + 0.3 * side, broad + side, broad + 0.16 * way + 0.9 * side, to,
            broad + 0.16 * way - 0.9 * side, broad - side, neck - 0.3 * side,
        ]  # fmt: skip
        self.paint(_STEEL, [np.array(blade)], True)


def _tone(colour: str, k: float) -> str:
    parts = [min(255, round(int(colour[i : i + 2], 16) * k)) for i in (1, 3, 5)]
    return "#{:02x}{:02x}{:02x}".format(*parts)


def _dark(colour: str) -> str:
    return _tone(colour, 0.80)


def _light(colour: str) -> str:
    return _tone(colour, 1.10)


def somebody(users: str, stature: float, rim: float, soil: float, into: float,
             name: str = "") -> Figure:  # fmt: skip
    """Who works at a bed with this rim.

    Parameters
    ----------
    users : str
        Key of data/people.csv; people on wheels sit.
    stature : float
        Height of a standing person in metres.
    rim, soil : float
        Heights of the rim and of the fill over the ground that is stood on.
    into : float
        How far the rim is wide: where the fill begins.
    name : str
        Of the bed; it decides who it is.
    """
    child = stature < 1.5
    looks = _LOOKS[zlib.crc32(f"{users}{name}".encode()) % len(_LOOKS)]
    if child:  # no hat, and no grey hair
        hair = "#6b4a2f" if looks is _LOOKS[2] else looks[0]
        looks = (hair, *looks[1:5], False)
    body = _Body(stature, child, looks)
    spot = np.array([into + 0.24, soil])
    if users == "seated":
        return _seated(body, rim, spot)
    if rim < 0.32 * stature:
        return _kneeling(body, rim, spot)
    return _standing(body, rim, spot)


def _reach(body: _Body, hips, to, rim: float) -> tuple[np.ndarray, np.ndarray, float]:
    """Hip, shoulder and lean of the back: the least that brings the hand there."""
    arm = 0.97 * (body.upper + body.fore)
    best = None
    for hip in hips:
        for lean in np.radians(np.arange(6, 84, 3)):
            shoulder = hip + body.trunk * np.array([np.sin(lean), np.cos(lean)])
            free = -0.06 if shoulder[1] > rim else -0.20  # room for the head
            if shoulder[0] > free * body.s and shoulder[1] < rim + 0.1 * body.s:
                break  # nobody leans through the wall
            far = float(np.hypot(*(to - shoulder)))
            if far <= arm:
                return hip, shoulder, float(lean)
            if best is None or far < best[0]:
                best = (far, hip, shoulder, float(lean))
    return best[1], best[2], best[3]


def _standing(body: _Body, rim: float, spot) -> Figure:
    s = body.s
    hand = spot + np.array([-0.09, 0.20])
    hips = [
        np.array([-x * s, body.hip - drop * s])
        for drop in (0.0, 0.02, 0.05, 0.09, 0.14)
        for x in (0.26, 0.22)
    ]
    hip, shoulder, lean = _reach(body, hips, hand, rim)
    hand = body.within(shoulder, hand)
    far_foot, near_foot = (np.array([x * s, 0.040 * s]) for x in (-0.125, -0.235))
    near_foot[0], far_foot[0] = hip[0] + 0.00 * s, hip[0] + 0.10 * s
    body.leg(hip + (0.012 * s, 0), far_foot, far=True)
    rest = np.array([-0.005, rim + 0.02])
    body.arm(shoulder + (0.016 * s, -0.012 * s), rest, near=False)
    body.leg(hip - (0.008 * s, 0), near_foot, far=False)
    body.trunk_to(hip, shoulder)
    body.head_on(shoulder, lean)
    body.trowel(hand, spot)
    body.arm(shoulder, hand, near=True)
    return body.figure


def _kneeling(body: _Body, rim: float, spot) -> Figure:
    s = body.s
    hand = spot + np.array([-0.09, 0.19])
    hips = [np.array([-x * s, 0.275 * s]) for x in (0.33, 0.27)]
    hip, shoulder, lean = _reach(body, hips, hand, rim)
    hand = body.within(shoulder, hand)
    knee = np.array([hip[0] + 0.045 * s, 0.045 * s])
    ankle = knee + np.array([-0.235 * s, -0.005 * s])
    far_foot = np.array([hip[0] + 0.215 * s, 0.040 * s])
    body.leg(hip + (0.012 * s, 0), np.minimum(far_foot, (-0.10, 1.0)), far=True)
    rest = np.array([-0.005, rim + 0.02])
    body.arm(shoulder + (0.016 * s, -0.012 * s), rest, near=False)
    toe = ankle + np.array([-0.03 * s, 0.0])
    body.paint(_BOOT, [
        *_limb((*ankle, 0.026 * s), (*toe, 0.026 * s)),
        *_limb((*(toe + (0.0, 0.01 * s)), 0.02 * s),
               (toe[0] - 0.022 * s, 0.014 * s, 0.013 * s)),
    ])  # fmt: skip
    body.paint(body.look[4], [
        *_limb((*hip, 0.068 * s), (*knee, 0.044 * s)),
        *_limb((*knee, 0.043 * s), (*(0.55 * knee + 0.45 * ankle), 0.038 * s),
               (*ankle, 0.027 * s)),
    ])  # fmt: skip
    body.trunk_to(hip, shoulder)
    body.head_on(shoulder, lean)
    body.trowel(hand, spot)
    body.arm(shoulder, hand, near=True)
    return body.figure


def _seated(body: _Body, rim: float, spot) -> Figure:
    """On wheels, the knees before the wall; the chair in its own size."""
    s = body.s
    hand = spot + np.array([-0.13, 0.16])
    hips = [np.array([-0.66, 0.60])]
    hip, shoulder, lean = _reach(body, hips, hand, rim)
    hand = body.within(shoulder, hand)
    knee, ankle = hip + np.array([0.43, 0.0]), hip + np.array([0.45, -0.42])
    wheel = hip + np.array([-0.02, -0.30])
    wheel[1] = 0.30
    body.paint(_STEEL, [
        *_limb((hip[0] - 0.16, 0.52, 0.014), (hip[0] - 0.20, 0.90, 0.014)),
        *_limb((hip[0] - 0.20, 0.90, 0.014), (hip[0] - 0.30, 0.93, 0.016)),
        *_limb((hip[0] + 0.30, 0.50, 0.013), (hip[0] + 0.42, 0.14, 0.012)),
        *_limb((hip[0] + 0.40, 0.13, 0.012), (hip[0] + 0.60, 0.10, 0.012)),
        *_limb((hip[0] + 0.24, 0.50, 0.012), (hip[0] + 0.34, 0.10, 0.012)),
    ])  # fmt: skip
    body.paint(_WOOD, [
        *_limb((hip[0] - 0.18, 0.62, 0.022), (hip[0] - 0.20, 0.86, 0.022)),
        *_limb((hip[0] - 0.16, 0.50, 0.022), (hip[0] + 0.30, 0.50, 0.022)),
    ])  # fmt: skip
    castor = _oval(hip[0] + 0.34, 0.075, 0.075, 0.075)
    body.paint(_TYRE, [castor])
    body.paint("#ffffff", [_oval(hip[0] + 0.34, 0.075, 0.045, 0.045)])
    body.arm(shoulder + (0.016 * s, -0.012 * s), np.array([-0.02, rim + 0.02]), False)
    body.paint(_dark(body.look[4]), _limb((*hip, 0.09), (*(knee + (0.03, 0)), 0.065)))
    body.paint(body.look[4], [
        *_limb((*hip, 0.10), (*knee, 0.068)),
        *_limb((*knee, 0.066), (*(0.6 * knee + 0.4 * ankle), 0.058), (*ankle, 0.042)),
    ])  # fmt: skip
    body.boot(ankle + np.array([0.01, -0.0]))
    body.trunk_to(hip, shoulder)
    body.head_on(shoulder, lean)
    turn = np.linspace(0, 2 * np.pi, 37)
    unit = np.column_stack([np.cos(turn), np.sin(turn)])
    body.paint(_TYRE, [np.vstack([wheel + 0.30 * unit, wheel + 0.268 * unit[::-1]])])
    body.paint("#b8c2c8", [
        np.vstack([wheel + 0.255 * unit, wheel + 0.243 * unit[::-1]]),
        *[np.array([wheel + 0.004 * np.array([-u[1], u[0]]), wheel + 0.25 * u,
                    wheel - 0.004 * np.array([-u[1], u[0]])])
          for u in unit[:-1:3]],
    ])  # fmt: skip
    body.paint(_STEEL, [_oval(*wheel, 0.028, 0.028)])
    body.trowel(hand, spot)
    body.arm(shoulder, hand, near=True)
    return body.figure
