"""Write a number into an SVG: the only place where that is done.

In: a length in mm.  Out: its text, with at most four decimals, no exponent and no "-0".
"""

import math
from fractions import Fraction

DECIMALS = 4
_SHORT = 1e9  # mm that paper never has
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


def place(x: Number, y: Number) -> str:
    """Return a pair of coordinates as path data wants them."""
    if type(x) is float and type(y) is float and abs(x) < _SHORT and abs(y) < _SHORT:
        across, up = (f"{each:.{DECIMALS}f}".rstrip("0").rstrip(".") for each in (x, y))
        return f"{'0' if across == '-0' else across} {'0' if up == '-0' else up}"
    return f"{number(x)} {number(y)}"
