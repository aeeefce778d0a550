"""Problems of the order of work: pieces, cutting, measuring, marking, joining, waiting, tools."""

from patternpress.design.problem import Kind, Level


class PartNeverUsed(Kind):
    """A part is listed, and no step uses any of its pieces.

    At the bench: the buyer cuts it and wonders for the rest of the evening where it goes.

    To mend: join it in a step, or take it out.
    """

    what = "no step uses “{part}”"


class PieceNeverUsed(Kind):
    """Some copies of a part are used and one is not.

    At the bench: it is left over when all is done.

    To mend: join it in a step, or take it out of the part's pieces. What a copy or a twin of a
    sub-assembly brings is not named there: a join calls it `rail of right frame`.
    """

    what = "no step uses the piece “{piece}”"


class PieceUsedTwice(Kind):
    """A piece is joined in two places.

    At the bench: there is only one of it.

    To mend: name another piece, or add one to the part.
    """

    what = "“{piece}” is used already, in step {step}"


class WhichPiece(Kind):
    """A part with several pieces is joined without saying which piece.

    At the bench: left and right get mixed up.

    To mend: name the piece, or set all of them with `row`.
    """

    what = "“{part}” has several pieces"
    mend = "Name one of {pieces}."


class RowTooLong(Kind):
    """A row takes more pieces than the part has from its first one on.

    At the bench: the buyer has cut too few.

    To mend: give the part a larger quantity, or the row fewer pieces.
    """

    what = "the row takes {of} pieces, and from “{piece}” on there are only {left}"


class PartNeverCut(Kind):
    """A part is never cut: it waits for a measure, and no step cuts it.

    At the bench: the step that needs it cannot be done.

    To mend: add it to `cut` in the step after its opening is measured.
    """

    what = "no step cuts “{part}”, which is cut only after {opening} is measured"


class CutBeforeMeasured(Kind):
    """A fitted part is cut before its opening has been measured.

    At the bench: it is cut to the planned size, and the opening never is exactly that.

    To mend: measure the opening in the same step or an earlier one.
    """

    what = "“{part}” is cut in step {step}, before {opening} is measured"


class UsedBeforeCut(Kind):
    """A part is used in a step before the one that cuts it.

    At the bench: it is not there yet.

    To mend: change the order of the steps, or of `cut`.
    """

    what = "“{part}” is used in step {step} and cut only in step {later}"


class CutTwice(Kind):
    """A part is cut in two steps.

    At the bench: the buyer cuts twice as many as needed.

    To mend: take it out of one of them.
    """

    what = "“{part}” is cut already, in step {step}"


class NeverMeasured(Kind):
    """An opening is described and never measured.

    At the bench: the parts that are fitted to it cannot be cut right.

    To mend: add it to `measure` in the step after the pieces around it are joined.
    """

    what = "no step measures {opening}"


class MeasuredTooEarly(Kind):
    """An opening is measured before the pieces around it are joined.

    At the bench: there is nothing to measure yet.

    To mend: measure it in a later step.
    """

    what = "{opening} is measured in step {step}, but “{piece}” is joined only in step {later}"


class MarkNeverDrawn(Kind):
    """A mark is described and no step draws it.

    At the bench: the pencil line that a later step speaks of is not there.

    To mend: add it to `mark` in a step before it is needed.
    """

    what = "no step draws the mark “{mark}”"


class MarkUsedTooEarly(Kind):
    """A piece is joined at a mark that is drawn only later.

    At the bench: the buyer searches for a line that is not there.

    To mend: draw the mark in an earlier step, or the same one.
    """

    what = "“{mark}” is needed in step {step} and drawn only in step {later}"


class RubbedOutTooEarly(Kind):
    """A mark is rubbed out before it is needed, or before it is drawn.

    At the bench: it has to be drawn again.

    To mend: rub it out in a later step.
    """

    what = "“{mark}” is rubbed out in step {step}; it is {needed} in step {later}"


class NotThereYet(Kind):
    """A piece is joined to one that is not in the work yet.

    At the bench: there is nothing to glue it to.

    To mend: change the order, or say which piece is on the bench with `start`.
    """

    what = "“{piece}” is joined to “{other}”, which {when}"


class OfWhichCopy(Kind):
    """A piece is joined to one that each copy of a sub-assembly has.

    At the bench: the buyer glues it to either.

    To mend: say of which copy, such as `{example}`.
    """

    what = "“{piece}” is joined to “{other}”, which is in {copies}"


class NothingToJoinTo(Kind):
    """A sub-assembly has no piece on the bench to begin with.

    At the bench: the first join has nothing to be joined to.

    To mend: add `start` with the piece that the others are joined to.
    """

    what = "step {step} joins pieces, and none is on the bench yet"


