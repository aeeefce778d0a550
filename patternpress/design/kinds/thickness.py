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
