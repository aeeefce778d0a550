"""Pages that the words name, told from pieces that are called as a page is."""

import pytest

from patternpress.proof.papers import page_said


@pytest.mark.parametrize(
    ("words", "pages"),
    [
        ("See its template: page 11.", ["11"]),
        ("Siehe Karte: Schritt 6, Seite 18.", ["18"]),
        ("ab Seite 14, und Seite 7", ["14", "7"]),
        # In German a side is called as a page is: a row of the cutting list, and a template.
        ("A 2 Seite 72 × 18 × 2 mm unten–oben", []),
        ("A 2 Seite 72 (2 53/64 in)", []),
        ("Seite 72 mm", []),
        ("2 page 1 3/4 × 5/64 po", []),
        ("Seite 71,9 × 18 × 2 mm", []),
    ],
)
def test_a_page_is_told_from_a_side(words: str, pages: list[str]) -> None:
    assert page_said("fr").findall(words) == pages
