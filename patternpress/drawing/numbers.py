"""Write a number into an SVG: the only place where that is done.

In: a length in mm.  Out: its text, with at most four decimals, no exponent and no "-0".
"""

import math
from collections.abc import Sequence
from fractions import Fraction

DECIMALS = 4
HOLE = f"%.{DECIMALS}f\n"  # for a number in a pattern, which has no line's end elsewhere
Number = Fraction | float | int


def number(value: Number) -> str:
    """Return `value` (mm or degrees) as plain decimal text, a tie rounded to even.

    Raises ValueError or OverflowError for a float that is not a finite number.
    """
    if isinstance(value, float) and math.isfinite(value):
        # Python writes a float's exact value, a tie to even, ten times sooner than fractions do.
        text = f"{value:.{DECIMALS}f}".rstrip("0").rstrip(".")
        return "0" if text == "-0" else text
    scaled = round(Fraction(value) * 10**DECIMALS)
    whole, part = divmod(abs(scaled), 10**DECIMALS)
    text = f"{whole}.{part:0{DECIMALS}d}".rstrip("0").rstrip(".")
    return f"-{text}" if scaled < 0 else text


def filled(pattern: str, values: Sequence[float]) -> str:
    """Return a pattern with a value in each `HOLE`, as `number` writes it, all at once.

    Raises ValueError for one that is not a finite number.
    """
    if not all(map(math.isfinite, values)):
        raise ValueError("a place that is no finite number")
    text = pattern % tuple(values)
    # A line's end after each number tells where noughts are the last.
    for _ in range(DECIMALS):
        text = text.replace("0\n", "\n")
    return text.replace(".\n", "\n").replace("-0\n", "0\n").replace("\n", "")
