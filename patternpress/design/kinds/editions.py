"""Problems of editions that cannot be printed as they are described."""

from patternpress.design.problem import Kind, Level


class NoWordsForLanguage(Kind):
    """An edition asks for a language in which the fixed words of the pages do not exist yet.

    At the bench: headings, cautions and the sentences of the steps would be missing.

    To mend: choose another language for the edition, or add a file of words for this one.
    """

    what = "the edition “{edition}” asks for {language}, and the pages have no words in it"


class EditionTextsMissing(Kind):
    """Texts of the author's are not said in the language of an edition.

    At the bench: the edition prints them in the main language, and its pages speak two.

    To mend: say each of them in both languages, as en: … and de: … below the field.
    """

    level = Level.WARNING
    what = "the edition “{edition}” is in {language}, but these are in {main} only: {texts}"


class NoSuchTheme(Kind):
    """An edition asks for a theme that is not there.

    At the bench: there is nothing to lay the pages out with.

    To mend: use a theme that is there, or leave the field out.
    """

    what = "the edition “{edition}” asks for the theme “{theme}”, which is not there"
    mend = "{there}"


class ScaleNotWorkedOut(Kind):
    """An edition asks for another scale than the design's.

    At the bench: stock, bits and clearances do not scale, so the figures would be wrong; the
    booklet is made at the design's own scale.

    To mend: leave the field out.
    """

    level = Level.WARNING
    what = "the scale {scale} is kept in mind, but not worked out yet"


class SecondRounded(Kind):
    """The figures in brackets of a both-units edition cannot all fall on their step and add up.

    At the bench: the piece is made by the figures in front, which add up. Those in brackets are
    rounded one by one, and the booklet says so; a buyer who adds them may be a step off.

    To mend: do nothing, if buyers work by the figures in front; or give up one of these demands,
    as in an edition that shows the other system alone.
    """

    level = Level.WARNING
    what = (
        "in steps of {step}, the figures in brackets of the edition “{edition}” cannot add up; "
        "these clash: {demands}"
    )


class EditionOpen(Kind):
    """The figures of an edition cannot all fall on its step and still add up.

    At the bench: a buyer who measures and adds would find that pieces do not fit.

    To mend: give up one of these demands: allow a size a larger tolerance, ask for a finer step,
    take a pinned figure back, or say with `cut to fit` which piece takes up the rest.
    """

    what = "in steps of {step}, the edition “{edition}” cannot add up; these clash: {demands}"
