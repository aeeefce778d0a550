"""Problems that only boards thinner or thicker than their label have."""

from patternpress.design.problem import Kind, Level


class ClashAtThickness(Kind):
    """Two pieces run into each other only where boards are thinner or thicker than their label.

    At the bench: the piece was cut to the figure in the list, and does not go in.

    To mend: work the size out from `thickness of` the board; then the list says that the piece is
    cut after the real board has been measured. Or make the piece `fitted` to an opening.
    """

    level = Level.WARNING
    what = (
        "with the {boards} boards that are sold under the label, in step {step} “{piece}” runs "
        "{by} into “{other}”, {where}"
    )


class GapAtThickness(Kind):
    """A gap opens between two pieces only where boards are thinner or thicker than their label.

    At the bench: the piece was cut to the figure in the list, and a slit stays open beside it.

    To mend: work the size out from `thickness of` the board; then the list says that the piece is
    cut after the real board has been measured. Or make the piece `fitted` to an opening.
    """

    level = Level.WARNING
    what = (
        "with the {boards} boards that are sold under the label, a gap of {by} opens after step "
        "{step} between “{piece}” and “{other}”"
    )


class JointSmallAtThickness(Kind):
    """Two joined faces meet in enough at the label, and hardly or not at all where boards are
    thinner or thicker.

    At the bench: a hair of glue holds the joint, until the first knock.

    To mend: work the place or the size out from `thickness of` the board, or let the faces meet
    in more.
    """

    level = Level.WARNING
    what = (
        "with the {boards} boards that are sold under the label, in step {step} “{piece}” and "
        "“{other}” meet in only {area}"
    )


class FloatsAtThickness(Kind):
    """A piece touches another at the label, and nothing where boards are thinner or thicker.

    At the bench: it hangs in the air, and nothing holds it.

    To mend: put one of its sides `against` the other piece, or work its place out from
    `thickness of` the board.
    """

    level = Level.WARNING
    what = (
        "with the {boards} boards that are sold under the label, “{piece}” of step {step} touches "
        "no other piece"
    )


class CannotGoInAtThickness(Kind):
    """A piece can be put in at the label, and no more where boards are thinner or thicker.

    At the bench: the opening that it goes in through is narrower than it was drawn, and the piece
    stops there with glue on its edges.

    To mend: join it before the piece that closes its way, or work its size out from
    `thickness of` the board, so that it gets smaller where the opening does.
    """

    level = Level.WARNING
    what = (
        "with the {boards} boards that are sold under the label, “{piece}” cannot be put in in "
        "step {step}: “{other}” stands in its way"
    )


class JamsAtThickness(Kind):
    """A piece that should move does so at the label, and no more where boards are thinner or
    thicker.

    At the bench: the drawer is a block, and everything around it is glued.

    To mend: work its size out from `thickness of` the board, or make its parts `fitted` to an
    opening, which is measured when the pieces around it stand.
    """

    level = Level.WARNING
    what = (
        "with the {boards} boards that are sold under the label, nothing leaves “{piece}” of step "
        "{step}, which {moves}, a way out: “{other}” stands in its way"
    )


class OpensIntoAtThickness(Kind):
    """Something that opens does so at the label, and touches another piece where boards are
    thinner or thicker.

    At the bench: the door stops half way, or takes the paint off what is beside it.

    To mend: leave more room around it, say that it opens less far, or work the places of its pins
    out from `thickness of` the board.
    """

    level = Level.WARNING
    what = (
        "with the {boards} boards that are sold under the label, “{piece}” of step {step} opens "
        "only {far} of {by} to the {toward}: there it touches “{other}”"
    )


class SlackAtThickness(Kind):
    """A piece that slides fits at the label, and rattles where boards are thinner or thicker.

    At the bench: it drops at the front when it is drawn out.

    To mend: work its size out from `thickness of` the board, or make its parts `fitted` to an
    opening, which is measured when the pieces around it stand.
    """

    level = Level.WARNING
    what = (
        "with the {boards} boards that are sold under the label, “{piece}” of step {step} has "
        "{by} of room {ways}; {usual} is usual"
    )


class TooDeepAtThickness(Kind):
    """A hole or a groove with a depth goes through the board where it is thinner than its label.

    At the bench: the drill comes out on the face that was to stay whole.

    To mend: make it shallower, or work its depth out from `thickness of` the board, such as
    `thickness of board - 0.5 mm`; then the list says that it is cut to the real board.
    """

    level = Level.WARNING
    what = (
        "with the {boards} boards that are sold under the label, a {thing} in {part} goes right "
        "through: it is {deep} deep, and the part is then {thick} thick"
    )


class BreaksOutAtThickness(Kind):
    """A hole in an edge, or at an angle, comes out where boards are thinner than their label.

    At the bench: the drill tears out the face just where it shows.

    To mend: take a thinner drill, keep to the middle of the edge, or drill less deep; or work its
    sizes out from `thickness of` the board.
    """

    level = Level.WARNING
    what = (
        "with the {boards} boards that are sold under the label, the hole “{hole}” in {part} "
        "breaks out at its {where}{by}"
    )


class StemTooLongAtThickness(Kind):
    """A piece goes deeper into its hole than the hole is where boards are thinner or thicker.

    At the bench: it comes out on the other side, or stands proud of the face.

    To mend: push it in less deep, or work the figure out from `thickness of` the board.
    """

    level = Level.WARNING
    what = (
        "with the {boards} boards that are sold under the label, in step {step} “{piece}” goes "
        "{far} deep into the {hole} of “{other}”, which is then only {deep} deep"
    )


class TooThickForHoleAtThickness(Kind):
    """A piece goes into its hole or groove at the label, and not where boards are thicker.

    At the bench: it does not go in, and forcing it splits thin stock.

    To mend: work the width of the groove or hole out from `thickness of` the board; then the list
    says that it is cut after the real board has been measured.
    """

    level = Level.WARNING
    what = (
        "with the {boards} boards that are sold under the label, in step {step} “{piece}” is "
        "{size} thick; the {hole} of “{other}” is {room} wide"
    )


class OutOfHoleAtThickness(Kind):
    """A piece sits in a hole or a groove at the label, and no more where boards are thinner or
    thicker.

    At the bench: the peg or the panel hangs in the air, or falls out.

    To mend: let it reach further in, or work its size out from `thickness of` the board.
    """

    level = Level.WARNING
    what = (
        "with the {boards} boards that are sold under the label, “{piece}” of step {step} no "
        "longer reaches into “{other}”"
    )
