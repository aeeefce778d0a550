"""Things and their sides in words.

In: a `Target` or names of sides.  Out: markup such as “the top front edge of the lid (G)”.
"""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup, escape

from patternpress.booklet.wording import Wording
from patternpress.design.phrases import Target

WAYS = {"right": "left", "back": "front", "top": "bottom"}


def side_of(target: Target, wording: Wording) -> Markup:
    """A thing, with which of its sides where one is said."""
    if not target.thing:
        return wording.say("the_work")
    thing = wording.thing(target.thing)
    if target.kind in ("hole", "groove"):
        return wording.say("hole_of", hole=target.feature, thing=thing)
    if target.feature:
        return wording.say(
            "feature_of", feature=wording.say(f"feature_{target.feature}"), thing=thing
        )
    if not target.sides:
        return wording.say("the", thing=thing)
    sides = Markup(" ").join(wording.say(f"side_{side}") for side in target.sides)
    return wording.say("edge_of" if len(target.sides) > 1 else "side_of", side=sides, thing=thing)


def side_list(sides: tuple[str, ...], wording: Wording) -> Markup:
    """Sides as a list: “left and front”."""
    return wording.listed(wording.say(f"side_{side}") for side in sides)


def way_list(sides: tuple[str, ...], wording: Wording) -> Markup:
    """The directions of sides, each once: “from left to right and from front to back”."""
    ways = dict.fromkeys(WAYS.get(side, side) for side in sides)
    return wording.listed(wording.say(f"way_{way}") for way in ways)


def holes_together(targets: Sequence[Target], wording: Wording) -> list[Markup]:
    """What is worked on, the holes of one thing together: “the upper and lower hole of …”."""
    groups: dict[tuple[str, str], list[Target]] = {}
    for number, target in enumerate(targets):
        own = "hole" if target.kind == "hole" else str(number)
        groups.setdefault((target.thing, own), []).append(target)
    found = []
    for group in groups.values():
        if len(group) == 1:
            found.append(side_of(group[0], wording))
            continue
        named = wording.listed(escape(each.feature) for each in group)
        thing = wording.thing(group[0].thing)
        found.append(wording.say("hole_of", hole=named, thing=thing))
    return found
