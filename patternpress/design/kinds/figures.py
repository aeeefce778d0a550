"""Problems of figures: units, sums, kinds and what they come to."""

from patternpress.design.problem import Kind
from patternpress.measure.errors import MeasureError


class BadFigure(Kind):
    """A figure or sum cannot be read.

    At the bench: a size that the program guesses is a size that is cut wrong.

    To mend: write a number and a unit, like `14 mm`, `1 3/8 in` or `30 deg`, or a sum of names.
    """

    what = "“{text}” cannot be read as a figure"


class BadNumber(Kind):
    """A number is not written in a way that is certain.

    At the bench: 1.000 is one to some readers and a thousand to others.

    To mend: write `14`, `14.5`, `35/64` or `1 3/8`.
    """

    what = "“{text}” is no number"


class DecimalComma(Kind):
    """A number is written with a decimal comma.

    At the bench: a comma also divides lists, so the figure could be read as two.

    To mend: use a decimal point in the design file; German and French editions print a comma.
    """

    what = "“{text}” has a decimal comma"


class UnitMissing(Kind):
    """A length or an angle has no unit.

    At the bench: 2 is a thin board in millimetres and a beam in inches.

    To mend: add mm, cm, in or deg.
    """

    what = "“{text}” has no unit"
    mend = "Write {text} mm, {text} in or {text} deg."


class UnknownUnit(Kind):
    """A unit is not known.

    At the bench: the figure cannot be converted.

    To mend: use mm, cm, m, in, ft, deg, min, h or days.
    """

    what = "“{unit}” is no unit that is known here"


class MixedKinds(Kind):
    """Figures of different kinds are added, compared or multiplied.

    At the bench: a length and an angle cannot be added; one of the names is the wrong one.

    To mend: check which name or figure has the other kind.
    """

    what = "cannot {doing} a {left} and a {right}"


class WrongKind(Kind):
    """A figure comes to another kind than is needed here.

    At the bench: a board cannot be 30 degrees long.

    To mend: check the names in the sum; a size times a size is an area.
    """

    what = "“{text}” comes to {found}, and {wanted} is needed"


class UnknownSize(Kind):
    """A sum uses a name that is no size of this design.

    At the bench: the size cannot be worked out, nor anything that depends on it.

    To mend: add it under `sizes`, or correct the spelling; a minus between names needs a space
    on both sides.
    """

    what = "no size is called “{name}”"


class CircularSize(Kind):
    """Sizes are worked out from each other in a ring.

    At the bench: none of them can be known.

    To mend: give one of them as a figure.
    """

    what = "these sizes wait for each other: {ring}"


class NotPositive(Kind):
    """A size of a piece comes to nothing or less.

    At the bench: such a piece cannot be cut; a sum takes away more than there is.

    To mend: check the sum and the sizes it uses.
    """

    what = "“{text}” comes to {figure}"


class DividedByZero(Kind):
    """A sum divides by nothing.

    At the bench: the size cannot be worked out.

    To mend: check the size below the line.
    """

    what = "“{text}” divides by zero"


class TooLarge(Kind):
    """A figure is beyond anything that can be built, or a sum too long to read.

    At the bench: nobody could check it.

    To mend: divide the sum into named sizes.
    """

    what = "“{text}” is too large or too long"


class RangeOrder(Kind):
    """A range runs from the larger figure to the smaller.

    At the bench: least and most would be the wrong way round.

    To mend: write the smaller figure first.
    """

    what = "in “{text}” the first figure is not the smaller one"


class NotACount(Kind):
    """A number of things is not a whole number.

    At the bench: half a leg cannot be cut.

    To mend: write a whole number from 1 up.
    """

    what = "“{text}” is no number of things from 1 to {most}"


class NotSizes(Kind):
    """Sizes with a times sign between them are not written as such.

    At the bench: width and thickness could be taken for each other.

    To mend: put ` x ` between the sizes and the unit at the end.
    """

    what = "“{text}” is not written as sizes"
    mend = "Write it like {example}."


BY_CODE: dict[str, type[Kind]] = {
    "bad-number": BadNumber,
    "decimal-comma": DecimalComma,
    "unknown-unit": UnknownUnit,
    "mixed-kinds": MixedKinds,
    "unknown-name": UnknownSize,
    "divided-by-zero": DividedByZero,
    "too-long": TooLarge,
    "too-deep": TooLarge,
    "too-large": TooLarge,
    "range-order": RangeOrder,
}


def name_reason(error: MeasureError) -> str:
    """Why a text may not be a name, in a maker's words."""
    reasons = {
        "unit": "it would be read as a unit",
        "form": "names start with a letter and hold letters, figures, spaces and hyphens",
        "reserved-word": "the word “{word}” has a meaning in sums",
    }
    why = error.facts.get("why", "form")
    return reasons.get(why, reasons["form"]).format_map(
        {"word": error.facts.get("word", error.facts.get("text", ""))}
    )
