"""A small booklet, filled in by hand: a wall cupboard for a lighthouse keeper's kitchen.

In: nothing.  Out: `sample()`, a `Content` that uses every field, for tests and for looking at
pages.  The figures are made up; they need not agree with each other.
"""

from __future__ import annotations

from markupsafe import Markup

from patternpress.booklet import content as c
from patternpress.booklet import contentcards as cc
from patternpress.booklet import contentlabels as cb
from patternpress.booklet import contentlayouts as cl
from patternpress.booklet import contentneeds as cn

LINE = 'fill="none" stroke="#000"'


def fraction(whole: str, top: int, bottom: int) -> Markup:
    """Return a length in inches as the pages carry it, with a stacked fraction."""
    lead = f"{whole} " if whole else ""
    return Markup(
        f'<span class="fig">{lead}<span class="stack">{top}⁄{bottom}</span>&nbsp;in</span>'
    )


def drawing(title: str, width: float, height: float, *marks: str) -> Markup:
    """Return an <svg> in millimetres."""
    return Markup(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm"'
        f' viewBox="0 0 {width} {height}"><title>{title}</title>{"".join(marks)}</svg>'
    )


def box(x: float, y: float, w: float, h: float, depth: float, line: float = 0.35) -> str:
    """Return the marks of a box seen from the front, above and right."""
    d = depth
    return (
        f'<path {LINE} stroke-width="{line}" stroke-linejoin="round" d="M{x} {y} L{x + w} {y}'
        f" L{x + w} {y + h} L{x} {y + h} Z M{x} {y} L{x + d} {y - d * 0.6}"
        f" L{x + w + d} {y - d * 0.6} L{x + w + d} {y + h - d * 0.6} L{x + w} {y + h}"
        f' M{x + w} {y} L{x + w + d} {y - d * 0.6}"/>'
    )


def cupboard(size: float, title: str = "The cupboard from the front, door ajar") -> Markup:
    """Return a picture of the cupboard, `size` mm wide."""
    s = size / 100
    return drawing(
        title,
        size,
        size * 0.95,
        box(12 * s, 22 * s, 60 * s, 68 * s, 22 * s, 0.5),
        f'<path {LINE} stroke-width="0.35" d="M{16 * s} {26 * s} H{68 * s} V{86 * s} H{16 * s} Z'
        f" M{21 * s} {31 * s} H{63 * s} V{81 * s} H{21 * s} Z M{37 * s} {31 * s} V{81 * s}"
        f' M{47 * s} {31 * s} V{81 * s} M{60 * s} {55 * s} h{1.4 * s} v{3 * s} h{-1.4 * s} Z"/>',
    )


def bar(length: float, upright: bool = False) -> Markup:
    """Return a bar with a tick every 10 mm."""
    w, h = (8.0, length + 0.5) if upright else (length + 0.5, 8.0)
    marks = [f"M0.25 1 V7 M{length + 0.25} 1 V7 M0.25 4 H{length + 0.25}"]
    marks += [f"M{x + 0.25} 2.5 V4" for x in range(10, int(length), 10)]
    path = " ".join(marks)
    turned = ' transform="matrix(0 1 1 0 0 0)"' if upright else ""
    path = f'<path {LINE} stroke-width="0.35"{turned} d="{path}"/>'
    return drawing(f"A bar of {length:g} mm", w, h, path)


