"""Kinds of problem with the author's photographs."""

from patternpress.design.problem import Kind, Level


class PhotographUnreadable(Kind):
    """A photograph that is named is not there, is damaged, or is of a form that is not printed.

    At the bench: its place on the page would be empty.

    To mend: put the file beside the design, as JPEG or PNG, and write its name with its ending.
    """

    what = "the photograph “{file}” cannot be printed: {reason}"


class PhotographUndescribed(Kind):
    """No words say what a photograph shows.

    At the bench: a buyer who cannot see it, or whose printer failed, learns nothing from it.

    To mend: say it in a few words, such as `shows: the desk in a window, its lid open`.
    """

    what = "no words say what the photograph “{file}” shows"


class PhotographCoarse(Kind):
    """A photograph has too few pixels for the size at which it is printed.

    At the bench: edges have steps and fine grain is a blur.

    To mend: take the picture as the camera made it, not a copy made smaller for sending.
    """

    level = Level.WARNING
    what = (
        "the photograph “{file}” has {fine} pixels to the inch at {size}; "
        "from {least} on it prints well"
    )


class PhotographFlat(Kind):
    """Light and dark of a photograph are so near that a grey printer makes one tone of them.

    At the bench: printed on a grey printer, the piece cannot be told from what is behind it.

    To mend: put the piece before something lighter or darker, or give the picture more contrast.
    """

    level = Level.WARNING
    what = "light and dark of the photograph “{file}” run together on a grey printer"


class PhotographDark(Kind):
    """A photograph is so dark that it prints as a slab of ink.

    At the bench: it drinks ink, and what matters in it cannot be seen.

    To mend: make it lighter, or take it in better light.
    """

    level = Level.WARNING
    what = "the photograph “{file}” is so dark that it prints nearly black"
