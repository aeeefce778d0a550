"""How to mend what a proof finds: in a file just built, building it again would change nothing."""

from __future__ import annotations

from patternpress.proof.findings import Report, finding, fresh

FOUND = (
    finding("label-differs", 4, part="B", said="34 mm", measured=34.6),
    finding("words-cut", 5, text="Glue it", edge="page"),
)


def test_who_built_it_just_now_is_not_sent_to_build_it_again() -> None:
    report = Report("", "", "", 1, "", FOUND, (), ())
    assert "Build the booklet again" in report.findings[0].mend
    told = [each.mend for each in fresh(report).findings]
    assert told[0].startswith("The fault is patternpress's own")
    assert told[1] == "Give it more room."
    assert [each.what for each in fresh(report).findings] == [each.what for each in FOUND]
