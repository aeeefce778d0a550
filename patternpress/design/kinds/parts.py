"""Problems of parts: sizes said too often or too seldom, shapes that cannot be cut."""

from patternpress.design.problem import Kind, Level


class SizeMissing(Kind):
    """A part has fewer sizes than its stock needs.

    At the bench: the buyer cannot cut it.

    To mend: a sheet needs two of wide, deep and high (its thickness is the third); a strip or
    rod needs one, its length.
    """

    what = "{part} is cut from a {form} and needs {wanted} of wide, deep and high; it has {found}"


class SizeTwice(Kind):
    """A part says a size that its stock fixes already.

    At the bench: the two could differ, and the board is as thick as it is.

    To mend: leave out the size that runs through the thickness.
    """

    what = "{part} says {found} sizes; its stock, a {form}, fixes {fixed} already"


class BroadSideMissing(Kind):
    """A strip is not square, and the part does not say how it stands.

    At the bench: a strip turned the wrong way is too deep and too narrow.

    To mend: say which side the broader face looks to.
    """

    what = "the strip of {part} is not square; nothing says which side its broad face looks to"
    mend = "Add “broad side: front” or another side that it looks to."


class BroadSideWrong(Kind):
    """The broad side of a strip looks along its length.

    At the bench: the broad face runs along the strip, so it cannot look to its ends.

    To mend: name one of the four sides along its length.
    """

    what = "{part} runs {axis}, so its broad side cannot look to {side}"


class HalfNotAlike(Kind):
    """Half a template is asked for, but the other half is not its mirror image.

    At the bench: turned over along the centre line, the half marks the other side wrongly.

    To mend: ask for the whole template, or make the two halves alike.
    """

    level = Level.WARNING
    what = "half a template of {part} does not tell the other half: {what} differs"
    mend = "Say “template: yes”. Until then the whole of it is drawn."


class ThinnerThanCanBeCut(Kind):
    """A part is narrower than can be cut cleanly.

    At the bench: a strip of board narrower than about a millimetre splits under the knife.

    To mend: make it wider, or cut it from strip wood that is sold in that size.
    """

    level = Level.WARNING
    what = "{part} is only {size} {axis}"


class LongerThanSold(Kind):
    """A part is longer or wider than the stock is sold.

    At the bench: the buyer cannot get it out of one piece.

    To mend: check the size, choose stock of the size that is named, or divide the part.
    """

    what = "{part} needs {size}; “{stock}” is sold {sold}"
    mend = "Check the size, choose stock of at least {least}, or divide the part."


class DefectOffBoard(Kind):
    """A defect reaches over the edge of the board that it is in.

    At the bench: it was measured from another side, and pieces may be cut right through it.

    To mend: measure its middle again, from the left or right end and from the bottom or top edge,
    the board lying with its length from left to right.
    """

    what = "a defect of {size} at {at} reaches over the edge of a board of {board}"
    mend = (
        "Measure its middle from the left or right end and from the bottom or top edge, with the "
        "board’s length from left to right."
    )


class GrooveTooDeep(Kind):
    """A groove or a hole with a depth goes through the board.

    At the bench: it would show on the other side, or cut the part in two.

    To mend: make it shallower, or a hole that goes through on purpose by leaving the depth out.
    """

    what = "a {thing} in {part} is {deep} deep, and the part is only {thick} thick there"


class GrooveAlong(Kind):
    """A groove says neither how far it is from a side nor along which edge it runs.

    At the bench: it would be in the wrong place.

    To mend: say `at: 4 mm from bottom` for a groove, or `along: back` for a rebate.
    """

    what = "a groove in {part} does not say where it runs"


class GrooveStop(Kind):
    """A groove stops short of a side that it does not run to.

    At the bench: the cut would end in the wrong place, or nowhere.

    To mend: name one of the two sides at its ends.
    """

    what = "a groove in {part} runs along its {from} edge, so it cannot stop short of its {side}"


class GrooveTooNarrow(Kind):
    """A groove is narrower than the board that goes into it.

    At the bench: the board will not seat, and forcing it splits thin stock.

    To mend: give the groove the board's thickness plus a clearance.
    """

    level = Level.WARNING
    what = "a groove in {part} is {wide} wide, narrower than every board of this design"


class ShapeFault(Kind):
    """An outline, corner, edge or hole cannot be cut as described.

    At the bench: the template would show something that no knife can follow.

    To mend: check the figures of the outline and of what is cut out of it.
    """

    what = "{part}: {fault}"


class NotOnFace(Kind):
    """A corner, edge or position names a side that the part's broad face does not have.

    At the bench: a board that is wide and high has no front edge in its outline; its front is
    the face itself.

    To mend: use the four sides of its face.
    """

    what = "the face of {part} has no {side} edge"
    mend = "Its edges are {edges}.{strip}"


class OutlineStart(Kind):
    """An outline does not begin with its start, or has a second one.

    At the bench: the first line would begin nowhere.

    To mend: let the first entry be `start`, and only that.
    """

    what = "the outline of {part} must begin with “start”, once"


class FittedTwice(Kind):
    """A part is fitted to an opening in one direction and gives a size there as well.

    At the bench: the typed figure and the measured one will differ.

    To mend: take one of the two out.
    """

    what = "{part} is fitted in this direction (“less”) and gives “{field}” as well"


