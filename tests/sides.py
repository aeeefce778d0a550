"""Which way each side of a finished piece looks: x to the right, y to the back, z up."""

from __future__ import annotations

WAYS = {
    "left": (-1, 0, 0),
    "right": (1, 0, 0),
    "front": (0, -1, 0),
    "back": (0, 1, 0),
    "bottom": (0, 0, -1),
    "top": (0, 0, 1),
}
