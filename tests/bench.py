"""How fast a booklet is made, each figure as a ratio to a reference measured in the same run.

Run by `make bench` as `python -m tests.bench`.  Out: `build/bench.json`, a list of
{name, value, unit, goal, met}.  Times are the best of several rounds, one of each kind in turn,
so that a busy computer slows both sides alike.

The reference is the bare engine: WeasyPrint, given the same HTML and CSS as one document in one
go, with page numbers and running feet by its own means, fonts and tags as ours.  It does none of
what else a build does: working out, wording, drawing, caching, joining, lists.
"""

from __future__ import annotations

import itertools
import json
import re
import resource
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, MutableMapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

import weasyprint
from weasyprint.text.fonts import FontConfiguration

from patternpress.assembly.model import check
from patternpress.booklet.build import make_edition, press_model, sections_of
from patternpress.booklet.feet import Foot
from patternpress.booklet.fetch import Fence
from patternpress.booklet.fill import FIRST_DAY
from patternpress.booklet.join import BookInfo
from patternpress.booklet.press import VARIANT, Section, quiet_engine
from patternpress.booklet.pressroom import press_book
from patternpress.closing.close import close
from patternpress.design.read import Reading, read_design, read_text
from patternpress.proof.prove import prove
from tests import bench_closing, bench_cutting, bench_preview
from tests.bench_checks import hundreds, opens
from tests.bench_editions import editions
from tests.bench_pictures import hidden_lines, shares
from tests.bench_rows import Row, best, show
from tests.bench_templates import arrangement, templates_drawn
from tests.bench_themes import themes

ROOT = Path(__file__).parents[1]
DESIGN, EDITION = ROOT / "designs" / "keepers-desk.yaml", "both"
IN_STEPS, IN_FRONT = "so that the lines meet across them", "manner of a ship's office"
OUT = ROOT / "build" / "bench.json"
# Unix counts kibibytes, macOS bytes.
KIB = 1024 if sys.platform == "darwin" else 1

NATIVE = """
section + section { break-before: page }
.native::after { content: target-counter(attr(href url), page) }
@page { @bottom-left { content: "%s"; font-size: 8pt }
  @bottom-right { content: "page " counter(page) " of " counter(pages); font-size: 8pt } }
"""


@dataclass(frozen=True)
class Bench:
    """What is pressed: a sound design, and the sections of one edition."""

    reading: Reading
    sections: tuple[Section, ...]

    def build(self) -> None:
        """The whole of what `patternpress build` does for one edition, but for writing files."""
        self.reading.kept.clear()  # closed anew each time, as by a command
        self.reading.memory.clear()
        make_edition(self.reading, EDITION)

    def bare(self) -> None:
        """The same HTML in one document, given to the engine as it is."""
        document = one_document(self.sections)
        first = self.sections[0]
        with quiet_engine():
            fonts = FontConfiguration()
            sheets = [
                weasyprint.CSS(string=css, base_url=str(first.base), font_config=fonts)
                for css in (*first.css, NATIVE % "The booklet")
            ]
            page = weasyprint.HTML(string=document, base_url=str(first.base))
            page.write_pdf(stylesheets=sheets, font_config=fonts, pdf_variant=VARIANT)

    def press(self) -> None:
        """The pages alone, from the same HTML: what the reference is fairest to."""
        info = BookInfo("Bench", "", "en", "1", FIRST_DAY)
        foot = Foot("The booklet", "page {page} of {pages}", self.sections[0].css)
        press_book(self.sections, info, Fence((self.sections[0].base,)), foot=foot)

    def check(self) -> None:
        """What `patternpress check` does."""
        check(read_design(DESIGN))


def again(cache: MutableMapping[str, Any], old: str = "") -> Callable[[], None]:
    """Return the building of a design that was built before; `old` words get a new one behind.

    Everything from the text of the design to the bytes of the PDF, as when an author saves.
    """
    text = DESIGN.read_text(encoding="utf-8")
    if old not in text:
        raise ValueError(f"the design does not say “{old}”")
    numbers = itertools.count()

    def work() -> None:
        said = text.replace(old, f"{old} word{next(numbers)}", 1) if old else text
        reading = read_text(said, DESIGN.name, DESIGN.parent, cache)
        press_model(close(reading, EDITION).model, cache=cache)

    return work


def proved(reading: Reading) -> Callable[[], object]:
    """Return the proof of a finished booklet against its design."""
    made = make_edition(reading, EDITION)
    return lambda: prove(made.pdf, made.facts)


def load() -> Bench:
    """Read the design and compose its sections."""
    reading = read_design(DESIGN)
    model = close(reading, EDITION).model
    return Bench(reading, sections_of(model))


