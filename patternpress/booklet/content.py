"""What the pages of one edition print.

In: nothing; these are records.  Out: `Content`, filled by the rooms before this one and read by
the templates of a theme.  Every string is already worded and formatted for one edition: its
language, its units, its scale.  `Text` may be plain or hold markup; markup is always a
`markupsafe.Markup`, and anything else is escaped on the page.  Pictures are `Markup` too: one
whole `<svg>` element with `width` and `height` in mm and a `<title>` that says what it shows.
Anything left empty is left off the page.
"""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

from markupsafe import Markup

from patternpress.booklet.contentcards import MeasureCard, Reference
from patternpress.booklet.contentlabels import Label
from patternpress.booklet.contentlayouts import LaidStock
from patternpress.booklet.contentneeds import Needs

Text: TypeAlias = str  # markupsafe.Markup is a str: the name says that markup is welcome
Picture: TypeAlias = Markup
NO_PICTURE = Markup()


class Signal(enum.Enum):
    """How bad an ignored caution may end (ISO 3864-2); a craft booklet has no worse word."""

    WARNING = "warning"  # could kill or injure seriously
    CAUTION = "caution"  # could injure slightly
    NOTICE = "notice"  # spoils work or tools; printed without a triangle


@dataclass(frozen=True)
class Figure:
    """A picture and the line under it.

    In the theme "quay": those of at most 64 mm stand beside a step's words, or side by side above
    them; the widest is 137 mm.  One without letters may be printed smaller, or
    left out with its caption.  `letters`: of the pieces whose faces it shows, if it does.
    """

    picture: Picture
    caption: Text = ""
    letters: tuple[str, ...] = ()


@dataclass(frozen=True)
class Fact:
    """One line of a short list: what, and how much ("Finished size", "64 × 40 mm")."""

    label: Text
    value: Text


@dataclass(frozen=True)
class Caution:
    """One safety message: what can happen, what follows, how to avoid it; a sentence each.

    `kind` is one word for what hurts: a caution in front and the same at a step have it in common.
    """

    signal: Signal
    hazard: Text
    consequence: Text
    avoidance: Text
    see: tuple[Reference, ...] = ()
    kind: str = ""


@dataclass(frozen=True)
class CautionGroup:
    """Safety messages that belong together ("Cutting and drilling")."""

    heading: Text
    cautions: tuple[Caution, ...]


@dataclass(frozen=True)
class Cover:
    """The first page.  `words`: one or two sentences; `scale`: "1:12, one inch to the foot"."""

    title: str
    author: Text
    version: str
    date: Text
    subtitle: Text = ""
    series: Text = ""
    words: Text = ""
    level: Text = ""
    scale: Text = ""
    finished_size: Text = ""
    edition: Text = ""  # "Metric · A4"
    picture: Picture = NO_PICTURE


@dataclass(frozen=True)
class Making:
    """What you will make: paragraphs, facts, and views of the finished piece."""

    prose: tuple[Text, ...] = ()
    facts: tuple[Fact, ...] = ()
    figures: tuple[Figure, ...] = ()


@dataclass(frozen=True)
class Bar:
    """A bar printed true for the buyer's rule; `length` is what it must measure.

    Bars are at most 105 mm long, and at most two of them upright.
    """

    length: Text
    picture: Picture
    upright: bool = False


@dataclass(frozen=True)
class Printing:
    """Before you print: bars to measure, papers that fit ("A4 and Letter"), words of our own."""

    papers: Text = ""
    bars: tuple[Bar, ...] = ()
    notes: tuple[Text, ...] = ()


@dataclass(frozen=True)
class CutRow:
    """One part to cut.  A size that does not apply (a rod's width) is empty.

    `grain`: "along the length"; `note`: "cut after measuring, step 9".
    """

    letter: str
    name: Text
    quantity: int
    length: Text
    width: Text = ""
    thickness: Text = ""
    grain: Text = ""
    note: Text = ""
    see: tuple[Reference, ...] = ()


@dataclass(frozen=True)
class CutGroup:
    """All parts of one stock."""

    stock: Text
    rows: tuple[CutRow, ...]
    note: Text = ""


@dataclass(frozen=True)
class TemplatePage:
    """One page of 1:1 templates.

    `picture` is drawn true, at most 190 × 240 mm; `letters`: "A, B and D".
    """

    heading: Text
    picture: Picture
    letters: Text = ""


@dataclass(frozen=True)
class SittingRow:
    """One sitting of the bench plan: its steps, what must dry after it, what to do meanwhile."""

    name: Text
    works: Text
    pause: Text = ""
    meanwhile: Text = ""


@dataclass(frozen=True)
class Plan:
    """The bench plan.  `figures` are bar charts over time, at most 176 mm wide.

    `finish`: when all can be done; `chain`: the longest run of steps that need each other.
    """

    words: tuple[Text, ...] = ()
    figures: tuple[Figure, ...] = ()
    finish: Text = ""
    chain: Text = ""
    sittings: tuple[SittingRow, ...] = ()


