"""Problems of names and of phrases: what is spoken of, and whether it can be understood."""

from patternpress.design.problem import Kind, Level


class UnknownName(Kind):
    """Something is named that the design does not describe.

    At the bench: the buyer would look for a piece, line or tool that is nowhere to be found.

    To mend: correct the spelling, or describe it in its own section.
    """

    what = "no {kind} is called “{name}”"


class NameTwice(Kind):
    """Two things have the same name.

    At the bench: a step could mean either.

    To mend: give one of them a name of its own.
    """

    what = "“{name}” is also the name of a {other}, in line {line}"


class MainLanguageMissing(Kind):
    """A text is given in other languages and not in the main one.

    At the bench: the edition that everything else is made from would have a hole.

    To mend: add the text in the first of the `languages`.
    """

    what = "“{name}” is not said in the main language, {language}"


class CannotFollow(Kind):
    """A phrase is not one of the ways in which a place, an edge or a treatment can be said.

    At the bench: a piece put in the wrong place is found when the glue is dry.

    To mend: say it in one of the ways shown.
    """

    what = "“{text}” cannot be followed"
    mend = "Say it like this: {examples}."


class UnknownFace(Kind):
    """A side of a piece is named by a word that is not one of the six, nor a feature.

    At the bench: the buyer must know which edge is meant before cutting.

    To mend: sides are named as the piece stands in the finished work.
    """

    what = "“{text}” is no side of a piece"
    mend = "The sides are left, right, front, back, top and bottom."


class NothingOfIt(Kind):
    """What is named of a piece is neither a side or an edge of it, nor a hole or a groove in it.

    At the bench: the buyer must know which face, edge or hole is meant.

    To mend: name one of its six sides, or a hole or a groove that its part describes; a piece is
    called by its name alone, a piece of a copy of a sub-assembly as `post of left frame`.
    """

    what = "“{text}” is no side, hole or groove of “{thing}”"
    mend = "{how}"


class SideMissing(Kind):
    """A join says how a piece is placed where the side that goes there should stand.

    At the bench: the buyer must know which side of the piece meets the other.

    To mend: begin with the side of the piece, such as `{example}`.
    """

    what = "“{text}” stands where a side of the piece should be named"


class NotOpposite(Kind):
    """Two sides are joined that do not lie opposite each other, or not next to each other.

    At the bench: a piece can be centred between left and right, not between left and top.

    To mend: name left and right, front and back, or top and bottom; a corner needs two that meet.
    """

    what = "“{text}” {wrong}"


class ReferenceNotClosed(Kind):
    """A name in angle brackets is opened and not closed.

    At the bench: the rest of the sentence would be taken for the name.

    To mend: close it with `>`.
    """

    what = "the name that opens here with < is never closed"


class UnknownReference(Kind):
    """A sentence refers to a name that the design does not have.

    At the bench: the booklet would print an empty place where a figure belongs.

    To mend: correct the spelling; sizes, parts, pieces, marks, openings, tools, materials and
    `width of part` can be named.
    """

    what = "<{name}> names nothing in this design"


class SentenceTooLong(Kind):
    """A sentence of a step or a caution has more than 20 words.

    At the bench: the buyer has the glue in one hand and the booklet in the other. A long sentence
    is read twice, and half of it is done.

    To mend: make two sentences of it, one action each.
    """

    level = Level.WARNING
    what = "this sentence has {count} words; at most {most} are read at a glance"
    mend = "Make two sentences of it, one action each."


class FigureInProse(Kind):
    """A figure is typed into a sentence.

    At the bench: it stays as it is when the design changes, and it is not converted for the
    other edition. This is how wrong figures reach buyers.

    To mend: name the size, mark or part in angle brackets, and the right figure is printed.
    """

    level = Level.WARNING
    what = "the figure “{figure}” is typed into a sentence"
    mend = "{how}"


class LanguageUnknown(Kind):
    """A language is not one of the two-letter or five-letter codes in use.

    At the bench: hyphens and decimal signs could not be set.

    To mend: write codes like en, de, fr or en-US.
    """

    what = "“{text}” is no language code"


class TextMissing(Kind):
    """A text is missing in one of the design's languages.

    At the bench: that edition prints the main language in its place.

    To mend: add the text, or take the language out of `languages`.
    """

    level = Level.WARNING
    what = "“{name}” is not said in {language}"
