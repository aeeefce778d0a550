"""Problems of figures: units, sums, kinds and what they come to."""

from patternpress.design.kinds.form import BadName
from patternpress.design.kinds.naming import LanguageUnknown
from patternpress.design.problem import Kind


class BadNumber(Kind):
    """A number is not written in a way that is certain.

    At the bench: 1.000 is one to some readers and a thousand to others.

    To mend: write a number like `14`, `14.5`, `35/64` or `1 3/8`, and its unit.
    """

    what = "“{text}” is no number"


class DecimalComma(Kind):
    """A number is written with a decimal comma.

    At the bench: a comma also divides lists, so the figure could be read as two.

    To mend: use a decimal point in the design file; German and French editions print a comma.
    """

    what = "“{text}” has a decimal comma"
    mend = "Write {readings}. German and French editions print a comma all the same."


class TwoReadings(Kind):
    """A number or a division can be read in two ways.

    At the bench: 1-3/8 is one and three eighths to some makers, and five eighths to others.

    To mend: write it the way that you mean.
    """

    what = "“{text}” can be read in two ways"
    mend = "Write {readings}, whichever you mean."


class StrangeSign(Kind):
    """A sum holds a sign that means nothing in sums.

    At the bench: the sum cannot be worked out.

    To mend: sums are made of figures, names, the signs + - * / and round brackets. The width of a
    part is asked for as `width of post`.
    """

    what = "“{character}” has no meaning in a sum"


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

    To mend: use mm, cm, m, in, ft, deg, min, h or days. Between a number and a name goes a `*`.
    """

    what = "“{unit}” is no unit that is known here"


class MixedKinds(Kind):
    """Figures of different kinds are added, compared or multiplied.

    At the bench: a length and an angle cannot be added; one of the names is the wrong one.

    To mend: check which name or figure has the other kind. A figure without a unit is a plain
    number.
    """

    what = "{left} and {right} cannot be {done}"


class WrongForFunction(Kind):
    """A function is given a figure of another kind than it takes.

    At the bench: the sine of a length, or the root of a weight, is nothing that can be cut.

    To mend: sin, cos and tan take an angle; asin, acos, atan and round take a plain number; sqrt
    takes a plain number or an area.
    """

    what = "“{function}” takes {wanted}, and is given {found}"


class UnknownFunction(Kind):
    """A name stands before a bracket and is no function.

    At the bench: the sum cannot be worked out.

    To mend: use sqrt, min, max, round, round up, round down, sin, cos, tan, asin, acos or atan.
    Between a name and a bracket goes a `*`.
    """

    what = "“{function}” is no function"


class UnknownProperty(Kind):
    """Something is asked of a part or stock that cannot be asked for.

    At the bench: the sum cannot be worked out.

    To mend: ask for the width, depth, height, length, thickness or diameter.
    """

    what = "“{property}” cannot be asked of a part"


class FigureMissing(Kind):
    """A sum has a gap: a figure or a name is missing.

    At the bench: the size cannot be worked out.

    To mend: write the figure or the name that belongs there.
    """

    what = "a figure or a name is missing {place}"


class SignMissing(Kind):
    """Two figures stand side by side with no sign between them.

    At the bench: 5 mm 3 could be added, multiplied, or a slip of the fingers.

    To mend: put + - * or / between them.
    """

    what = "“{found}” follows “{after}” with no sign between them"


class BracketMissing(Kind):
    """A bracket is missing in a sum.

    At the bench: the sum could be read in several ways.

    To mend: put in the bracket; a function has its figures in brackets, like `cos(slope)`.
    """

    what = "a bracket is missing {place}"


class OutOfPlace(Kind):
    """A word or a sign stands in a sum where it means nothing.

    At the bench: the sum could be read in several ways.

    To mend: `about`, `at most` and `at least` stand first in a figure, and `to` stands once,
    between the least and the most.
    """

    what = "“{found}” cannot stand here"


class WrongCount(Kind):
    """A function is given more figures than it takes.

    At the bench: all but one of them would be lost.

    To mend: give it one figure; only min and max take several.
    """

    what = "“{function}” takes {wanted} figure and is given {given}"


class NoValue(Kind):
    """A function has no value for the figure that it is given.

    At the bench: no board has such a size; two sizes of the sum do not go together.

    To mend: check the sizes inside the brackets.
    """

    what = "“{text}” has no value: {reason}"


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
    """A figure is beyond anything that can be built.

    At the bench: a nought too many, or a sum that multiplies where it should add.

    To mend: check the figures of the sum.
    """

    what = "“{text}” comes to more than can be reckoned with"


class SumTooLong(Kind):
    """A sum is too long, or has too many brackets inside each other.

    At the bench: nobody could check it.

    To mend: divide the sum into named sizes.
    """

    what = "this sum has more than {most} {counted}"


class UncertainFigure(Kind):
    """A figure lies so near the middle between two steps that its rounding is not certain.

    At the bench: the buyer would cut to a figure that is up or down by chance.

    To mend: give the size as a figure, round it in the sum, or show this edition to a finer step.
    """

    what = "“{text}” lies in the middle between two figures that could be printed{where}"


class StepNotDecimal(Kind):
    """Millimetres cannot be shown to a step that has no end as a decimal.

    At the bench: a third of a millimetre prints as 0.333…, and no rule shows that.

    To mend: use a step such as 0.1 mm, 0.5 mm or 0.25 mm.
    """

    what = "millimetres cannot be shown to steps of “{text}”"


class StepNotWhole(Kind):
    """A step of a size, a part or large figures is no multiple of the finest step.

    At the bench: figures in such steps could not be added to the others.

    To mend: use a multiple of 0.1 mm, or of 1/64 in, such as 0.5 mm, 1 mm or 1/16 in.
    """

    what = "“{text}” is no multiple of 0.1 mm, nor of 1/64 in"


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
    "bad-name": BadName,
    "bad-number": BadNumber,
    "bad-step": StepNotDecimal,
    "decimal-comma": DecimalComma,
    "divided-by-zero": DividedByZero,
    "misplaced-word": OutOfPlace,
    "missing-bracket": BracketMissing,
    "missing-operand": FigureMissing,
    "missing-operator": SignMissing,
    "mixed-kinds": MixedKinds,
    "negative-root": NoValue,
    "no-tangent": NoValue,
    "not-exact": BadNumber,
    "out-of-range": NoValue,
    "range-order": RangeOrder,
    "too-deep": SumTooLong,
    "too-large": TooLarge,
    "too-long": SumTooLong,
    "uncertain-rounding": UncertainFigure,
    "unclear-division": TwoReadings,
    "unexpected": OutOfPlace,
    "unknown-character": StrangeSign,
    "unknown-function": UnknownFunction,
    "unknown-locale": LanguageUnknown,
    "unknown-name": UnknownSize,
    "unknown-property": UnknownProperty,
    "unknown-unit": UnknownUnit,
    "wrong-count": WrongCount,
}
