"""Scenes of solids for the pictures' tests: plain shapes, and groups of them by name.

Everything is in mm, x right, y to the back, z up.  Only the standard library and records of
patternpress are needed, so that another venv can read this file.
"""

import math
import random
from collections.abc import Sequence

from patternpress.assembly.solid import UNTURNED, Matrix, Solid, Vec, box, facet, moved
from patternpress.drawing.projection import FACES, View, dimetric, from_direction, isometric

Place = tuple[float, float]
Scene = list[tuple[str, Solid]]


def prism(
    outline: Sequence[Place],
    high: float,
    holes: Sequence[Sequence[Place]] = (),
    curved: bool = False,
    top: float = 1.0,
) -> Solid:
    """An outline (anticlockwise) with holes (anticlockwise too) raised by `high` along z.

    `curved`: each loop's sides are one curved surface.  `top` scales the upper outline.
    """
    loops = [list(outline), *([*hole][::-1] for hole in holes)]
    points: list[Vec] = [(x, y, 0.0) for loop in loops for x, y in loop]
    points += [(x * top, y * top, high) for loop in loops for x, y in loop]
    count = len(points) // 2
    numbers, walls = [], []
    first = 0
    for group, loop in enumerate(loops, start=1):
        ring = list(range(first, first + len(loop)))
        first += len(loop)
        numbers.append(ring)
        for a, b in zip(ring, [*ring[1:], ring[0]], strict=True):
            walls.append(facet(points, [(a, b, b + count, a + count)], "", group * curved))
    bottom = facet(points, [ring[::-1] for ring in numbers], "bottom")
    upper = facet(points, [[n + count for n in ring] for ring in numbers], "top")
    return Solid(tuple(points), (bottom, upper, *walls))


def round_outline(radius: float, count: int = 24, at: Place = (0.0, 0.0)) -> list[Place]:
    turn = 2 * math.pi / count
    return [
        (at[0] + radius * math.cos(turn * n), at[1] + radius * math.sin(turn * n))
        for n in range(count)
    ]


def rectangle(x: float, y: float, wide: float, deep: float) -> list[Place]:
    return [(x, y), (x + wide, y), (x + wide, y + deep), (x, y + deep)]


def turn(axis: str, degrees: float) -> Matrix:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return {
        "x": ((1.0, 0.0, 0.0), (0.0, c, -s), (0.0, s, c)),
        "y": ((c, 0.0, s), (0.0, 1.0, 0.0), (-s, 0.0, c)),
        "z": ((c, -s, 0.0), (s, c, 0.0), (0.0, 0.0, 1.0)),
    }[axis]


