"""Problems of placing: where a piece goes, said too little, too much or impossibly."""

from patternpress.design.problem import Kind, Level


class TooLittleSaid(Kind):
    """A joined piece can still slide.

    At the bench: the buyer has to guess where it goes, and guesses wrong.

    To mend: say where one of the named sides goes.
    """

    what = "“{piece}” can still slide {ways}"
    mend = "Say where its {sides} goes, such as “{example}”."


class SaidTwoWays(Kind):
    """Two places of a joined piece do not agree.

    At the bench: one of the two joints stays open, or the piece has to be forced.

    To mend: check the sizes of both pieces; or take out the place that follows from the other.
    """

    what = "in step {step} “{piece}” cannot be {place} as well as {other}: they differ by {by}"


class FacesNotFlat(Kind):
    """Two faces are joined that do not lie flat on each other.

    At the bench: they meet in a line, and glue holds nothing there.

    To mend: cut the end at the same angle, or name the face that it lies on.
    """

    what = (
        "in step {step} the {side} of “{piece}” does not lie flat against “{other}”: "
        "they differ by {angle}"
    )


class WrongDirection(Kind):
    """A side is placed by something that lies in another direction.

    At the bench: a left side cannot be so far from a top.

    To mend: use a side of the other piece that looks the same way or the opposite way.
    """

    what = "the {side} of “{piece}” cannot be placed by {other}, which lies in another direction"


class FeatureNotThere(Kind):
    """A piece is told by a feature that it does not have, or has more than once.

    At the bench: the buyer looks for an edge that is not there.

    To mend: name the side instead.
    """

    what = "“{piece}” has {count} that could be its {feature} edge"


class OverallDiffers(Kind):
    """The finished size that is said is not the one that the joins give; a thing that is bought
    counts only where its part says how wide, deep and high it is.

    At the bench: the buyer leaves the wrong room for the piece.

    To mend: leave `overall` out, and it is worked out; or check the sizes and joins.
    """

    what = "the finished size is said to be {said}; the joins make it {found} {axis}"


class OpeningDiffers(Kind):
    """An opening is planned with another size than the pieces around it leave.

    At the bench: the stock for the fitted parts is bought too small, or much too large.

    To mend: check the opening's figure, or the sizes and joins of the pieces around it.
    """

    what = "{opening} is said to be {said} {axis}; the pieces around it leave {found}"


class MarkBeside(Kind):
    """A mark that follows from a join lies beside the piece that is to bear it.

    At the bench: there is nothing to draw it on.

    To mend: name the piece that the other one really meets.
    """

    what = "“{mark}” would lie {by} outside “{piece}”"


class MarkDiffers(Kind):
    """A mark that follows from a join lies elsewhere on each of two pieces of one part.

    At the bench: one of the two is marked from a template with the other's line.

    To mend: give each piece a mark of its own; or make each a part of its own.
    """

    what = "“{mark}” lies {here} of “{piece}”, and {there} of “{other}”"


class BesideItsMark(Kind):
    """A mark that is given as a figure lies beside the piece that it is for: one that is joined at
    it, or whose name its own name begins with (the shelf, of a `shelf line`); or nothing lies on a
    line, and an edge runs less than 2 mm beside it.  What lies within 0.25 mm is on it, with an
    edge or with its middle.

    At the bench: the piece is set on the line, and nothing after it fits.

    To mend: let the line follow from the joins, or join the piece on the mark, so that one figure
    stands for both; or correct the figure that is wrong.  A line that is for something else wants
    a name of its own.
    """

    level = Level.WARNING
    what = "on “{other}” the mark “{mark}” lies {by} from the {side} of “{piece}”"
    mend = "Say `line: along {side} of {piece}`, join it on the mark, or correct the figure."


class NotInHole(Kind):
    """A piece goes into a hole from a side that the hole does not open to.

    At the bench: the pin stands across its hole.

    To mend: put the side that goes in before the colon. A hole in an end runs along its piece, also
    where that end is cut level or upright: what goes into it leans as the piece does.
    """

    what = "the {side} of “{piece}” cannot go into the {hole} of “{other}”: {why}"


