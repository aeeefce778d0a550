"""The facts of a closed edition.

In: `Closed`.  Out: the facts of its model with `closing` beside them: each printed figure as it
is in the design and as it is printed, and every demand that was kept or given up.
"""

from __future__ import annotations

from typing import Any

from patternpress.assembly.facts import exact, facts
from patternpress.closing.close import Closed, Figures
from patternpress.closing.demands import Demand
from patternpress.closing.narrowed import narrowed
from patternpress.closing.scales import Scaled
from patternpress.closing.stocking import Named
from patternpress.closing.table import Row, rows, systems_of
from patternpress.measure.digits import Display


def closed_facts(closed: Closed) -> dict[str, Any]:
    """Everything worked out for one edition, with how its figures were closed.

    `closing` holds an entry for each system shown; lengths are exact fractions of a millimetre.
    """
    found = {display.first: _system(figures, display) for figures, display in systems_of(closed)}
    told = {**facts(closed.model), "closing": found}
    if closed.scaled is not None and closed.scaled.other:
        told["scaled"] = {"from": closed.scaled.ratio, "left": _left(closed.scaled)}
    if closed.rounded:
        told["rounded"] = [each.what for each in closed.rounded]
    return told


def _left(scaled: Scaled) -> list[dict[str, str]]:
    """What another scale left alone."""
    return [
        {"figure": each.spot.words, "why": each.why, **({"of": each.of} if each.of else {})}
        for each in scaled.left
    ]


def _system(figures: Figures, display: Display) -> dict[str, Any]:
    return {
        "step": exact(figures.grid.step),
        "finest": exact(figures.grid.unit),
        "stock": [_stock(each) for each in figures.stock],
        "figures": [_row(each) for each in rows(figures, display)],
        "kept": [_demand(each) for each in figures.kept],
        "narrowed": [
            {"figure": each.words, "least": exact(each.least), "most": exact(each.most)}
            for each in narrowed(figures)
        ],
        "given_up": [_demand(each) for each in figures.choice.given_up],
    }


def _stock(named: Named) -> dict[str, Any]:
    told: dict[str, Any] = {
        "stock": named.stock,
        "sold": exact(named.sold),
        "taken": exact(named.taken),
    }
    if named.instead_of is not None:
        told["instead_of"] = exact(named.instead_of)
    if named.glued > 1:
        told["glued"] = named.glued
    return {**told, "named": named.named}


def _row(row: Row) -> dict[str, str]:
    """One figure; `steps` is by how many of the finest steps it moved."""
    return {
        "figure": row.words,
        "group": row.group,
        "mm": exact(row.mm),
        "closed": exact(row.closed),
        "printed": row.printed,
        "steps": exact(row.steps),
        "why": row.why,
    }


def _demand(demand: Demand) -> dict[str, str]:
    sort = "whole steps" if demand.whole else "equal" if demand.low == demand.high else "limit"
    return {"what": demand.words, "sort": sort}