def one_document(sections: tuple[Section, ...]) -> str:
    """All sections in one document; page numbers are left to the engine."""
    head, _, _ = sections[0].html.partition("<section")
    bodies = (re.search(r"<section.*</section>", each.html, re.DOTALL) for each in sections)
    text = head + "".join(body[0] for body in bodies if body) + "</body></html>"
    return re.sub(
        r'<span data-page-of="([^"]+)"></span>', r'<a class="native" href="#\1"></a>', text
    )


def times(bench: Bench) -> list[Row]:
    """Everything that is timed in this process."""
    cache: dict[str, Any] = {}
    pages = make_edition(bench.reading, EDITION).pages
    found = best(
        {
            "bare": bench.bare,
            "press": bench.press,
            "build": bench.build,
            "rebuild": again(cache),
            "steps": again(cache, IN_STEPS),
            "front": again(cache, IN_FRONT),
            "check": bench.check,
            "proof": proved(bench.reading),
            "templates": templates_drawn(close(bench.reading, EDITION).model),
        }
    )
    full = found["build"]
    return [
        Row("pressing the pages, to the bare engine", found["press"] / found["bare"], goal=1.15),
        Row("a build, to the bare engine", found["build"] / found["bare"], goal=1.15),
        Row("after a word changed in the steps, to a build", found["steps"] / full, goal=0.35),
        Row("after a word changed in the front, to a build", found["front"] / full, goal=0.35),
        Row("with nothing changed, to a build", found["rebuild"] / full, goal=0.35),
        Row("a check, to a build", found["check"] / full, goal=0.05),
        Row("a proof against the design, to a build", found["proof"] / full, goal=0.25),
        Row("a proof, a page of the booklet", 1000 * found["proof"] / pages, "ms"),
        Row("drawing the templates, to a build", found["templates"] / full, goal=0.1),
        Row("a build", full, "s"),
        Row("the bare engine", found["bare"], "s"),
    ]


def peak(what: str) -> float:
    """The most memory, in MiB, of a process that does one thing once."""
    ran = subprocess.run(
        [sys.executable, "-m", "tests.bench", what],
        cwd=ROOT,
        check=True,
        capture_output=True,
        text=True,
    )
    return float(ran.stdout)


def memory() -> list[Row]:
    """Peak memory of a build against the bare engine, each in a process of its own."""
    build, bare = peak("build"), peak("bare")
    return [
        Row("memory of a build, to the bare engine", build / bare, goal=1.5),
        Row("memory of a build", build, "MiB"),
    ]


def start() -> list[Row]:
    """How long commands take to start, against starting the engine alone.

    The command line itself, as one that only explains; and with all that a check is made by.
    """

    def run(*words: str) -> Callable[[], None]:
        return lambda: (
            subprocess.run(
                [sys.executable, *words], check=True, cwd=ROOT, stdout=subprocess.DEVNULL
            )
            and None
        )

    desk = ("-m", "patternpress.desk")
    found = best(
        {
            "nothing": run("-c", "pass"),
            "engine": run("-c", "import weasyprint"),
            "desk": run(*desk, "explain"),
            "check": run(*desk, "check", "--help"),
        },
        time.perf_counter,
    )
    engine = found["engine"]
    return [
        Row("start of the command line, to that of the engine", found["desk"] / engine, goal=1),
        Row("start of a check, to that of the engine", found["check"] / engine, goal=1),
        Row("start of the command line, over a bare Python", found["desk"] - found["nothing"], "s"),
        Row("start of a check, over a bare Python", found["check"] - found["nothing"], "s"),
    ]


def layouts() -> list[Row]:
    """Sheets that the published cases take, against the best known and a general library."""
    cases = json.loads(bench_cutting.CASES.read_text(encoding="utf-8"))
    return [*bench_cutting.rows(cases, bench_cutting.bench(cases)), *bench_cutting.growth()]


def main() -> None:
    """Measure everything, write it down, and show it."""
    if len(sys.argv) > 1:
        bench = load()
        {"build": bench.build, "bare": bench.bare}[sys.argv[1]]()
        print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024 / KIB)
        return
    rows: list[Row] = []
    for found in _groups():
        for row in found:
            show(row)
        rows += found
    OUT.parent.mkdir(exist_ok=True)
    records = [{**asdict(row), "value": round(row.value, 4), "met": row.met} for row in rows]
    OUT.write_text(json.dumps(records, indent=2) + "\n", encoding="utf-8")
    print(f"Written to {OUT.relative_to(ROOT)}.")


def _groups() -> Iterator[list[Row]]:
    """The rows, a group of them as soon as it is measured."""
    # First, while this process is small: what it holds would count as its children's.
    yield memory()
    carcasses = bench_closing.Carcasses(bench_closing.CARCASSES)
    bench = load()
    yield times(bench)
    yield shares()
    yield bench_preview.rows()
    yield editions()
    yield themes()
    yield hundreds(make_edition(bench.reading, EDITION))
    yield opens()
    yield hidden_lines()
    yield arrangement()
    yield start()
    yield layouts()
    yield bench_closing.rows()
    yield carcasses.rows()


if __name__ == "__main__":
    main()