class HoldsAtLabelOnly(Kind):
    """Two places agree only while the board is exactly as thick as its label says.

    At the bench: boards come a tenth of a millimetre thicker or thinner, and the joint then
    stays open or has to be forced.

    To mend: work the size out from `thickness of` the board, not from a figure.
    """

    level = Level.WARNING
    what = (
        "with a thinner or thicker board “{piece}” cannot be {place} as well as {other}: "
        "they differ by {by}"
    )


class UnequalOverhang(Kind):
    """A piece hangs over by different amounts on its left and right, or at its front and back.

    At the bench: the eye sees a difference of half a millimetre at once.

    To mend: centre it, or let one side be flush; if it is meant, say in its join where both sides
    go, such as `front: 3 mm beyond base` and `back: 1 mm beyond base`.
    """

    level = Level.WARNING
    what = "“{piece}” hangs over by {one} at the {low} and {other} at the {high}"


class TooManyPieces(Kind):
    """A step joins more different pieces than two hands can hold while the glue is wet.

    At the bench: the first piece moves while the last is fetched.

    To mend: divide the step, or let some of the pieces set first.
    """

    level = Level.WARNING
    what = "step {step} joins {count} pieces at once"


class DyedWhereGlued(Kind):
    """A face is dyed or painted before glue must hold on it.

    At the bench: glue does not hold on paint or oil, and poorly on dye.

    To mend: finish it after gluing, leave that face bare, or smear glue there first on purpose; say
    `loose against` where no glue is meant.
    """

    level = Level.WARNING
    what = "“{piece}” is finished in step {step}, and its {side} is glued in step {later}"


class HangsFarOver(Kind):
    """A board that lies flat stands out far past the board on edge that it is joined to.

    At the bench: a size is wrong, or the shelf breaks off where somebody leans on its end.

    To mend: check its size; carry its end; or, if it is meant, say in the join how far it stands
    out, such as `left: 20 mm beyond back`.
    """

    level = Level.WARNING
    what = (
        "“{piece}” of step {step} stands out {by} to the {side}, a quarter of its own size or "
        "more, past all that carries it"
    )


class TooThickForHole(Kind):
    """A piece is thicker than the hole or groove that it goes into.

    At the bench: it does not go in, and forcing it splits thin stock.

    To mend: make the hole or groove wider, by the usual clearance, or the piece thinner. A pin
    that is turned or whittled on the end of a rod is a thinner rod of its own: it goes into a hole
    in either.
    """

    what = "in step {step} “{piece}” is {size} thick; the {hole} of “{other}” is {room} wide"


class BesideItsHole(Kind):
    """A piece is said to sit or to turn in a hole, and does not reach into it.

    At the bench: the peg meets solid wood; the door has no pin to hang on, or it hangs askew.

    To mend: give the hole and the piece the same distances, and a row of pieces as many holes as it
    has, as far apart; name the hole that it really goes into, or make the piece longer.
    """

    what = "in step {step} “{piece}” is to {goes} the {hole} of “{other}”, and {where}"


class LeansTwice(Kind):
    """A piece leans by its part and leans again by its join.

    At the bench: it would lean by both angles together.

    To mend: say it once: in the part when every copy leans, in the join when only this one does.
    A mirrored piece leans the other way by itself.
    """

    what = "“{piece}” leans already, by what its part says"


class LeansApart(Kind):
    """Pieces that sit in one hole, or in one row of holes, do not lean alike.

    At the bench: a row is drilled at one angle, so some of the pieces stand askew or do not go in.

    To mend: let them lean alike, or give each its own hole.
    """

    what = "“{piece}” {lean} in the {hole} of “{other}”, and “{first}” {before} in it"


class LeansTooFar(Kind):
    """A round piece leans so far that nobody drills the hole for it.

    At the bench: the bit slides over the face, or tears the hole out to a slot.

    To mend: let it lean 45 degrees from the hole at most, or name the side that goes in.
    """

    what = "“{piece}” leans {angle} from the {hole} of “{other}”; {most} can be drilled at most"
