"""Problems of faces and marks that lie under another piece when they are asked for."""

from patternpress.design.problem import Kind, Level


class MarkCovered(Kind):
    """A mark lies under another piece before the step that needs it.

    At the bench: the line cannot be seen any more, and the next piece is set by guess.

    To mend: join the piece that needs the mark first, or draw the mark on another piece.
    """

    what = "“{mark}” lies under “{other}” from step {step} on, and is needed in step {later}"


class FaceCovered(Kind):
    """A face is to be worked on when another piece is glued over it.

    At the bench: neither brush nor sandpaper gets there any more.

    To mend: do it in an earlier step, or name a face that is still open.
    """

    what = "step {step} is to {verb} the {face} of “{piece}”, which lies under “{other}” by then"


class EasedUnder(Kind):
    """An edge is taken off, and then another piece is glued on it, flush with it.

    At the bench: a groove stays open between the two, where the rounded edge falls away.

    To mend: leave that edge sharp, or do it once both are glued, under `afterwards`.
    """

    level = Level.WARNING
    what = (
        "step {step} is to {verb} the {edge} edge of “{piece}”, and “{other}” is glued on it, "
        "flush with it, in step {later}"
    )


class MarkUnused(Kind):
    """A mark is drawn, and nothing is ever said or done at it: no join and no sentence speaks of
    it, no step rubs it out again, no piece comes to lie on it, and no hole or groove is cut there.

    At the bench: the buyer draws a line and looks in vain for what it is good for.

    To mend: join a piece at it, as `on shelf line`; say in a sentence what it is for, with its
    name in angle brackets; or take it out.
    """

    level = Level.WARNING
    what = "nothing is put on the mark “{mark}”, and no sentence says what it is for"
