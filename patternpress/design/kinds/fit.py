"""Problems of fit: pieces that clash, gape, float, or cannot be put in any more."""

from patternpress.design.problem import Kind, Level


class PiecesClash(Kind):
    """Two pieces would be in the same place.

    At the bench: one of them does not go in, or has to be cut down when the glue is out.

    To mend: check the sizes of both pieces, and where the joins put them.
    """

    what = "in step {step} “{piece}” runs {by} into “{other}”, {where}"


class JointGapes(Kind):
    """Two faces are joined and do not meet.

    At the bench: glue does not bridge a gap.

    To mend: check where the other sides of the piece are put; one of them holds it away. What is
    so far `from` a side that faces it is away from it: `top: 5 mm from bottom of case` lies below
    the case, `top: 5 mm from top of case` in it. What leans is put by its outermost point: where it
    should rest on an edge, say its distance from there.
    """

    what = "in step {step} “{piece}” is joined to “{other}” and does not touch it: {by} apart"
    mend = "Check where the other sides of the piece are put; one of them holds it away.{hint}"


class JointOnLine(Kind):
    """Two joined pieces meet only along a line or in a point, as a round rod does on a flat board.

    At the bench: glue has no face to hold, and the joint breaks when the piece is picked up.

    To mend: set the round piece in a hole or a groove, give it a flat to lie on, or lay it
    `loose against` the other.
    """

    what = "in step {step} “{piece}” meets “{other}” only along a line or in a point"


class JointTooSmall(Kind):
    """Two joined faces meet in so small an area that glue hardly holds.

    At the bench: the joint breaks when the piece is picked up.

    To mend: move the piece so that more of its face meets, or make one of the two larger.
    """

    level = Level.WARNING
    what = "in step {step} “{piece}” and “{other}” meet in only {area}"


class PieceFloats(Kind):
    """A piece touches nothing.

    At the bench: it would hang in the air.

    To mend: check where its sides are put; one of them should be against another piece.
    """

    what = "in step {step} “{piece}” touches no other piece"


class CannotGoIn(Kind):
    """A piece cannot be put in from any side, because earlier pieces stand in its way.
    Three straight moves are tried, along the edges of the work: a peg under a shelf is brought
    from the front, then let down into its hole.

    At the bench: it is found with glue on all edges.

    To mend: join it before the piece that closes its way.
    """

    what = "“{piece}” cannot be put in in step {step}: “{other}” stands in its way"


class WrongWayIn(Kind):
    """A screw, a hook or a pin would come from where it cannot: a blind hole does not come out
    there, or another piece lies in front of its mouth.  The side that is said is the one that goes
    in: `back: in hook hole of front board` is a hook that comes from the front.

    At the bench: there is no hole to be seen, only wood.

    To mend: name the side that goes in first; or give the hole a mouth on the side from which the
    fitting comes (`on`), and join it before anything lies over that mouth.
    """

    what = "in step {step} “{piece}” would go into “{hole}” of “{other}” from the {from}: {why}"
    mend = (
        "name the side that goes in first: with `{from}: in {hole} of {other}` it comes from the "
        "{side}; from the {from} it needs a hole that is open there when it comes."
    )


class MovingPieceJams(Kind):
    """A piece that should move cannot.

    At the bench: the drawer is a block.

    To mend: check the clearances, and that nothing stands in front of it.
    """

    what = (
        "“{piece}” of step {step} {moves}, but nothing leaves it a way out: "
        "“{other}” stands in its way"
    )


class OpensInto(Kind):
    """Something that opens touches another piece before it is as far open as was said.

    At the bench: the door stops half way, or takes the paint off what is beside it.

    To mend: bevel the edge that it turns about (`ends`), put that line nearer to the edge or
    further out, leave more room around it, or say that it opens less far. A hinge is `bought`, and
    joined both to what opens and to what stays: `right: against case and door`.
    """

    what = (
        "“{piece}” of step {step} opens only {far} of {by} to the {toward}: "
        "there it touches “{other}”"
    )


class OpensOnBench(Kind):
    """Something is hung that opens toward the bench, as the work still lies on that side.

    At the bench: the door cannot be tried, and what is put in afterwards comes from below.

    To mend: say how the work lies in that step, such as `work lies: upright`; what a step says of
    it holds until another one says otherwise.
    """

    level = Level.WARNING
    what = "“{piece}” of step {step} opens to the {toward}, and the work lies on its {toward} there"


class ComesOut(Kind):
    """Something that is drawn out goes so far that nothing carries it any more.

    At the bench: the drawer falls on the floor, and the pictures show it in the air.

    To mend: say that it opens less far; a drawer that is drawn out by two thirds of its depth
    still holds. What is taken off altogether is `loose`, and needs no `opens`.
    """

    level = Level.WARNING
    what = (
        "“{piece}” of step {step} opens by {by} to the {toward}, and is then clear of everything "
        "that carries it"
    )


class GluedThoughOpens(Kind):
    """Something is said to open and is glued to what stays where it is.

    At the bench: it never opens.

    To mend: write `loose against` instead of `against` (or `loose in` instead of `in`), or leave
    `opens` out.
    """

    what = "“{piece}” opens and is glued to “{other}”"


class NoLineToTurnAbout(Kind):
    """What something should turn about is no edge, hole or round piece.

    At the bench: nobody knows where the pins or hinges go.

    To mend: name two sides that meet in an edge (`left front edge of door`), a hole (`pin hole of
    door`), or a piece that is a rod.
    """

    what = "“{piece}” should turn about something that is no edge, hole or round piece"


