"""Problems of form: what stops a file from being read at all, or a field from being one."""

from patternpress.design.problem import Kind, Level


class FileTooLarge(Kind):
    """A design file is larger than any real design.

    At the bench: nothing can go wrong; the program only refuses to spend an hour on it.

    To mend: split off words and stock into a shared file, or take out what was pasted in by
    mistake.
    """

    what = "this file is too long; at most {most} characters are read"


class TooDeep(Kind):
    """Entries are nested inside each other deeper than any design needs.

    At the bench: usually a line has slipped far to the right and hangs under the wrong entry.

    To mend: bring the line back to the column of its neighbours.
    """

    what = "entries are nested more than {most} deep"


class TooManyEntries(Kind):
    """A file expands to more entries than any real design has.

    At the bench: nothing; repeated references (`*name`) can multiply without end.

    To mend: write the part out once and use `pieces` for its copies.
    """

    what = "this file expands to more than {most} entries"


class UnknownAlias(Kind):
    """A `*` at the start of a value refers to something that was never named.

    At the bench: a star is often meant as a bullet or as a times sign.

    To mend: write list entries with `-`, and put text that starts with a star in quotes.
    """

    what = "“*{name}” refers to nothing"


class StrangeKey(Kind):
    """A list or a group of entries stands where a name should.

    At the bench: the file was meant otherwise; often a `?` or a bracket opens the line.

    To mend: write a plain name before the colon.
    """

    what = "a name was expected before the colon"


class FieldTwice(Kind):
    """The same field or name is written twice in one place.

    At the bench: one of the two figures would win silently, and the other may be right.

    To mend: keep one of them, or give the second a name of its own.
    """

    what = "“{name}” stands here already, in line {line}"


class StrangeCharacter(Kind):
    """The file holds a character that cannot be printed.

    At the bench: it comes from copying out of another program and would print as a box.

    To mend: delete the character and type it again; save the file as plain text in UTF-8.
    """

    what = "a character here cannot be read"


class ColonInSentence(Kind):
    """A sentence holds a colon followed by a space.

    At the bench: the file reader takes what stands before a colon for the name of a field, so
    half of the sentence would be lost.

    To mend: put the sentence in double quotes, or use a dash or a comma in place of the colon.
    """

    what = "this sentence holds a colon, which here means “name: value”"


class CommaInBraces(Kind):
    """Inside braces a comma divides fields, and what follows it here is no field.

    At the bench: what stands behind the comma would be lost.

    To mend: write `and` in place of the comma, put the text in quotes, or give each field a
    line of its own.
    """

    what = "“{text}” stands behind a comma inside braces and has no value of its own"


class QuestionInBraces(Kind):
    """Inside braces a question mark stands before a comma.

    At the bench: there it has a meaning of its own, and the line cannot be read.

    To mend: put the question in quotes, or give each field a line of its own.
    """

    what = "inside braces a question that ends before a comma must be in quotes"


class TabInIndent(Kind):
    """A line is moved in with a tab.

    At the bench: tabs show differently in every editor, so nobody can see what belongs to what.

    To mend: use spaces, two for each level.
    """

    what = "a tab stands where spaces are needed"


class StrangeStart(Kind):
    """A value starts with a sign that has a meaning of its own in this kind of file.

    At the bench: the text would be read as something else.

    To mend: put the whole text in double quotes.
    """

    what = "a text cannot start with this sign unless it is in quotes"


class QuoteNotClosed(Kind):
    """A quotation mark is opened and never closed.

    At the bench: everything after it would be swallowed as one text.

    To mend: close the quotation mark, and double it where it belongs to the text.
    """

    what = "the quotation mark that opens here is never closed"


class BadIndent(Kind):
    """A line starts in a column that fits neither the entry above nor a new one.

    At the bench: it is not clear which part or step the line belongs to.

    To mend: line it up with its neighbours, two spaces for each level.
    """

    what = "this line is moved in differently from its neighbours"


