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
    mend = "Say each of them in both languages, as {main}: … and {language}: … below the field."


class EditionNamesMissing(Kind):
    """An edition is in a language in which some things have no name.

    At the bench: the buyer reads the author's own names among words of another language.

    To mend: say what they are called under `names`, as in `names: {de: {back board: Rückwand}}`.
    """

    level = Level.WARNING
    what = "the edition “{edition}” is in {language}, but these are named in {main} only: {names}"
    mend = "Under `names`, `{language}`, say what each is called: `{first}: …`."


class NoSuchTheme(Kind):
    """An edition asks for a theme that is not there.

    At the bench: there is nothing to lay the pages out with.

    To mend: use a theme that is there, or leave the field out.
    """

    what = "the edition “{edition}” asks for the theme “{theme}”, which is not there"
    mend = "{there}"


class NoStockAtScale(Kind):
    """No stock that shops sell is near enough to the thickness that another scale asks for.

    At the bench: pieces would look clumsy or flimsy, and joints would be out of proportion.

    To mend: name what is to be used under `at scales` of the stock, allow more with `may differ`,
    or choose a scale that makes a thickness that is sold.
    """

    what = (
        "at {scale}, the edition “{edition}” asks for “{stock}” in {size}, and nothing near it is "
        "sold ({shops} are nearest); cut from it: {parts}"
    )


class NoStockNear(Kind):
    """Stock of the other system is farther from the design's than the author allows.

    At the bench: grooves, gaps and the outside would differ by more than is wanted.

    To mend: name nearer stock under `nearest`, allow more with `may differ`, or let the edition
    keep the design's own stock (`stock: mm`, `stock: in`).
    """

    what = "in the edition “{edition}”, {found} for “{stock}”, which may differ by {most} at most"


class TooThinAtScale(Kind):
    """At another scale the stock of some parts would be too thin to be worked.

    At the bench: so thin a board breaks under the knife, and its edge holds no glue.

    To mend: choose a larger scale, name thicker stock under `at scales`, or say with `thinnest`
    that you can work it.
    """

    what = (
        "at {scale}, the edition “{edition}” makes “{stock}” {size} thick, and below {least} it "
        "cannot be worked; too thin: {parts}"
    )


class FaultAtScale(Kind):
    """Something that is right at the design's own scale is wrong at the scale of an edition.

    At the bench: sizes and stock scale, but clearances, holes for fittings and hands do not.

    To mend: mend it for both scales, or leave the edition out.
    """

    what = "at {scale}, in the edition “{edition}”: {what}"
    mend = "{mend} Or leave the edition out."


class DoubtAtScale(Kind):
    """Something to look at that only the scale of an edition brings.

    At the bench: sizes and stock scale, but clearances, holes for fittings and hands do not.

    To mend: see to it for both scales, if it matters.
    """

    level = Level.WARNING
    what = "at {scale}, in the edition “{edition}”: {what}"
    mend = "{mend}"


class LeftAtScale(Kind):
    """What does not scale was left as it is in an edition at another scale.

    At the bench: clearances, bits, and the holes that bought fittings go in are the same at every
    scale; so are kerf, glue and the time that it takes to dry.

    To mend: do nothing if it is right so. `scales: no` leaves more as it is; `at scales` of a
    stock names another fitting, and `pins` of the edition fix the size of its hole.
    """

    level = Level.WARNING
    what = "at {scale}, the edition “{edition}” leaves as they are: {left}"


class SecondRounded(Kind):
    """The figures in brackets of a both-units edition cannot all fall on their step and add up.

    At the bench: the piece is made by the figures in front, which add up. Those in brackets are
    rounded one by one, and the booklet says so; a buyer who adds them may be a step off. So it is
    where they would add up to a piece that is more than a step larger or smaller than the
    templates: five gaps of 1 mm, which is 3/64 in, make 6 mm out of 5.

    To mend: do nothing, if buyers work by the figures in front; or give up one of these demands,
    as in an edition that shows the other system alone.
    """

    level = Level.WARNING
    what = (
        "in steps of {step}, the figures in brackets of the edition “{edition}” cannot add up; "
        "these clash: {demands}"
    )


class EditionTight(Kind):
    """A piece is tighter by an edition's figures than what it goes into, or beside.

    At the bench: figures that follow from a share or an angle are rounded to the step by
    themselves; a notch may come out less than half a step too small, and is eased with a file.

    To mend: work both figures out from one another, or leave a little more room. A figure that is
    typed is rounded with those of its value.
    """

    level = Level.WARNING
    what = (
        "in steps of {grain}, in the edition “{edition}”, step {step}, “{piece}” runs {by} into "
        "{others}"
    )


class EditionParts(Kind):
    """Two pieces that are glued to each other by the design's figures do not meet in an edition.

    At the bench: glue does not bridge a gap, and a mitre that is open shows.

    To mend: type one figure for both, by its name (as in `thickness of board`): figures that are
    rounded by themselves may come out a step apart. Or do nothing, if they need not meet.
    """

    level = Level.WARNING
    what = (
        "in steps of {grain}, in the edition “{edition}”, step {step}, “{piece}” and “{other}” no "
        "longer meet: {by} apart"
    )


class ClearanceMissed(Kind):
    """What an edition has taken off an opening lies outside the range that was said for it.

    At the bench: no step of the edition's rule lies between the least and the most, or none that
    leaves a whole step for each of several parts that share the opening. So the booklet prints the
    nearest step, and the part has more play than is wanted, or less.

    To mend: let the range hold a figure that can be printed.
    """

    level = Level.WARNING
    what = (
        "in the edition “{edition}” {printed} is taken off the {axis} of the opening for "
        "“{part}”, and not {said}"
    )
    mend = "Let the range hold a figure that can be printed: {fits}."


class ThicknessTyped(Kind):
    """A typed figure stands for a board's thickness, and an edition makes the two differ.

    At the bench: faces that are flush by the design's figures are not by the edition's, for the
    board that is sold there is thicker or thinner, and the typed figure does not know of it.

    To mend: write the thickness by its name, as in `thickness of board`, also within a sum.
    """

    level = Level.WARNING
    what = (
        "in the edition “{edition}” this is {printed}, and “{stock}”, whose thickness it is in "
        "the design, {thick}: “{piece}” and “{other}” are no longer flush"
    )
    mend = "Write `thickness of {stock}` in its place."


class EditionMisfits(Kind):
    """Pieces that fit by the design's figures do not fit by those of an edition.

    At the bench: what is rounded to the step by itself may end up a step beside what it should
    meet: a rod beside the middle of its second hole, a pin in the wood beside it.

    To mend: work one figure out from the other, so that both are rounded together (as in
    `thickness of pad board + 10 mm from bottom`), ask for a finer step, or leave more room.
    """

    what = "in steps of {step}, pieces of the edition “{edition}” no longer fit: {what}"


class EditionOpen(Kind):
    """The figures of an edition cannot all fall on its step and still add up.

    At the bench: a buyer who measures and adds would find that pieces do not fit.

    To mend: work a size out from what it should meet, such as `2 * thickness of board`; or give
    up one of these demands: allow a size a larger tolerance, ask for a finer step, take a pinned
    figure back, or say with `cut to fit` which piece takes up the rest.
    """

    what = "in steps of {step}, the edition “{edition}” cannot add up; these clash: {demands}"
