"""The signs of templates.

In: nothing; a list only.  Out: `Sign`, each line and sign that a page of templates may show.  A
stroke carries its sign, so that the key explains what is drawn and nothing else.
"""

from enum import StrEnum


class Sign(StrEnum):
    """A line or sign on a template, in the order of the key; its value is the key of its words."""

    CUT = "cut"
    OPENING = "opening"
    TRIM = "trim"
    LAP = "lap"
    MATCH = "match"
    CORNER = "corner"
    FOLD = "fold"
    MARK = "mark"
    POINT = "point"
    GROOVE = "groove"
    FAR = "far"
    CENTRE = "centre"
    ROUND = "round over"
    CHAMFER = "chamfer"
    EASE = "ease"
    BARE = "leave bare"
    RESIST = "resist"
    GRAIN = "grain"
    ORIGIN = "origin"