@dataclass(frozen=True)
class Brought:
    """Pieces that come to the bench in a step ("B", "shelf", "2", "60 × 22 × 3 mm")."""

    letter: str
    name: Text
    size: Text = ""
    quantity: int = 1


@dataclass(frozen=True)
class Outcome:
    """What may be found, and what to do then ("It rocks", "Rub the high corner …")."""

    found: Text
    remedy: Text


@dataclass(frozen=True)
class Check:
    """A question at the end of a step and its outcomes."""

    question: Text
    outcomes: tuple[Outcome, ...] = ()


@dataclass(frozen=True)
class Term:
    """A word of the trade and what it means here ("Flush", "level with its neighbour")."""

    word: Text
    meaning: Text


@dataclass(frozen=True)
class Step:
    """One step, in the order of the bench: `whole`, what holds for all of it (for which answer, how
    often); `tips`, `actions` (one sentence each), `hold`, `checks`, `wait`, `meanwhile`; then
    `after`, what needs the joint dry, its own wait, `later_checks`.
    """

    number: str
    title: Text
    actions: tuple[Text, ...]
    brought: tuple[Brought, ...] = ()
    figures: tuple[Figure, ...] = ()
    cautions: tuple[Caution, ...] = ()
    measure: tuple[MeasureCard, ...] = ()
    hold: Text = ""
    wait: Text = ""
    meanwhile: Text = ""
    checks: tuple[Check, ...] = ()
    tips: tuple[Text, ...] = ()
    after: tuple[Text, ...] = ()
    after_wait: Text = ""
    later_checks: tuple[Check, ...] = ()
    makes: Text = ""  # "the carcass", if the step finishes a sub-assembly
    uses: Text = ""  # tools and materials: "Pencil, small square."
    terms: tuple[Term, ...] = ()  # words that are first used here
    see: tuple[Reference, ...] = ()
    whole: tuple[Text, ...] = ()


@dataclass(frozen=True)
class StepGroup:
    """The steps of one sub-assembly or stage, under one heading; `words` stand above it."""

    heading: Text
    steps: tuple[Step, ...]
    words: Text = ""


@dataclass(frozen=True)
class Choice:
    """One finish or variant: what it is and needs; `ask`: the question before its first."""

    name: Text
    words: Text = ""
    needs: tuple[Text, ...] = ()
    actions: tuple[Text, ...] = ()
    cautions: tuple[Caution, ...] = ()
    wait: Text = ""
    picture: Picture = NO_PICTURE
    ask: Text = ""


@dataclass(frozen=True)
class Finishing:
    """The choices that are the buyer's, told before anything is bought."""

    words: tuple[Text, ...] = ()
    choices: tuple[Choice, ...] = ()


@dataclass(frozen=True)
class Change:
    """What is new in one version."""

    version: str
    date: Text
    words: Text


@dataclass(frozen=True)
class Imprint:
    """The last page: who made the pattern, on what terms, what changed.

    `contact`: lines of an address; `statements`: small parts, not a toy, whatever else must be
    said; `design`: the identifier that the maker sells it under.
    """

    author: Text
    version: str
    date: Text
    contact: tuple[Text, ...] = ()
    licence: tuple[Text, ...] = ()
    statements: tuple[Text, ...] = ()
    changes: tuple[Change, ...] = ()
    design: Text = ""


@dataclass(frozen=True)
class Content:
    """A whole booklet.  `language`: a tag such as "en"; `apart`: every piece with its letter;
    `cutting_cautions`: what can hurt while parts are cut out; `cutting_terms`, `layout_terms`:
    words that are first used there, as `terms` of a step.
    """

    cover: Cover
    imprint: Imprint
    making: Making = Making()
    printing: Printing = Printing()
    cautions: tuple[CautionGroup, ...] = ()
    needs: Needs = field(default_factory=Needs)
    apart: tuple[Figure, ...] = ()
    cutting_cautions: tuple[Caution, ...] = ()
    cutting: tuple[CutGroup, ...] = ()
    cutting_terms: tuple[Term, ...] = ()
    layouts: tuple[LaidStock, ...] = ()
    layout_terms: tuple[Term, ...] = ()
    labels: tuple[Label, ...] = ()
    templates: tuple[TemplatePage, ...] = ()
    plan: Plan = Plan()
    steps: tuple[StepGroup, ...] = ()
    finishing: Finishing = Finishing()
    language: str = "en"
    photographs: Mapping[str, bytes] = field(default_factory=dict)  # by the address in pictures

    @property
    def every_step(self) -> tuple[Step, ...]:
        """The steps of all groups, in order."""
        return tuple(step for group in self.steps for step in group.steps)