class TurnsElsewhere(Kind):
    """Something that turns about this line cannot begin by going to that side.

    At the bench: it opens another way than the booklet says.

    To mend: name the side that its middle goes to first, or another edge to turn about.
    """

    what = "“{piece}” turns about this line, and so its middle does not go to the {toward} first"


class LaidBeside(Kind):
    """Something is laid on a piece and does not lie over it.

    At the bench: it drops down beside it.

    To mend: check where its other sides are put, and its sizes.
    """

    what = "in step {step} “{piece}” is laid on “{other}” and lies beside it"


class FallsOff(Kind):
    """Something that is only laid on does not stay: its weight lies outside what it rests on.

    At the bench: the lid tips and falls as soon as it is let go.

    To mend: let it rest on a piece on the other side as well, move it, or say what holds it
    (glue, a hole, a groove, `hold`).
    """

    level = Level.WARNING
    what = (
        "in step {step} “{piece}” rests on {others} and falls off: its weight lies {by} outside "
        "what it rests on"
    )


class MovingPieceSlack(Kind):
    """A piece that should slide has so much room that it rattles.

    At the bench: it drops at the front when it is drawn out.

    To mend: take less off, or add guides.
    """

    level = Level.WARNING
    what = "“{piece}” of step {step} has {by} of room {ways}; {usual} is usual"


class StemTooLong(Kind):
    """A piece goes deeper into its hole than the hole or the board is deep.

    At the bench: it comes out on the other side, or stands proud of the face.

    To mend: push it in less deep, or make the hole deeper.
    """

    what = (
        "in step {step} “{piece}” goes {far} deep into the {hole} of “{other}”, "
        "which is only {deep} deep"
    )


class FallsOver(Kind):
    """The finished piece does not stand: its weight lies outside what it stands on.

    At the bench: it tips over as soon as it is let go.

    To mend: widen its foot or move weight back over it; or, if it hangs on a wall, say so with
    `hangs: yes`.
    """

    level = Level.WARNING
    what = "the finished piece tips over {way}: its weight lies {by} outside what it stands on"


class WoodMoves(Kind):
    """Two boards are glued with their grain crosswise over a width that swells too much.  A board
    swells across its grain with the weather and hardly along it; it is reckoned with 4 points of
    moisture, from a heated room in winter to a damp summer.

    At the bench: in the first dry winter the joint opens, or the wider board splits.

    To mend: turn the grain of one of the two, let it slide in a groove, or take plywood, which
    hardly moves.
    """

    level = Level.WARNING
    what = (
        "“{piece}” and “{other}” are glued with their grain crosswise over {width}: "
        "“{moves}” swells there by {by}"
    )


class HoleBreaksOut(Kind):
    """A hole that is drilled into an edge, or at an angle, comes out at a side or at its end.

    At the bench: the drill tears out the face just where it shows.

    To mend: take a thinner drill, keep to the middle of the edge, or drill less deep or less
    steeply; a hole that is to go right through says no depth.
    """

    what = "the hole “{hole}” in {part} breaks out at its {where}{by}"


class WallThin(Kind):
    """Hardly any wood is left beside, behind or between holes and grooves.

    At the bench: the drill or the knife breaks through, and it shows.

    To mend: move the hole or the groove, make it smaller or less deep, or take thicker stock.  If
    you work so thin, say how thin at the stock: `thinnest: 0.3 mm`.
    """

    level = Level.WARNING
    what = "only {wood} of wood is left {where} in {part}"
    mend = (
        "Move it, make it smaller or less deep, or take thicker stock; if you work so thin, say "
        "how thin at “{stock}”, such as “thinnest: {thinnest}”."
    )


class GapShows(Kind):
    """Two fixed faces look at each other with a narrow gap between them that nothing fills. A
    warning, for all goes together and holds, and the gap may be meant: a shadow line, room for a
    finger.

    At the bench: it looks like a piece that was cut too short, and dirt gathers in it.

    To mend: check the size of the piece and where its sides are put; if the gap is meant, say it
    in the join, such as `left: 0.5 mm from right of base`.
    """

    level = Level.WARNING
    what = "after step {step} a gap of {by} shows between “{piece}” and “{other}”{more}"


class WorkTipsOver(Kind):
    """The work tips over as soon as a step is done, as it then lies on the bench.

    At the bench: it falls while the glue is wet, and the joint opens.

    To mend: lay it down another way (`work lies`), or say what holds it (`hold`).
    """

    level = Level.WARNING
    what = "in step {step} the work tips over as it lies, {lies}: its weight is {by} off its foot"


class ScrewTooLong(Kind):
    """A screw is longer than all the wood that it has holes in.  Its length is read from the words
    of its stock, “4 x 30 mm”.

    At the bench: its point comes out at the far side.

    To mend: name a shorter screw; for another scale, under `at scales` of the stock.
    """

    level = Level.WARNING
    what = "in step {step} “{piece}” is {long} long, and goes through {way} of wood in all"


class ScrewUnderneath(Kind):
    """A screw would have to come from under the work, out of the bench.

    At the bench: no screwdriver gets at it, and a work held up by a hand is not held.

    To mend: turn the work in that step (`work lies`) so that the screw comes from above or from
    the side, in a step of its own if the glue is to set first.
    """

    level = Level.WARNING
    what = "in step {step} “{piece}” is driven from the {side}, and the work lies {lies}"


class WrongHand(Kind):
    """A piece fits nowhere as it stands, and would fit mirrored.

    At the bench: two left sides, and the groove of one of them outside.

    To mend: say under `pieces` of its part how it stands.
    """

    what = "“{piece}” is of the wrong hand: it stands {found}, and would fit {fits}"
