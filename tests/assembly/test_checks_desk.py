"""Faults of the trade, seeded one by one into a real design: each is found, at its line, alone."""

from pathlib import Path

import pytest

from patternpress.assembly.model import check
from patternpress.design.problem import Problem
from patternpress.design.read import read_design, read_text

DESIGNS = Path(__file__).parents[2] / "designs"
DESK = (DESIGNS / "keepers-desk.yaml").read_text("utf-8")
SOUND = sorted(path for path in DESIGNS.glob("*.yaml") if path.name != "quay.yaml")

FAMILIES = ("figures", "files", "form", "naming", "parts", "work")

# Faults that can be in one file at the same time, because none of them hides another.
TOGETHER = (
    "longer than sold", "tool that is not listed", "listed and unused", "tool listed and unused",
    "size that is used nowhere", "letter twice", "figure in prose", "inch fraction in prose",
    "wait shorter than the glue needs", "mark that is never drawn", "hole that breaks the edge",
    "unknown reference", "unknown size", "missing unit in a part", "quantity that disagrees",
    "used before it is cut", "joined to itself", "short grain",
    "sub-assembly that nobody builds", "treated before it is built", "answer without a difference",
    "board that runs out of its own range",
)  # fmt: skip

# What is changed (`old -> new`, each found once), then what is found and in which line.
FAULTS = r"""
thinner than can be cut
    high: height of drawer front - 1 mm -> high: 0.9 mm
    thinner-than-can-be-cut @ drawer side:
    thinner-than-can-be-cut @ drawer back:

longer than sold
    wide: width + 2 mm -> wide: width + 520 mm
    longer-than-sold @ lid:

part that is never cut
    cut: drawer front, drawer side, drawer back -> cut: drawer front, drawer back
    part-never-cut @ drawer side:

part that is never used
    knob: {back: 'in knob hole of drawer front, 2 mm deep'} -> \b
    part-never-used @ knob:

piece that is never used
    front right leg: {top: against bottom board, right: flush with right side, front: flush with bottom board} -> \b
    piece-never-used @ pieces: front left leg, front right leg

piece used twice in one step
    divider 2: {bottom -> divider 1 : {bottom
    piece-never-used @ divider:
    quantity-disagrees @ quantity: 2
    field-twice @ divider 1 : {bottom

piece used in two steps
    lid: {leans: -> drawer post: {left: 1 mm inside right side}\n      lid: {leans:
    piece-used-twice @ drawer post: {left: 1 mm

tool that is not listed
    uses: pencil, small square, steel rule -> uses: pencil, small sqare, steel rule
    tool-not-listed @ uses: pencil, small sqare

material that is not listed
    with: masking tape, where: across both sides -> with: parcel tape, where: across both sides
    tool-not-listed @ with: parcel tape

listed and unused
    thin oil: {kind: -> beeswax: {kind: finish}\n  thin oil: {kind:
    material-unused @ beeswax

tool listed and unused
    choices:\n -> tools:\n  coping saw:\nchoices:\n
    tool-unused @ coping saw:

size that is used nowhere
    bay: (inside -> rail height: 4 mm\n  bay: (inside
    size-unused @ rail height

letter twice
    pieces: {left side: -> letter: C\n    pieces: {left side:
    stock: lime strip\n -> stock: lime strip\n    letter: C # again\n
    letter-twice @ letter: C # again

figure in prose
    lid clears it. -> lid clears it by 0.5 mm.
    figure-in-prose @ lid clears it by 0.5 mm.

inch fraction in prose
    tip: Mark the two sides together -> tip: Leave 1/16 in. Mark the two sides together
    figure-in-prose @ tip: Leave

cut before it is measured
    mark: shelf line, post line, bay mark -> mark: shelf line, post line, bay mark\n    cut: drawer front
    cut: drawer front, drawer side -> cut: drawer side
    cut-before-measured @ cut: drawer front

opening that is never measured
    \n    measure: drawer opening -> \b
    never-measured @ drawer opening:

opening measured before it exists
    uses: pencil, small square, steel rule -> uses: pencil, small square, steel rule\n    measure: drawer opening
    measured-too-early @ measure: drawer opening
    measured-too-early @ measure: drawer opening
    measured-too-early @ measure: drawer opening
    measured-too-early @ measure: drawer opening

wait shorter than the glue needs
    wait: {for: wood glue, until: handle}\n    meanwhile: -> wait: {for: wood glue, time: 5 min}\n    meanwhile:
    wait-too-short @ time: 5 min

no wait at all
    wait: {for: wood glue, until: handle}\n    meanwhile -> meanwhile
    no-wait @ step: Join the bottom board

mark used before it is drawn
    mark: shelf line, post line, bay mark -> mark: shelf line, post line
    takes: 25 min -> mark: bay mark\n    takes: 25 min
    mark-used-too-early @ left: at bay mark

mark that is never drawn
    mark: shelf line, post line, bay mark -> mark: shelf line, bay mark
    mark-never-drawn @ post line:

hole that breaks the edge
    round: 1 mm, at: centre -> round: 1 mm, at: 0.4 mm from left
    shape-fault @ knob hole: {round

hole that nobody drills
    \n    treat:\n      - drill: knob hole of drawer front\n        with: mini drill -> \b
    hole-never-drilled @ knob hole: {round

drill that is not sold
    round: 1 mm, at: centre -> round: 0.2 mm, at: centre
    bit-not-sold @ knob hole: {round

sizes in a ring
    drawer height: 11 mm -> drawer height: box height / 2
    circular-size @ drawer height: box

unknown reference
    Slide <drawer> into -> Slide <drawr> into
    unknown-reference @ Slide <drawr>

reference that is not closed
    Slide <drawer> into -> Slide <drawer into
    reference-not-closed @ Slide <drawer into

unknown size
    high: leg height -> high: leg hight
    unknown-size @ high: leg hight

missing unit
    width: 84 mm -> width: 84
    mixed-kinds @ inside width: width
    mixed-kinds @ wide: width + 2 mm

missing unit in a part
    deep: divider depth -> deep: 18
    size-unused @ divider depth
    unit-missing @ deep: 18

quantity that disagrees
    pieces: front left leg, -> quantity: 5\n    pieces: front left leg,
    quantity-disagrees @ quantity: 5

quantity of a part in a sub-assembly made twice
    stock: brass knob -> stock: brass knob\n    quantity: 1
    quantity-disagrees @ quantity: 1

used before it is cut
    cut: drawer front, drawer side, drawer back, drawer floor -> cut: drawer front, drawer side, drawer back
    - step: Finish\n -> - step: Finish\n    cut: drawer floor\n
    used-before-cut @ drawer floor: {left

joined to what is not there yet
    back: against back, left and right: centred on post line -> back: against shelf, left and right: centred on post line
    not-there-yet @ drawer post: {bottom

joined to nothing
    \n    start: bottom board -> \b
    part-never-used @ bottom board:
    nothing-to-join-to @ step: Join the bottom board

joined to itself
    back: against back, left and right -> back: against drawer post, left and right
    joined-to-itself @ back: against drawer post

side said twice
    back: {left: against left side, right: -> back: {left: against left side, left and right:
    side-twice @ left and right: against right

short grain
    high: drawer height\n    grain: front to back -> high: 2.9 mm\n    grain: up and down
    short-grain @ drawer post:

board that runs out of its own range
    materials:\n -> stock:\n  back board: {sheet: 1.5 mm, really: 1.6 to 1.7 mm}\nmaterials:\n
    stock-unused @ back board
    really-excludes @ back board

too few sizes
    \n    high: box height - board - lid gap -> \b
    size-missing @ back:

too many sizes
    high: box height - board - lid gap\n -> high: box height - board - lid gap\n    deep: 2 mm\n
    size-twice @ back:

size that comes to nothing
    deep: depth of drawer opening - board -> deep: depth of drawer opening - 20 * board
    not-positive @ deep: depth of drawer opening

fitted to an opening without a planned size
    high: drawer height\n    deep: depth - board\n\nmarks -> deep: depth - board\n\nmarks
    opening-size-missing @ drawer front:

clearance of nothing
    less: {wide: 0.25 to 0.5 mm, high -> less: {wide: 0 mm, high
    nothing-off @ less: {wide: 0 mm

clearance the wrong way round
    less: {wide: 0.25 to 0.5 mm, high -> less: {wide: 0.5 to 0.25 mm, high
    range-order @ less: {wide: 0.5 to

sub-assembly that nobody builds
    case:\n  drawer: -> case:\n  tray:\n  drawer:
    never-built @ tray:

sub-assembly that is left over
    \n    start: case -> \b
    never-joined @ case:
    nothing-to-join-to @ step: Stand it on its legs
    not-there-yet @ front right leg: {top
    not-there-yet @ back right leg: {top
    not-there-yet @ lid: {leans

treated before it is cut
    mark: shelf line, post line, bay mark -> mark: shelf line, post line, bay mark\n    treat:\n      - sand: drawer front
    treated-too-early @ - sand: drawer front

treated before it is built
    start: drawer front\n    treat:\n -> start: drawer front\n    treat:\n      - sand: drawer\n        with: sanding block\n
    treated-too-early @ - sand: drawer

cut twice
    cut: drawer front, drawer side -> cut: drawer front, drawer side, drawer front
    cut-twice @ cut: drawer front

answer without a difference
    painted: Two -> waxed:\n      painted: Two
    answer-unused @ waxed:
"""