class SharedNotFitted(Kind):
    """A part shares an opening in a direction in which it is not fitted to it.

    At the bench: nobody knows what is to be divided.

    To mend: say what is taken off in that direction with `less`, or take the share out.
    """

    what = "{part} shares “{field}” of an opening and is not fitted to it in that direction"


class OpeningSizeMissing(Kind):
    """A part is fitted to an opening that has no planned size in that direction.

    At the bench: without a planned size nobody knows how much stock to buy.

    To mend: give the opening's planned size; it may be worked out.
    """

    what = "{opening} has no planned size “{field}”, and {part} is fitted to it"


class LessMissing(Kind):
    """A full-size part is fitted to an opening and says no clearance.

    At the bench: the usual 0.25 to 0.5 mm holds for miniatures only.

    To mend: add `less` with what to take off, least to most.
    """

    what = "{part} is fitted to {opening} and does not say what to take off"


class NothingOff(Kind):
    """A clearance takes nothing off, or more than the opening has.

    At the bench: a part as large as its opening does not go in.

    To mend: give a range above nothing, such as `0.25 to 0.5 mm`.
    """

    what = "{part} takes {figure} off its opening"


class QuantityDisagrees(Kind):
    """The quantity of a part differs from the pieces that are used.

    At the bench: the buyer runs out in the middle of a step, or has a piece left over.

    To mend: leave the quantity out, or check the pieces. The quantity is how many are cut in all,
    the copies of a sub-assembly counted.
    """

    what = "{part} says {said} to cut; the steps use {used}"


class LetterTwice(Kind):
    """Two parts have the same letter.

    At the bench: the buyer glues the wrong one.

    To mend: give each part its own letter, or leave letters out and have them given in order.
    """

    what = "the letter {letter} belongs to “{other}” already"


class BitNotSold(Kind):
    """A hole has a size in which no drill is sold.

    At the bench: the buyer takes the next bit, and the pin is loose or splits the wood.

    To mend: use a size that is sold.
    """

    level = Level.WARNING
    what = "no drill of {size} is sold"
    mend = "The nearest sold is {near_bit}."


class ShortGrain(Kind):
    """The grain runs across a narrow part.

    At the bench: short grain under about 3 mm breaks at the first touch.

    To mend: let the grain run along the longer size.
    """

    level = Level.WARNING
    what = "the grain of {part} runs across its {long}, and only {short} of it holds together"


class ReallyExcludes(Kind):
    """The range that a stock really comes in does not hold the size it is sold as.

    At the bench: one of the two figures is wrong, and every joint depends on it.

    To mend: check both figures.
    """

    what = "“{stock}” is sold as {sold} but said to come in {range}"


class NotNearest(Kind):
    """The stock named for the other system is far from the stock it stands for.

    At the bench: joints that fit one board are loose or tight with the other.

    To mend: name the size nearest to it, or say in a note what to do.
    """

    level = Level.WARNING
    what = "{nearest} stands for {size} but differs by {by}; {sold} is sold and is nearer"


class LayersNotSheet(Kind):
    """Stock that is no sheet is to be made of several layers.

    At the bench: strips and rods are not glued on each other to make a thicker one of their kind.

    To mend: leave `layers` out, and name a section or diameter that is sold.
    """

    what = "“{stock}” is no sheet, so it cannot be made of {layers} layers"


class StockUnused(Kind):
    """A stock is listed, and no part is cut from it.

    At the bench: the buyer pays for wood that nobody needs.

    To mend: take it out, or use it.
    """

    level = Level.WARNING
    what = "no part is cut from “{stock}”"


class SizeUnused(Kind):
    """A size is named and never used.

    At the bench: changing it changes nothing, which is a surprise for its author.

    To mend: use it where its figure is typed, or take it out.
    """

    level = Level.WARNING
    what = "the size “{size}” is used nowhere"


class FitsNoBoard(Kind):
    """A part is too large for every board that an edition's buyers can get, or that is at hand.

    At the bench: the layout leaves it out, and the buyer has nothing to cut it from.

    To mend: name stock of the size that is told, let the grain run the other way if it may, or
    divide the part.
    """

    level = Level.WARNING
    what = "in edition “{edition}”, {part} needs {size}, and no board of “{stock}” has room for it"
    mend = "Name “{stock}” of at least {least}, or divide the part."


class TooLittleAtHand(Kind):
    """What is at hand of a stock is not enough for its parts, and none is sold.

    At the bench: the buyer runs out of wood half way.

    To mend: say in which size it is sold, or add to what is at hand.
    """

    level = Level.WARNING
    what = (
        "in edition “{edition}”, the “{stock}” at hand is not enough for {parts}, and none is sold;"
        " {more} more of {size} would do"
    )


class GroupFitsNoBoard(Kind):
    """Parts that should come from the same board do not fit on one.

    At the bench: they come from several boards and may differ in colour and grain.

    To mend: name larger stock, or take a part out of the group.
    """

    level = Level.WARNING
    what = (
        "in edition “{edition}”, the same board “{group}” ({parts}) fits on no board of “{stock}”;"
        " the largest is {largest}, and it takes one of {least}"
    )
