"""Problems of time: what cannot be done before the glue sets."""

from patternpress.design.problem import Kind, Level


class GlueUpTooLong(Kind):
    """A step glues more joints at once than the glue allows.

    At the bench: the first joint has set before the last piece is in place, and nothing can be
    pushed square any more.

    To mend: divide the step, and let the first pieces dry before the others; or take a glue that
    stays workable for longer.  Each glued face counts for three quarters of a minute.
    """

    level = Level.WARNING
    what = (
        "step {step} glues {joints} faces at once, which takes about {needed}; "
        "{material} stays workable for {workable}"
    )
    mend = "{divide}or take a glue that stays workable for longer."