class SideTwice(Kind):
    """One direction of a piece is said twice with different words for the same side.

    At the bench: a piece cannot be in two places.

    To mend: say each side once.
    """

    what = "where the {side} of “{piece}” goes is said twice"


class JoinedToItself(Kind):
    """A piece is joined to itself.

    At the bench: impossible.

    To mend: name the other piece.
    """

    what = "“{piece}” is joined to itself"


class NeverBuilt(Kind):
    """A sub-assembly is named and no step builds it.

    At the bench: a later step asks for something that was never made.

    To mend: say `builds: {sub}` in the steps that make it, or take it out.
    """

    what = "no step builds “{sub}”"
    mend = "Say “builds: {sub}” in the steps that make it."


class NeverJoined(Kind):
    """A sub-assembly is built and never becomes part of the piece.

    At the bench: it is left over.

    To mend: join it in a later step, or make it the main work by leaving `builds` out.
    """

    level = Level.WARNING
    what = "“{sub}” is built and used in no later step"


class WaitTooShort(Kind):
    """A stated wait is shorter than the glue or finish needs.

    At the bench: the joint opens in the buyer's hands.

    To mend: wait at least as long, or say `until: handle` and let the time be filled in.
    """

    what = "waits {said}; {material} needs {needed} until it can be handled"


class NoWait(Kind):
    """Pieces are glued, and the next step begins without a wait.

    At the bench: the buyer goes on working on wet joints.

    To mend: add `wait: {for: wood glue, until: handle}`, or `wait: 1 min` where none is needed.
    """

    level = Level.WARNING
    what = "step {step} glues pieces and does not say how long to wait"
    mend = "Add “wait: {{for: wood glue, until: handle}}”, or a time."


class WaitForNothing(Kind):
    """A wait says neither a time nor what dries.

    At the bench: how long is until it is dry?

    To mend: say `for` and `until`, or a time.
    """

    what = "the wait of step {step} has no time"


class DryingTimeMissing(Kind):
    """A wait is for a material whose drying time is not given.

    At the bench: the booklet cannot say how long.

    To mend: give the material `handle` and `hard`.
    """

    what = "{material} does not say how long until it is “{until}”"


class ToolNotListed(Kind):
    """A step uses a tool or material that is not listed.

    At the bench: the buyer starts without it and has to stop half way.

    To mend: add it to `tools` or `materials`, or correct the spelling.
    """

    what = "“{name}” is in no list of tools or materials"


class ToolUnused(Kind):
    """A tool is listed, and no step or stock uses it.

    At the bench: the buyer buys it for nothing.

    To mend: say where it is used, or take it out.
    """

    level = Level.WARNING
    what = "the tool “{name}” is used in no step"


class MaterialUnused(Kind):
    """A material is listed, and no step uses it.

    At the bench: the buyer buys it for nothing.

    To mend: say where it is used, or take it out.
    """

    level = Level.WARNING
    what = "the material “{name}” is used in no step"


class HoleNeverDrilled(Kind):
    """A hole is described, and no step drills it.

    At the bench: a hole that is drilled after gluing may be out of reach.

    To mend: add a treatment to a step, such as `drill: peg hole of side`.
    """

    level = Level.WARNING
    mend = "Add a treatment `drill: {hole} of {owner}` to a step."
    what = "no step drills “{hole}” in {part}"


class TreatedTooEarly(Kind):
    """A step treats a piece that is not cut or not built yet.

    At the bench: there is nothing to treat.

    To mend: move the treatment to a later step.
    """

    what = "step {step} treats “{piece}”, which is {when}"


class AnswerUnused(Kind):
    """An answer that the buyer can pick changes nothing.

    At the bench: a choice without a difference.

    To mend: say `only if` in what it changes, or describe what the answer means.
    """

    level = Level.WARNING
    what = "nothing depends on the answer “{answer}”"


class EditionUnknown(Kind):
    """An edition starts from another that is not there, or from itself in a ring.

    At the bench: it would have no units and no paper.

    To mend: name one of the design's editions.
    """

    what = "the edition “{edition}” starts from “{like}”, which {wrong}"


class FileNameUnsafe(Kind):
    """A name that becomes part of a file name holds signs that file names cannot have.

    At the bench: the booklet could not be saved, or would land in another folder.

    To mend: use letters, figures, spaces and hyphens.
    """

    what = "“{name}” cannot be part of a file name"


class OpeningUnbounded(Kind):
    """An opening does not say which pieces are around it.

    At the bench: nothing keeps its measuring behind the joining of those pieces, and its planned
    size cannot be held against the model.

    To mend: add `between` with the pieces around it.
    """

    level = Level.WARNING
    what = "nothing says which pieces {opening} is between"