class ColonMissing(Kind):
    """A line looks like a field but has no colon with a space after its name.

    At the bench: the field would be read as part of the text above it.

    To mend: write `name: value`, with a space after the colon.
    """

    what = "a colon and a space are missing after this name"


class BracketNotClosed(Kind):
    """A bracket or brace is opened and never closed, or a comma is missing inside it.

    At the bench: everything after it would be read as part of the list.

    To mend: close it, or write the entries on lines of their own.
    """

    what = "the bracket is not closed, or a comma is missing"


class CannotRead(Kind):
    """The file breaks a rule of the format in a way that has no friendlier name.

    At the bench: nothing can be drawn until the file can be read.

    To mend: compare the line and the one above it with an example in designs/README.md.
    """

    what = "this line cannot be read ({words})"


class EmptyDesign(Kind):
    """The file holds no design.

    At the bench: there is nothing to make.

    To mend: start from `patternpress new NAME`, or from the example in designs/README.md.
    """

    what = "this file holds no design"


class SecondDesign(Kind):
    """A line of `---` begins a second design in the same file.

    At the bench: only the first one would be printed, and the other lost without a word.

    To mend: take the line of dashes out, or give each design a file of its own.
    """

    what = "a second design begins here, after a line of dashes"


class UnknownField(Kind):
    """A field is not one that belongs here.

    At the bench: what it says would be left out of the booklet without a word.

    To mend: use one of the fields that belong here.
    """

    what = "“{name}” is no field of {table}"
    mend = "Fields here: {fields}."


class FieldMissing(Kind):
    """A field that is needed is not there.

    At the bench: the piece could not be made from what is left.

    To mend: add the field.
    """

    what = "{table} needs “{name}”"
    mend = "Add “{name}: {example}”."


class EmptyField(Kind):
    """A field has a name and nothing after the colon.

    At the bench: an empty figure is a guess for the buyer.

    To mend: write the value, or take the line out.
    """

    what = "nothing is said for “{name}”"


class WrongShape(Kind):
    """A list, a group of fields or a plain text stands where another of the three belongs.

    At the bench: the program cannot tell which piece each figure is for.

    To mend: write it in the form shown.
    """

    what = "“{name}” should be {wanted}, and this is {found}"
    mend = "Write it like this: {example}."


class OneOf(Kind):
    """Exactly one of several fields must be said, and none or more than one is.

    At the bench: a hole that is round and a slot at once cannot be cut.

    To mend: keep exactly one of them.
    """

    what = "{table} needs exactly one of {fields}; here {found}"


class NotAWord(Kind):
    """A field that takes one of a few words holds another.

    At the bench: the booklet would print something else than meant.

    To mend: use one of the words.
    """

    what = "“{text}” is none of the words that “{name}” takes"
    mend = "Write one of: {words}."


class NotADate(Kind):
    """A date is not written as year, month, day.

    At the bench: 3/4 is March to some buyers and April to others.

    To mend: write it like 2026-11-25.
    """

    what = "“{text}” is no date"


class NotAScale(Kind):
    """A scale is not written as one whole number to another.

    At the bench: the finished size at full scale would be wrong.

    To mend: write 1:12, or 1:1 for full size.
    """

    what = "“{text}” is no scale"


class NotMoney(Kind):
    """A price is not an amount, or names no currency that is known.

    At the bench: the sum on the buying list would be wrong.

    To mend: write the amount and the currency's three letters, like 4.50 EUR.
    """

    what = "“{text}” is no price"


class BadName(Kind):
    """A name holds a word or sign that means something else in sentences and formulas.

    At the bench: inside a sentence or a sum, such a name could be read in two ways.

    To mend: choose another name: letters, figures, spaces and hyphens, starting with a letter.
    """

    what = "“{text}” cannot be a name: {reason}"


class LongText(Kind):
    """A text is longer than a page can hold.

    At the bench: buyers do not read a page-long sentence with glue on their fingers.

    To mend: divide it into steps or tips.
    """

    level = Level.ERROR
    what = "this text has {size} characters; at most {most} fit"
