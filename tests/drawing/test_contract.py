"""The template contract catches each breach and is silent on a sound drawing."""

import pytest

from patternpress.drawing.contract import check_template

SOUND = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="10mm" viewBox="0 0 20 10">'
    "<title>Template of a rail</title>"
    '<g fill="none"><path d="M0 0L5 0C6 0 7 1 7 2Z" stroke-width="0.5" stroke-dasharray="3 0.75"/>'
    '<text><tspan x="1" y="-2.5" font-size="3.7879">rail</tspan></text></g></svg>'
)


def test_a_sound_template_has_no_faults() -> None:
    assert check_template(SOUND) == []


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("<g ", '<circle r="3"/><g ', "element circle"),
        ("<g ", '<path d="M0 0A5 5 0 0 1 5 5"/><g ', "is not M, L, C and Z"),
        ("M0 0L5 0", "M0 0l5 0", "is not M, L, C and Z"),
        ("M0 0L5 0", "M0 0L5 0 6", "path command L with 3 numbers"),
        ("M0 0L5 0", "M0 0L5.00001 0", "is not M, L, C and Z"),
        ("M0 0L5 0", "M0 0L5e1 0", "is not M, L, C and Z"),
        ("M0 0L5 0", "M-0 0L5 0", "path number -0"),
        ('stroke-width="0.5"', 'stroke-width="0.4"', "line width 0.4 is not of ISO 128"),
        ('viewBox="0 0 20 10"', 'viewBox="0 0 200 100"', "not the same millimetres"),
        ('width="20mm"', 'width="20"', "not the same millimetres"),
        ("<title>Template of a rail</title>", "", "not one title"),
        ("Template of a rail", "x", "the title says nothing"),
        ('font-size="3.7879"', 'font-size="2"', "letters of 2 mm are too small"),
        ('x="1"', 'x="-0"', "'-0' is not a plain number"),
        ('fill="none"', 'style="fill:none"', "g has style"),
        ("</svg>", "", "no XML"),
    ],
)
def test_each_breach_is_caught(old: str, new: str, said: str) -> None:
    assert old in SOUND
    found = check_template(SOUND.replace(old, new))
    assert any(said in fault for fault in found), found