# Raised along z, then tipped so that it was raised along -y: the outline stands upright.
UPRIGHT: Matrix = ((1.0, 0.0, 0.0), (0.0, 0.0, -1.0), (0.0, 1.0, 0.0))
MIRRORED: Matrix = ((-1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


def at(solid: Solid, x: float, y: float, z: float, matrix: Matrix = UNTURNED) -> Solid:
    return moved(solid, matrix, (x, y, z))


def scattered(count: int, seed: int = 1) -> Scene:
    """Boxes that do not run through each other: one in each cell of a grid."""
    source = random.Random(seed)
    wide = math.ceil(count ** (1 / 3))
    cells = [(x, y, z) for z in range(wide) for y in range(wide) for x in range(wide)][:count]
    scene = []
    for number, (x, y, z) in enumerate(cells):
        size = [round(source.uniform(3, 10), 3) for _ in range(3)]
        place = [
            round(10 * c + source.uniform(0, 10 - s), 3)
            for c, s in zip((x, y, z), size, strict=True)
        ]
        scene.append((f"box {number}", at(box(*size), *place)))
    return scene


def outline(text: str) -> list[Place]:
    """Corners written as "x y, x y, ..."."""
    return [(float(x), float(y)) for x, y in (corner.split() for corner in text.split(","))]


L_SHAPE = outline("0 0, 30 0, 30 10, 10 10, 10 25, 0 25")
U_SHAPE = outline("0 0, 30 0, 30 20, 22 20, 22 6, 8 6, 8 20, 0 20")
T_SHAPE = outline("10 0, 20 0, 20 20, 30 20, 30 28, 0 28, 0 20, 10 20")
STAIRS = outline("0 0, 40 0, 40 6, 30 6, 30 12, 20 12, 20 18, 10 18, 10 24, 0 24")
COMB = outline("0 0, 50 0, 50 15, 40 15, 40 5, 30 5, 30 15, 20 15, 20 5, 10 5, 10 15, 0 15")
GABLE = outline("0 0, 24 0, 24 18, 12 30, 0 18")
WEDGE = outline("0 0, 30 0, 0 12")
HALF_TURN = [math.pi * n / 12 for n in range(13)]
ARCH = [
    *outline("0 0, 8 0"),
    *((20 - 12 * math.cos(a), 12 * math.sin(a) + 5) for a in HALF_TURN),
    *outline("32 0, 40 0, 40 24, 0 24"),
]


def table() -> Scene:
    legs = [
        (f"leg {n}", at(box(3, 3, 27), x, y, 0))
        for n, (x, y) in enumerate([(2, 2), (45, 2), (2, 25), (45, 25)])
    ]
    return [*legs, ("top", at(box(50, 30, 2), 0, 0, 27))]


def carcass() -> Scene:
    return [
        ("bottom", box(60, 25, 3)),
        ("left", at(box(3, 25, 80), 0, 0, 3)),
        ("right", at(box(3, 25, 80), 57, 0, 3)),
        ("back", at(box(54, 2, 80), 3, 23, 3)),
        ("shelf", at(box(54, 21, 2), 3, 2, 40)),
        ("top", at(box(64, 27, 3), -2, -2, 83)),
    ]


def ladder(count: int) -> Scene:
    """Two posts with rungs let in between them."""
    posts = [("left", box(3, 4, 60)), ("right", at(box(3, 4, 60), 25, 0, 0))]
    rungs = [(f"rung {n}", at(box(22, 2, 2), 3, 1, 6.0 + 9 * n)) for n in range(count)]
    return [*posts, *rungs]


def chest() -> Scene:
    """A case without a front, and a drawer pulled out of it by 15 mm."""
    drawer = [
        ("drawer bottom", at(box(50, 30, 1), 5, -13, 3)),
        ("drawer left", at(box(2, 30, 12), 5, -13, 4)),
        ("drawer right", at(box(2, 30, 12), 53, -13, 4)),
        ("drawer back", at(box(46, 2, 12), 7, 15, 4)),
        ("drawer front", at(box(54, 2, 14), 3, -15, 3)),
    ]
    case = [
        ("floor", box(60, 30, 3)),
        ("case left", at(box(3, 30, 20), 0, 0, 3)),
        ("case right", at(box(3, 30, 20), 57, 0, 3)),
        ("lid", at(box(60, 30, 3), 0, 0, 23)),
    ]
    return case + drawer


ISO = isometric("right")
ISO_LEFT = isometric("left")
BELOW = isometric("right", above=False)
TWO = dimetric("right")
TWO_LEFT = dimetric("left")
ODD = from_direction((0.31, -0.83, 0.47))
HIGH = from_direction((-0.2, -0.4, 0.9))
BEHIND = from_direction((-0.55, 0.62, 0.35))
FRONT, TOP, RIGHT = FACES["front"], FACES["top"], FACES["right"]

BOARD_WITH_HOLE = prism(rectangle(0, 0, 40, 30), 4, [round_outline(8, 24, (18, 14))])
WINDOW = at(prism(rectangle(0, 0, 40, 50), 3, [rectangle(6, 8, 28, 34)]), 0, 0, 0, UPRIGHT)
RING = prism(round_outline(15, 24), 8, [round_outline(10, 24)])
DISC = prism(round_outline(12, 24), 6)
LYING = at(prism(round_outline(5, 16), 40), 0, 0, 5, turn("y", 90))

SCENES: dict[str, tuple[Scene, View]] = {
    "unit cube along (1,1,1)": ([("cube", box(1, 1, 1))], from_direction((1.0, 1.0, 1.0))),
    "box": ([("box", box(30, 20, 10))], ODD),
    "two boxes apart": ([("a", box(20, 10, 30)), ("b", at(box(40, 8, 12), -5, 20, 0))], ODD),
    "equal boxes stacked": ([("a", box(20, 20, 9)), ("b", at(box(20, 20, 9), 0, 0, 9))], ISO),
    "small on large": ([("a", box(40, 30, 8)), ("b", at(box(12, 9, 20), 10, 8, 8))], ISO),
    "small on large, flush": ([("a", box(40, 30, 8)), ("b", at(box(12, 9, 20), 28, 0, 8))], ISO),
    "large on small": ([("a", box(20, 15, 20)), ("b", at(box(40, 30, 4), -8, -6, 20))], ISO_LEFT),
    "side by side, flush": ([("a", box(20, 10, 15)), ("b", at(box(9, 10, 15), 20, 0, 0))], TWO),
    "side by side, stepped": ([("a", box(20, 10, 15)), ("b", at(box(9, 8, 11), 20, 1, 0))], TWO),
    "back to back": ([("a", box(30, 5, 20)), ("b", at(box(30, 5, 32), 4, 5, 0))], ISO),
    "one wholly hidden": ([("a", box(40, 10, 40)), ("b", at(box(8, 8, 8), 10, 15, 12))], FRONT),
    "edge just behind an edge": (
        [("a", box(20, 5, 20)), ("b", at(box(30, 5, 20), 0, 9, 0))],
        FRONT,
    ),
    "L lying": ([("l", prism(L_SHAPE, 8))], ISO),
    "L standing": ([("l", at(prism(L_SHAPE, 8), 0, 0, 0, UPRIGHT))], ODD),
    "L from above": ([("l", at(prism(L_SHAPE, 8), 0, 0, 0, UPRIGHT))], TOP),
    "L and its mirrored twin": (
        [
            ("l", at(prism(L_SHAPE, 8), 0, 0, 0, UPRIGHT)),
            ("twin", at(at(prism(L_SHAPE, 8), 0, 0, 0, UPRIGHT), 70, 3, 0, MIRRORED)),
        ],
        TWO,
    ),
    "L with a block in its corner": (
        [
            ("l", at(prism(L_SHAPE, 8), 0, 0, 0, UPRIGHT)),
            ("block", at(box(12, 8, 15), 10, -8, 10)),
        ],
        ISO,
    ),
    "U standing": ([("u", at(prism(U_SHAPE, 12), 0, 0, 0, UPRIGHT))], HIGH),
    "U lying, from behind": ([("u", prism(U_SHAPE, 12))], BEHIND),
    "T standing": ([("t", at(prism(T_SHAPE, 9), 0, 0, 0, UPRIGHT))], ISO_LEFT),
    "T from below": ([("t", at(prism(T_SHAPE, 9), 0, 0, 0, UPRIGHT))], BELOW),
    "stairs": ([("stairs", at(prism(STAIRS, 22), 0, 0, 0, UPRIGHT))], ISO),
    "stairs from the side": ([("stairs", at(prism(STAIRS, 22), 0, 0, 0, UPRIGHT))], RIGHT),
    "comb": ([("comb", at(prism(COMB, 6), 0, 0, 0, UPRIGHT))], ODD),
    "two combs, one behind": (
        [
            ("near", at(prism(COMB, 6), 0, 0, 0, UPRIGHT)),
            ("far", at(prism(COMB, 6), 3, 20, 6, UPRIGHT)),
        ],
        TWO_LEFT,
    ),
    "window": ([("window", WINDOW)], ODD),
    "box behind a window": ([("window", WINDOW), ("box", at(box(30, 10, 30), 3, 12, 0))], TWO),
    "box through a window, front": (
        [("window", WINDOW), ("box", at(box(10, 30, 10), 15, -12, 12))],
        ISO,
    ),
    "board with a hole": ([("board", BOARD_WITH_HOLE)], ISO),
    "board with a hole from below": ([("board", BOARD_WITH_HOLE)], BELOW),
    "board with five holes": (
        [
            (
                "board",
                prism(
                    rectangle(0, 0, 50, 40),
                    3,
                    [
                        rectangle(5, 5, 12, 9),
                        round_outline(5, 12, (35, 10)),
                        round_outline(6, 10, (12, 28)),
                        [(25.0, 20.0), (30.0, 20.0), (27.0, 33.0)],
                        rectangle(36, 22, 4, 14),
                    ],
                ),
            )
        ],
        HIGH,
    ),
    "peg in a hole": (
        [("board", BOARD_WITH_HOLE), ("peg", at(prism(round_outline(8, 24), 18), 18, 14, -5))],
        ISO,
    ),
    "faceted cylinder": ([("disc", DISC)], ODD),
    "faceted cylinder from the front": ([("disc", DISC)], FRONT),
    "cylinder lying on a box": ([("box", at(box(50, 14, 6), -5, -7, -6)), ("rod", LYING)], TWO),
    "ring": ([("ring", RING)], ISO),
    "ring around a post": ([("ring", RING), ("post", at(box(8, 8, 30), -4, -4, -6))], HIGH),
    "cut cone": ([("cone", prism(round_outline(12, 16), 20, top=0.5))], ODD),
    "pyramid on a box": (
        [
            ("box", at(box(24, 24, 9), -12, -12, -9)),
            ("pyramid", prism(rectangle(-12, -12, 24, 24), 16, top=0.25)),
        ],
        ISO,
    ),
    "gable with a ridge beam": (
        [
            ("gable", at(prism(GABLE, 4), 0, 0, 0, UPRIGHT)),
            ("beam", at(box(6, 40, 6), 9, 0, 15)),
        ],
        ODD,
    ),
    "arch before a post": (
        [("arch", at(prism(ARCH, 5), 0, 0, 0, UPRIGHT)), ("post", at(box(6, 6, 30), 15, 12, 0))],
        TWO,
    ),
    "wedge on a wedge": (
        [
            ("lower", at(prism(WEDGE, 10), 0, 0, 0, UPRIGHT)),
            ("upper", at(at(prism(WEDGE, 10), 0, 0, 0, UPRIGHT), 30, -10, 12, turn("z", 180))),
        ],
        ISO,
    ),
    "boxes at odd angles": (
        [
            ("a", at(box(30, 12, 9), 0, 0, 0, turn("z", 23))),
            ("b", at(box(14, 25, 6), 8, -4, 9, turn("z", -37))),
            ("c", at(box(5, 5, 30), -14, 3, 2, turn("x", 31))),
        ],
        BEHIND,
    ),
    "table": (table(), ISO),
    "table from below": (table(), BELOW),
    "table, odd view": (table(), ODD),
    "carcass": (carcass(), ISO),
    "carcass from the left": (carcass(), TWO_LEFT),
    "carcass from the front": (carcass(), FRONT),
    "carcass from behind": (carcass(), BEHIND),
    "chest with a drawer": (chest(), ISO),
    "chest from above": (chest(), HIGH),
    "ladder": (ladder(6), ISO),
    "ladder from the right": (ladder(6), RIGHT),
    "twelve boxes": (scattered(12), ODD),
    "twenty-seven boxes": (scattered(27, seed=4), ISO),
}
