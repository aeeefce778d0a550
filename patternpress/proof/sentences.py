"""The sentences of a proof: for each kind of finding, what is wrong and how to mend it.

In: nothing.  Out: `SENTENCES`, by code; names in curly brackets are the finding's facts.
"""

from __future__ import annotations

from collections.abc import Mapping

_AGAIN = "Build the booklet again, and pass on the file as it was built."
_PRINTED = "Do not sell or print this file. " + _AGAIN
AUTHORS = "The fault is patternpress's own: send this report and your design file to its authors."
# Said of a file that was just built, this would send its author round in a ring.
OF_ANOTHER = (_AGAIN, _PRINTED)

SENTENCES: Mapping[str, tuple[str, str]] = {
    # -------------------------------------------------------------- the file
    "unreadable": ("The file cannot be read as a PDF ({why}).", _AGAIN),
    "no-contract": (
        "The file does not say what its lines are, so nothing on it can be measured.",
        "Only booklets built by this version of patternpress can be proved.",
    ),
    "seal-broken": (
        "The pages are not those that were built: something was changed afterwards.",
        _PRINTED,
    ),
    "facts-differ": (
        "The booklet was not built from this design as it is now.",
        "Build it again, or prove it against the design and edition it was built from.",
    ),
    "edition-differs": (
        "The booklet is the {found} edition; the design's facts are those of {asked}.",
        "Prove it with --edition {found}.",
    ),
    "content-damaged": ("The page cannot be drawn as it is written: {why}.", _PRINTED),
    "print-scaling": (
        "The print dialog would not open with “actual size”: the file says {found}.",
        _PRINTED,
    ),
    "page-size": ("The sheet is {width} × {height} mm, which is {why}.", _PRINTED),
    "printer-unsaid": (
        "The templates are stretched for one printer, but the head and the foot of the page do not "
        "both say that its bars measure {wanted}.",
        _PRINTED,
    ),
    "printer-unknown": (
        "The file says that it is for one printer, but not what its bars measure: “{said}”.",
        _PRINTED,
    ),
    "page-blank": ("The page is blank but for its foot.", _PRINTED),
    "page-sparse": (
        "The page holds but a line or two.",
        "Shorten the text or a picture before it, if you would rather save the sheet.",
    ),
    "page-number": ("The foot says “{said}”, but this is page {number} of {pages}.", _PRINTED),
    "contents-wrong": (
        "The contents send the reader to page {number} for “{title}”, which is not there.",
        _PRINTED,
    ),
    "page-wrong": ("“{text}” is printed, but what is meant is on page {number}.", _PRINTED),
    "page-unknown": ("“Page {said}” is named, but there are {pages} pages.", _PRINTED),
    "font-missing": (
        "The letters of {font} are not in the file, so each printer would use its own.",
        _PRINTED,
    ),
    "letters-unreadable": (
        "“{text}” cannot be read aloud or copied: its letters have no meaning in the file.",
        _PRINTED,
    ),
    "letters-small": (
        "“{text}” is set in letters of {size}; the least is {least}.",
        "Give the words more room in the theme or the drawing.",
    ),
    "words-cut": ("“{text}” is cut off at the edge of its {edge}.", "Give it more room."),
    "line-cut": ("A line is cut off at the edge of its {edge}, at {x}, {y} mm.", AUTHORS),
    "words-overlap": ("“{one}” and “{two}” are printed over each other.", "Give them more room."),
    "figure-undescribed": (
        "A picture says nothing to someone who cannot see it.",
        "Give it a description.",
    ),
    "not-tagged": ("The file has no structure for a screen reader.", _PRINTED),
    "link-outside": (
        "A link leads out of the booklet, to {target}.",
        "Take it out; a booklet leads nowhere but to its own pages.",
    ),
    "link-lost": ("A link leads nowhere ({target}).", _PRINTED),
    "action-found": ("The file would do something by itself ({what}).", _PRINTED),
    "licence-missing": ("The licence is not printed on the last pages.", _PRINTED),
    "licence-unsaid": (
        "No licence is printed, so a buyer cannot know what may be done with the pattern.",
        "Say it in the design, under “licence”.",
    ),
    "version-missing": ("The version {version} is not printed {where}.", _PRINTED),
    # -------------------------------------------------------------- templates
    "template-unnamed": (
        "A wide line {width} × {height} mm large looks like a part to cut, but belongs to none.",
        _PRINTED,
    ),
    "line-unnamed": ("A wide line of part {part} is not its outline.", _PRINTED),
    "template-covered": ("Something white covers the template of part {part}.", _PRINTED),
    "template-empty": ("The template of part {part} has no outline to cut along.", _PRINTED),
    "label-differs": (
        "The template of part {part} says {said}, but its outline measures {measured} mm.",
        _PRINTED,
    ),
    "letter-differs": ("The template of part {part} bears the letter {said}.", _PRINTED),
    "scale-unsaid": (
        "The template of part {part} is drawn at {scale}, and does not say so.",
        _PRINTED,
    ),
    "bar-missing": ("There is no bar {along} the page to check the print with.", _PRINTED),
    "bar-wrong": ("The bar {along} the page is out by {out} mm: {what}.", _PRINTED),
    "unit-foreign": (
        "“{said}” at part {part}: in the language of the booklet, “{found}” is “{wanted}”.",
        _PRINTED,
    ),
    "letter-unknown": ("Part {letter} is named here, but is in no list.", _PRINTED),
    "letter-unused": (
        "Part {letter} is in the cutting list, but no template and no step names it.",
        "Use the part in a step, or take it out of the design.",
    ),
    "number-differs": (
        "The templates of part {part} say to make {said}; the cutting list says {listed}.",
        _PRINTED,
    ),
    "head-differs": (
        "The head of the page promises the parts {said}; it shows {drawn}.",
        _PRINTED,
    ),
    # -------------------------------------------------------------- against the design
    "template-missing": ("The template of part {part}{hand} is not in the booklet.", _PRINTED),
    "template-extra": ("There is a template of part {part}{hand} that nobody asked for.", _PRINTED),
    "sheets-gap": (
        "The sheets of part {part}{hand} leave {gap} mm² of it out, or share too little to be "
        "joined.",
        _PRINTED,
    ),
    "seam-off": (
        "The {what} of part {part}{hand} is out by {out} mm: sheets joined by it lie untrue.",
        _PRINTED,
    ),
    "seam-wrong": ("The {what} of part {part}{hand} would mislead: {why}.", _PRINTED),
    "seam-missing": (
        "Sheets {one} and {two} of part {part}{hand} meet, and have no letter in common.",
        _PRINTED,
    ),
    "diagonal-differs": (
        "The diagonals of part {part}{hand} say {said}; their points are {measured} mm apart.",
        _PRINTED,
    ),
    "corner-missing": (
        "Part {part}{hand} shows {found} of the four points to measure its diagonals from.",
        _PRINTED,
    ),
    "sheet-differs": ("A sheet of part {part}{hand} says it is {said}; it is {wanted}.", _PRINTED),
    "sheet-off": (
        "The joining marks of part {part}{hand}, sheet {sheet}, are {out} mm from where its lines "
        "say they should be.",
        _PRINTED,
    ),
    "map-wrong": ("The map of the sheets of part {part}{hand} is wrong: {why}.", _PRINTED),
    "square-missing": ("There is no square to check the print with.", _PRINTED),
    "square-wrong": ("The square to check the print with is out by {out} mm: {what}.", _PRINTED),
    "outline-off": (
        "The outline of part {part}{hand} is out by {out} mm, at {x}, {y} mm on the sheet.",
        _PRINTED,
    ),
    "joint-off": (
        "The {name} of part {part}{hand} has its pieces joined {out} mm from where they should "
        "be, near {x}, {y} mm on the sheet.",
        _PRINTED,
    ),
    "area-off": (
        "The outline of part {part}{hand} encloses {measured} mm², not {wanted} mm².",
        _PRINTED,
    ),
    "hole-off": ("The {name} of part {part}{hand} is {out} mm from its place.", _PRINTED),
    "hole-size": (
        "The {name} of part {part}{hand} is {measured} mm across, not {wanted} mm.",
        _PRINTED,
    ),
    "hole-missing": ("The {name} of part {part}{hand} is not drawn.", _PRINTED),
    "mark-off": ("The {name} of part {part}{hand} is out by {out} mm.", _PRINTED),
    "mark-missing": ("The {name} of part {part}{hand} is not drawn.", _PRINTED),
    "drawn-extra": (
        "The template of part {part}{hand} shows {name}, which the design lacks.",
        _PRINTED,
    ),
    "list-differs": (
        "The cutting list says {said} for part {part}; the design says {wanted}.",
        _PRINTED,
    ),
    "card-differs": (
        "On a measure card part {part} comes to {said}, which is not its size in the cutting list.",
        _PRINTED,
    ),
    "list-missing": ("Part {part} is not in the cutting list.", _PRINTED),
    "list-extra": ("The cutting list names part {part}, which the design lacks.", _PRINTED),
    "size-unsaid": (
        "The template of part {part}{hand} does not give its size, {wanted}.",
        _PRINTED,
    ),
    "overall-differs": (
        "The finished size is given as {said}; the design comes to {wanted}.",
        _PRINTED,
    ),
    # -------------------------------------------------------------- figures in sentences
    "figure-lost": (
        "The figure {said} was written {wanted} times in this section; {found} are printed.",
        _PRINTED,
    ),
    "figure-unknown": ("“{said}” is printed here, and was never written.", _PRINTED),
}
