"""The articles of names: “le fond” in a sentence, “Fond” in a list, “du fond” after “de”.

In: a name as its author gives it for a language, with its article or without.  Out: the bare name,
and what it becomes in sentences.  Whoever knows a language gives the article without thinking; it
tells the gender, and with it all that bends.  A language needs a row here only where names come
with articles; without a row, its names stay as they are.  The grammar is from memory.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

# The forms that texts may ask for: of a bare name (the_acc: with its article, after a verb;
# bare_dat: without, as “mit dünnem Öl”; some: of stuff, as “de la colle”), and of words that have
# their article already.
DETERMINERS = ("the", "each", "first", "some")
CASES = ("acc", "dat", "gen")
BARE_FORMS = (*DETERMINERS, "the_acc", "the_dat", "the_gen", "bare_dat")
EVERYWHERE = "everywhere"  # the form that every text of a language takes
Bent = Mapping[str, Mapping[str, str]]


@dataclass(frozen=True)
class Article:
    """What becomes of a name with this article.

    `ending` is that of adjectives where the article is left out, `dative` the same in the dative,
    where the language has one; `said` has the words before the
    name by determiner, in each case where the language has cases; `contracted` what becomes of a
    preposition and the article; `possessed`, whether the noun too ends otherwise in the genitive.
    """

    ending: str = "e"
    dative: str = "e"
    said: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    contracted: Mapping[str, str] = field(default_factory=dict)
    possessed: bool = False


_DEM = {"von dem ": "vom ", "an dem ": "am ", "in dem ": "im ", "zu dem ": "zum "}
# German: der kleine Fuß, den kleinen Fuß, dem kleinen Fuß, des kleinen Fußes; listed “kleiner Fuß”.
_GERMAN = {
    "der ": Article(
        "er",
        "em",
        {
            "the": ("der ", "den ", "dem ", "des "),
            "each": ("jeder ", "jeden ", "jedem ", "jedes "),
            "first": ("der erste ", "den ersten ", "dem ersten ", "des ersten "),
        },
        _DEM,
        possessed=True,
    ),
    "die ": Article(
        "e",
        "er",
        {
            "the": ("die ", "die ", "der ", "der "),
            "each": ("jede ", "jede ", "jeder ", "jeder "),
            "first": ("die erste ", "die erste ", "der ersten ", "der ersten "),
        },
        {"zu der ": "zur "},
    ),
    "das ": Article(
        "es",
        "em",
        {
            "the": ("das ", "das ", "dem ", "des "),
            "each": ("jedes ", "jedes ", "jedem ", "jedes "),
            "first": ("das erste ", "das erste ", "dem ersten ", "des ersten "),
        },
        _DEM,
        possessed=True,
    ),
}
# French nouns do not bend.  Only before a name is “de le” contracted: “de le voir” stays.
_FRENCH = {
    "le ": Article(
        said={
            "the": ("le ",),
            "each": ("chaque ",),
            "first": ("le premier ",),
            "some": ("du ",),
        },
        contracted={"de le ": "du ", "à le ": "au "},
    ),
    "la ": Article(
        said={
            "the": ("la ",),
            "each": ("chaque ",),
            "first": ("la première ",),
            "some": ("de la ",),
        }
    ),
    "les ": Article(
        said={"the": ("les ",), "some": ("des ",)}, contracted={"de les ": "des ", "à les ": "aux "}
    ),
    "l’": Article(said={"the": ("l’",), "each": ("chaque ",), "some": ("de l’",)}),
}
ARTICLES: Mapping[str, Mapping[str, Article]] = {
    "de": _GERMAN,
    "fr": {**_FRENCH, "l'": _FRENCH["l’"]},
}


def bare(language: str, name: str) -> str:
    """The name without its article, as it stands in lists: “kleiner Fuß” of “der kleine Fuß”."""
    noun, article = _split(language, name)
    return _ending(noun, article.ending) if article else name


@lru_cache(maxsize=64)
def bent(language: str, given: Sequence[str]) -> Bent:
    """What names become, by form: {"the": {"fond": "le fond"}, "everywhere": {"de le fond": …}}.

    In English what has a number has no article: “divider 1”.
    """
    made: dict[str, dict[str, str]] = {form: {} for form in (*BARE_FORMS, *CASES, EVERYWHERE)}
    if language.partition("-")[0] == "en":
        counted = (name for name in given if name[-1:].isdecimal())
        made[EVERYWHERE] = {f"the {name}": name for name in counted}
    for name in given:
        noun, article = _split(language, name)
        if article is None:
            continue
        plain, weak = _ending(noun, article.ending), _ending(noun, "en")
        made["bare_dat"][plain] = _ending(noun, article.dative)
        for determiner, starts in article.said.items():
            said = starts[0] + noun
            made[determiner][plain] = said
            for case, start in zip(CASES, starts[1:], strict=False):
                own = case == "gen" and article.possessed
                bends = own or start != starts[0]
                other = start + (_genitive(weak) if own else weak if bends else noun)
                made[case][said] = other
                if determiner == "the":
                    made[f"the_{case}"][plain] = other
        for before, after in article.contracted.items():
            nouns = {noun, weak, *(f"{each}{weak}" for each in _first(article))}
            made[EVERYWHERE].update({before + each: after + each for each in sorted(nouns)})
    return made


def _first(article: Article) -> tuple[str, ...]:
    """What stands between article and noun of the first one, where it is contracted: “ersten ”."""
    return tuple(each.partition(" ")[2] for each in article.said.get("first", ())[-1:])


def _split(language: str, name: str) -> tuple[str, Article | None]:
    """A name without the article that it begins with, and that article."""
    known = ARTICLES.get(language.partition("-")[0], {})
    start = next((each for each in known if name.startswith(each) and name != each), "")
    return name[len(start) :], known.get(start)


def _genitive(name: str) -> str:
    """A German name of a masculine or neuter thing in the genitive: “Bodens”, “Klotzes links”."""
    words = name.split(" ")
    head = next((at for at, word in enumerate(words) if not word.islower()), 0)
    word = words[head]
    if word.endswith("nis"):
        ending = "ses"
    elif word.endswith("us") and not word.endswith("aus"):
        ending = ""  # des Korpus, des Radius
    else:
        ending = "es" if word.endswith(("s", "ß", "x", "z", "sch", "st")) else "s"
    words[head] = word + ending if word[-1:].isalpha() else word
    return " ".join(words)


def _ending(noun: str, ending: str) -> str:
    """A noun whose adjectives, small words in “-e” before it, end otherwise."""
    words = noun.split(" ")
    head = next((at for at, word in enumerate(words) if not word.islower()), 0)
    return " ".join(
        f"{word[:-1]}{ending}" if at < head and word.endswith("e") else word
        for at, word in enumerate(words)
    )