def rows() -> list[tuple[str, list[tuple[str, str]], list[tuple[str, str]]]]:
    """Name, the changes, and pairs of code and the text in whose line it is found."""
    found = []
    for block in FAULTS.strip().split("\n\n"):
        name, *lines = (line.strip() for line in block.splitlines())
        changes = [tuple(map(_plain, line.split(" -> ", 1))) for line in lines if " -> " in line]
        told = [tuple(map(_plain, line.split(" @ ", 1))) for line in lines if " @ " in line]
        found.append((name, changes, told))
    return found  # type: ignore[return-value]


def _plain(text: str) -> str:
    return text.replace("\\n", "\n").replace("\\b", "")


def seeded(changes: list[tuple[str, str]]) -> str:
    text = DESK
    for old, new in changes:
        assert text.count(old) == 1, f"“{old}” should stand in the desk once"
        text = text.replace(old, new)
    return text


def problems_of(text: str) -> list[Problem]:
    """What is wrong, but for where pieces then clash or gape, which has tests of its own."""
    found = check(read_text(text, "keepers-desk.yaml", DESIGNS), places=False)
    return [each for each in found if each.kind.__module__.rpartition(".")[2] in FAMILIES]


@pytest.mark.parametrize(("name", "changes", "wanted"), rows(), ids=lambda each: each)
def test_a_seeded_fault_is_found_at_its_line_and_alone(
    name: str, changes: list[tuple[str, str]], wanted: list[tuple[str, str]]
) -> None:
    text = seeded(changes)
    lines = text.splitlines()
    found = [(each.code, lines[each.span.line - 1].strip()) for each in problems_of(text)]
    assert [code for code, _ in found] == [code for code, _ in wanted]
    for (_, line), (_, words) in zip(found, wanted, strict=True):
        assert words in line


def test_many_faults_are_found_in_one_pass() -> None:
    """One of each, as long as their changes do not touch the same words."""
    text, wanted = DESK, []
    for name, changes, told in rows():
        if name in TOGETHER:
            for old, new in changes:
                assert text.count(old) == 1
                text = text.replace(old, new)
            wanted += [code for code, _ in told]
    assert len(wanted) >= 20
    assert sorted(each.code for each in problems_of(text)) == sorted(wanted)


@pytest.mark.parametrize("path", SOUND, ids=lambda path: path.stem)
def test_a_sound_design_has_no_problem_at_all(path: Path) -> None:
    reading = read_design(path)
    assert reading.sound
    assert check(reading) == ()
