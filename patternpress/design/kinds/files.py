"""Problems with files: what cannot be read, or must not be."""

from patternpress.design.problem import Kind, Level


class FileMissing(Kind):
    """A file that is named is not there, or cannot be opened.

    At the bench: nothing is made from a file that cannot be read.

    To mend: check the name and the folder.
    """

    what = "{file} cannot be read: {reason}"


class NotText(Kind):
    """A file is not plain text in UTF-8.

    At the bench: signs such as ½ and é would print as something else.

    To mend: save the file as plain text, encoding UTF-8.
    """

    what = "{file} is no plain text in UTF-8"


class OutsideFolder(Kind):
    """A file is named that lies outside the design's own folder.

    At the bench: designs come from strangers; none may read the buyer's or author's other files.

    To mend: put the file beside the design and name it without `..` or a leading `/`.
    """

    what = "“{file}” lies outside the design's folder"


class SharedTwice(Kind):
    """Something is described both in the design and in the file that it shares.

    At the bench: the two would drift apart.

    To mend: take one of them out.
    """

    what = "“{name}” is described in {other} as well"


class NoDesign(Kind):
    """A file holds only what several designs share, and no design of its own.

    At the bench: no booklet can be made of it; it is printed with the designs that name it.

    To mend: nothing, if it is meant to be shared; a design needs `design`, `parts` and `steps`.
    """

    level = Level.WARNING
    what = "{file} holds only what designs share, so it has no booklet of its own"