def template(letters: str) -> Markup:
    """Return a page of made-up templates."""
    marks = []
    for number, letter in enumerate(letters):
        x, y = 8 + (number % 2) * 92, 14 + (number // 2) * 70
        marks.append(
            f'<path {LINE} stroke-width="0.35" d="M{x} {y} h80 v50 h-80 Z"/>'
            f'<path {LINE} stroke-width="0.25" d="M{x + 20} {y + 42} h40 m-3 -1.2 l3 1.2 l-3 1.2'
            f' M{x + 23} {y + 40.8} l-3 1.2 l3 1.2"/>'
            f'<text x="{x + 40}" y="{y + 26}" font-size="6" text-anchor="middle"'
            f' font-family="Source Sans Pro">{letter}</text>'
        )
    return drawing(f"Templates for {letters} at full size", 190, 240, *marks)


DUST = c.Caution(
    c.Signal.WARNING,
    "Wood dust is breathed in when you sand.",
    "It can harm your lungs over the years, and some woods cause asthma.",
    "Sand outside or with extraction, and wear a mask that fits.",
)
KNIFE = c.Caution(
    c.Signal.CAUTION,
    "A knife slips off the edge of the rule.",
    "It cuts the hand that holds the work.",
    "Keep that hand behind the blade and take three light cuts.",
)
RAGS = c.Caution(
    c.Signal.WARNING,
    "Rags with linseed oil heat up by themselves.",
    "They can catch fire within hours.",
    "Spread them flat outdoors to dry, or keep them under water in a lidded metal can.",
)
GLUE = c.Caution(
    c.Signal.NOTICE,
    "Glue on a face that shows keeps the finish out.",
    "It dries as a pale patch.",
    "Wipe it off with a damp brush before it skins.",
)

COVER = c.Cover(
    title="Keeper’s wall cupboard",
    subtitle="A glazed kitchen cupboard for a shore station",
    series="Lighthouse quay, no. 4",
    words="One door, two shelves and a cornice. It hangs on a cleat, as the full-size one did.",
    level="Some practice needed",
    scale="1:12, one inch to the foot",
    finished_size="64 × 24 × 72 mm",
    edition="Metric · A4",
    version="1.2",
    date="3 May 2025",
    author="Quayside Pattern Room",
    picture=cupboard(104),
)
MAKING = c.Making(
    prose=(
        "The cupboard is built as a plain box, glued up round its shelves so that everything "
        "comes square by itself. The back goes in last and locks the box.",
        "The door is the only part that must be fitted. You measure the opening, take away the "
        "clearance and cut the door to what is left.",
    ),
    figures=(
        c.Figure(cupboard(52, "Front"), "Front"),
        c.Figure(cupboard(38, "Side"), "Side"),
        c.Figure(cupboard(52, "Inside"), "Door left off"),
    ),
    facts=(
        c.Fact("Finished size", "64 mm wide, 24 mm deep, 72 mm high"),
        c.Fact("At full scale", "768 mm wide, 288 mm deep, 864 mm high"),
        c.Fact("Time", "About 5 hours at the bench, and one night of waiting"),
        c.Fact("Level", "Some practice needed: one fitted door, two hinges"),
    ),
)
PRINTING = c.Printing(
    papers="A4 or Letter",
    bars=(
        c.Bar("100 mm", bar(100)),
        c.Bar(Markup("4&nbsp;in (101.6 mm)"), bar(101.6)),
        c.Bar("100 mm", bar(100, upright=True), upright=True),
    ),
    notes=("Paper swells across its grain in damp weather; print on the day that you cut.",),
)
CAUTIONS = (
    c.CautionGroup("Cutting and sanding", (DUST, KNIFE)),
    c.CautionGroup("Glue and finish", (RAGS, GLUE)),
)
NEEDS = cn.Needs(
    tools=(
        cn.Tool("Steel rule", "150 mm, etched both ways"),
        cn.Tool("Craft knife", "with new blades"),
        cn.Tool("Razor saw", "0.3 mm kerf"),
        cn.Tool("Small try square"),
        cn.Tool("Sanding block", "120 and 240 grit"),
        cn.Tool("Pin vice"),
        cn.Tool("Four small clamps", "or rubber bands and two blocks"),
    ),
    materials=(
        cn.MaterialGroup(
            "Wood",
            (
                cn.Material(
                    "Basswood sheet",
                    "2 sheets",
                    "2 × 75 × 300 mm",
                    "A, B, C, D",
                    "Choose straight grain; lay out the sides from one sheet.",
                    (Markup(f"{fraction('', 5, 64)} sheet"), "limewood"),
                ),
                cn.Material("Basswood strip", "1 length", "3 × 5 × 600 mm", "E to H"),
                cn.Material("Clear acetate", "1 piece", "0.5 × 60 × 80 mm", "J"),
            ),
        ),
        cn.MaterialGroup(
            "Fittings and glue",
            (
                cn.Material("Butt hinge", "2", "6 × 4 mm", "", "Brass, with pins to suit."),
                cn.Material("White glue", "a little", "", "", "Any that dries clear."),
            ),
        ),
    ),
    bits=(
        cn.Bit("0.7 mm", "hinge pins in A and H", "No. 70"),
        cn.Bit("1.5 mm", "the knob in H", Markup(f"{fraction('', 1, 16)}, No. 53")),
    ),
)
CUTTING = (
    c.CutGroup(
        "2 mm basswood sheet",
        (
            c.CutRow("A", "Side", 2, "70", "22", "2", "Along the length", "Mirrored pair"),
            c.CutRow("B", "Top and bottom", 2, "60", "22", "2", "Along the length"),
            c.CutRow("C", "Shelf", 2, "60", "19.5", "2", "Along the length"),
            c.CutRow("D", "Back", 1, "70", "60", "2", "Up and down", "Cut after measuring, step 4"),
        ),
        "Saw with a 0.3 mm kerf. Leave D until the carcass is dry.",
    ),
    c.CutGroup(
        "3 × 5 mm basswood strip",
        (
            c.CutRow("E", "Cornice, front", 1, "68", "5", "3"),
            c.CutRow("F", "Cornice, side", 2, fraction("1", 3, 8), "5", "3"),
            c.CutRow("G", "Door stile", 2, "66", "5", "3", "Along the length"),
            c.CutRow("H", "Door rail", 2, "49", "5", "3", "", "Cut after measuring, step 5"),
            c.CutRow("K", "Shelf pin", 120, "4", "", "1"),
        ),
    ),
)
LAYOUTS = (
    cl.LaidStock(
        "2 mm basswood sheet",
        ("To buy: 2 of 100 × 600 mm.", "Counted in: 0.3 mm for each cut."),
        (
            cl.LaidBoard(
                "2 × 100 × 600 mm",
                drawing("Layout of the sheet", 130, 34, box(1, 2, 128, 30, 0)),
                ("Rip at 70 mm", "Crosscut at 22 mm, 2 times: 2 × A"),
                ("Kept aside and cut after measuring: D (broken outline).",),
            ),
        ),
    ),
)
LABELS = (
    cb.Label("A", "left side", "1 of 2", "70 × 22 × 2 mm", "2 mm basswood sheet"),
    cb.Label("A", "right side", "2 of 2", "70 × 22 × 2 mm", "2 mm basswood sheet"),
    cb.Label("D", "back", stock="2 mm basswood sheet", note="cut after measuring the back"),
)
TEMPLATES = (
    c.TemplatePage("Carcass", template("ABCD"), "A, B, C and D"),
    c.TemplatePage("Door and cornice", template("EFGH"), "E to H"),
)
DOOR_CARD = cc.MeasureCard(
    "The door",
    (
        cc.MeasureRow(
            "Opening, width",
            "60 mm",
            (cc.MeasureResult("Door width", "0.6 mm", "59.4 mm"),),
            "half-way up",
        ),
        cc.MeasureRow(
            "Opening, height",
            "66 mm",
            (cc.MeasureResult("Door height", "0.8 mm", "65.2 mm"),),
            "on the left",
        ),
    ),
    "Measure inside the carcass, from face to face.",
    drawing("Where to measure the opening", 60, 36, box(4, 4, 52, 28, 0)),
    "G and H",
)
STEPS = (
    c.StepGroup(
        "The carcass",
        (
            c.Step(
                "1",
                "Mark the shelves on the sides",
                (
                    "Lay both A side by side with their front edges together.",
                    "Draw the two shelf lines across both at once.",
                    "Mark the inside face of each with its letter.",
                ),
                (c.Brought("A", "side", "70 × 22 × 2 mm", 2),),
                (c.Figure(cupboard(60, "The sides together"), "Lay the sides together"),),
                tips=("A 0.3 mm pencil line sands off; a pen line does not.",),
            ),
            c.Step(
                "2",
                "Glue the shelves between the sides",
                (
                    "Spread glue on both ends of each C.",
                    "Set each C on the line with its back edge flush with the back of A.",
                    "Close the second A against the shelves.",
                    "Check each corner with the square before the glue grabs.",
                ),
                (
                    c.Brought("A", "side", "70 × 22 × 2 mm", 2),
                    c.Brought("B", "top and bottom", "60 × 22 × 2 mm", 2),
                    c.Brought("C", "shelf", "60 × 19.5 × 2 mm", 2),
                ),
                (
                    c.Figure(cupboard(62, "Shelves move in between the sides"), "Bring together"),
                    c.Figure(cupboard(62, "The glued box"), "Glued"),
                ),
                (GLUE,),
                hold="Two rubber bands, one at each shelf, over scraps at the corners.",
                wait="30 minutes before you take the bands off.",
                meanwhile="Cut E and F.",
                checks=(
                    c.Check(
                        "Lay the box on a flat board. Does it rock?",
                        (
                            c.Outcome("No", "go on."),
                            c.Outcome("A little", "rub the high corner on 240 grit."),
                            c.Outcome("A lot", "soak the joint, take it apart and glue again."),
                        ),
                    ),
                ),
                makes="The carcass, without its back.",
            ),
        ),
        "Everything is glued on a flat board covered with greaseproof paper.",
    ),
    c.StepGroup(
        "The door",
        (
            c.Step(
                "3",
                "Measure the opening and cut the door pieces",
                ("Fill in the card.", "Cut G and H to the figures that you have written."),
                (c.Brought("G", "door stile", "66 × 5 × 3 mm", 2),),
                cautions=(KNIFE,),
                measure=(DOOR_CARD,),
                checks=(c.Check("Hold a stile in the opening. A strip of paper slips past it."),),
            ),
            c.Step(
                "4",
                "Hang the door",
                (
                    "Pin the hinges to the door with the knuckles outside.",
                    "Stand the door in the opening on two strips of card.",
                    "Pin the other leaves to A.",
                ),
                (c.Brought("L", "butt hinge", "", 2),),
                (c.Figure(cupboard(90, "Door and hinges"), "Hinges on the left"),),
                makes="The cupboard, ready for its finish.",
            ),
        ),
    ),
)
PLAN = c.Plan(
    words=("One pair of hands, one sitting a day.",),
    figures=(c.Figure(drawing("Two sittings as bars", 170, 40, box(50, 4, 60, 20, 0))),),
    finish="On day 2, in sittings of at most 2 h",
    chain="Steps 1 to 4 need each other: 3 h at the bench and 30 min of drying.",
    sittings=(
        c.SittingRow("Sitting 1", "Steps 1 and 2. 2 h at the bench.", "", "Cut E and F."),
        c.SittingRow("Sitting 2", "Steps 3 and 4. 1 h at the bench.", "Then wait."),
    ),
)
FINISHING = c.Finishing(
    ("Take the door off before you finish it. Keep finish out of the hinges.",),
    (
        c.Choice(
            "Milk paint, rubbed",
            "A sound coat, worn at the edges as a kitchen would wear it.",
            ("milk paint in two colours", "a soft brush", "240 grit"),
            ("Brush on one thin coat.", "Rub the edges when it is dry."),
            wait="2 hours between coats.",
        ),
        c.Choice(
            "Oil",
            "",
            ("boiled linseed oil", "lint-free rag"),
            ("Wipe on a thin coat.", "Wipe off what has not soaked in after 10 minutes."),
            (RAGS,),
            "Overnight.",
        ),
    ),
)
IMPRINT = c.Imprint(
    author="Quayside Pattern Room",
    version="1.2",
    date="3 May 2025",
    contact=("3 Slipway Row, Harbourtown", "patterns@example.org"),
    licence=(
        "Make as many cupboards as you like, for yourself or to sell. "
        "Please do not pass on the pattern itself.",
    ),
    statements=(
        "This is a scale model for adult collectors aged 14 and over. It is not a toy.",
        "It has small parts that a child could swallow.",
    ),
    changes=(
        c.Change("1.2", "3 May 2025", "The door is cut after measuring. Step 5 has a new card."),
        c.Change("1.1", "9 March 2025", "Letter edition added."),
    ),
    design="LQ-004 Keeper’s wall cupboard",
)


def sample() -> c.Content:
    """Return the whole booklet."""
    return c.Content(
        cover=COVER,
        imprint=IMPRINT,
        making=MAKING,
        printing=PRINTING,
        cautions=CAUTIONS,
        needs=NEEDS,
        cutting=CUTTING,
        layouts=LAYOUTS,
        labels=LABELS,
        templates=TEMPLATES,
        plan=PLAN,
        steps=STEPS,
        finishing=FINISHING,
    )
