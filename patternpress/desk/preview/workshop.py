"""The workshop behind the author's page: one design, what is known of it, and changes to it.

In: the path of a design, and requests of the page.  Out: a `State` for the page after everything
that becomes known, and files changed on the author's word.  The work itself is done in a thread; a
newer text drops the round that is going on.
"""

from __future__ import annotations

import hashlib
import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from patternpress.assembly.model import Model
from patternpress.booklet.build import few_sweeps
from patternpress.booklet.writing import write_whole
from patternpress.closing.close import close
from patternpress.cutting.layouts import Layout, layouts
from patternpress.design.problem import Problem
from patternpress.design.read import Reading, open_text, read_text
from patternpress.desk import rooms
from patternpress.desk.hands import processors
from patternpress.desk.pressing import PressError, UnsoundError, build_edition
from patternpress.desk.preview.figures import figure_record, figure_rows, moved
from patternpress.desk.preview.finding import Sources, sources_of, spots_on
from patternpress.desk.preview.keeping import Recent
from patternpress.desk.preview.mate import Mate
from patternpress.desk.preview.pagepictures import lines_on, page_picture
from patternpress.desk.preview.rounds import News, Page, Seen, work
from patternpress.desk.report import Draw, records
from patternpress.proof.telling import as_text

MOST_KEPT = 500  # pieces of work: pictures, pressed sections
MOST_PICTURES = 300
MOST_UNDONE = 100
Listener = Callable[[], None]


class ConflictError(Exception):
    """The file is no longer what the page believes it to be; nothing was written."""


@dataclass(frozen=True)
class Proved:
    """What came of building an edition: whether it was written, and what its proof says."""

    edition: str
    sound: bool
    told: str


@dataclass(frozen=True)
class Making:
    """How far the building of all editions is: the one in hand, how many are done, of how many."""

    edition: str
    done: int
    of: int


@dataclass(frozen=True)
class State:
    """What the page shows.  `mark` is the fingerprint of the text that it is about."""

    revision: int = 0
    mark: str = ""
    busy: str = ""
    problems: tuple[Problem, ...] = ()
    draw: Draw | None = None
    reading: Reading | None = None
    models: dict[str, Model] = field(default_factory=dict)
    pages: dict[str, tuple[Page, ...]] = field(default_factory=dict)
    fault: str = ""
    built: tuple[str, ...] = ()
    proved: tuple[Proved, ...] = ()
    making: Making | None = None

    @property
    def sound(self) -> bool:
        """Whether booklets can be made of the design as it stands."""
        return self.reading is not None and not any(each.is_error for each in self.problems)


class Workshop:
    """Keeps one design under watch.  Every public method may be called from any thread."""

    def __init__(self, path: Path, out: Path) -> None:
        self.path = path
        self.out = out
        self.state = State()
        self.editions: tuple[str, ...] = ()
        self._cache = Recent(MOST_KEPT)
        self._pictures = Recent(MOST_PICTURES)
        self._seen: dict[str, Seen] = {}
        self._lock = threading.Lock()
        self._wake = threading.Condition(self._lock)
        self._wanted: str | None = None  # the newest text that nobody has begun with
        self._undo: list[tuple[str, str]] = []  # the text before a change of ours, and after it
        self._stop = False
        self._listeners: list[Listener] = []
        self._mate = Mate(processors())
        self._thread = threading.Thread(target=self._work, name="workshop", daemon=True)

    # ------------------------------------------------------------------ life

    def start(self) -> None:
        """Begin to work: read the file as it is."""
        self._thread.start()
        self.look()

    def close(self) -> None:
        """Stop after the piece of work that is going on."""
        with self._wake:
            self._stop = True
            self._wake.notify_all()
        self._thread.join(timeout=30)
        self._mate.close()

    def listen(self, listener: Listener) -> Callable[[], None]:
        """Call `listener` after every change of state; returns what ends that."""
        self._listeners.append(listener)
        return lambda: self._listeners.remove(listener) if listener in self._listeners else None

    # ------------------------------------------------------------------ what to work on

    def look(self) -> None:
        """Read the file; work on it if it is another text than the last."""
        text, problems = open_text(self.path, self.path.name)
        with self._wake:
            if text is None:
                self._tell(problems=problems, draw=None, reading=None, mark="")
                return
            if mark_of(text) != self.state.mark or self._wanted not in (None, text):
                self._want(text)

    def show(self, editions: Sequence[str]) -> None:
        """Show these editions, one or two, beside each other."""
        with self._wake:
            known = rooms.edition_names(self.state.reading) if self.state.reading else ()
            kept = [each for each in dict.fromkeys(editions) if each in known][:2]
            if kept and tuple(kept) != self.editions:
                self.editions = tuple(kept)
                self._want(self._text())

    def _want(self, text: str | None) -> None:
        """Have a text worked on next; until then nobody takes what is shown for the newest."""
        self._wanted = text
        if text is not None:
            self._tell(busy="Reading")
        self._wake.notify_all()

    def _text(self) -> str | None:
        return open_text(self.path, self.path.name)[0]

    # ------------------------------------------------------------------ changes

    def tried(self, text: str) -> dict[str, Any]:
        """What a changed text would bring: its problems, and the figures that move.

        What is found of it serves again once it is accepted.
        """
        reading = read_text(text, self.path.name, self.path.parent, self._cache)
        state = self.state
        problems = rooms.check(reading, list(state.models)[:1])
        known = {(each.code, each.what) for each in state.problems}
        fresh = [each for each in problems if (each.code, each.what) not in known]
        made: list[dict[str, str]] = []
        edition, model = next(iter(state.models.items()), ("", None))
        if model is not None and not any(each.is_error for each in problems):
            made = moved(model, close(reading, edition).model)
        return {"problems": records(fresh), "moved": made, "edition": edition}

    def change(self, text: str, mark: str) -> None:
        """Write a changed text; `mark` is the fingerprint of the one that was changed.

        Raises ConflictError when the file has become another one meanwhile.
        """
        with self._wake:
            before = self._current(mark)
            write_whole(self.path, text.encode())
            self._undo = [*self._undo, (before, text)][-MOST_UNDONE:]
            self._want(text)

    def undo(self) -> None:
        """Take the last change back; raises ConflictError when the file was changed since."""
        with self._wake:
            if not self._undo:
                raise ConflictError("there is nothing to take back.")
            before, after = self._undo[-1]
            self._current(mark_of(after))
            write_whole(self.path, before.encode())
            self._undo.pop()
            self._want(before)

    @property
    def undoable(self) -> int:
        """How many changes can be taken back."""
        return len(self._undo)

    def text(self, mark: str) -> str:
        """The file's text; raises ConflictError unless `mark` is its fingerprint."""
        with self._lock:
            return self._current(mark)

    def _current(self, mark: str) -> str:
        text = self._text()
        if text is None or mark_of(text) != mark:
            raise ConflictError("the file was changed meanwhile; look at it and try again.")
        return text

    # ------------------------------------------------------------------ building

    def build(self) -> tuple[str, ...]:
        """Make and prove every edition; returns the names of the files, which lie in `out`.

        An edition that its proof refuses is not written; `State.proved` tells why.  What is done
        is told after each edition.  Raises ConflictError where nothing can be made now.
        """
        with self._lock:
            reading = self.state.reading
            if reading is None or not self.state.sound:
                raise ConflictError("nothing is made while the design has errors.")
            if self.state.making is not None:
                raise ConflictError("the editions are being built already.")
            editions = rooms.edition_names(reading)
            self._tell(built=(), proved=(), making=Making(editions[0], 0, len(editions)))
        try:
            for number, edition in enumerate(editions):
                with self._lock:
                    self._tell(making=Making(edition, number, len(editions)))
                names, proved = self._made(reading, edition)
                with self._lock:
                    built, told = self.state.built, self.state.proved
                    self._tell(built=(*built, *names), proved=(*told, proved))
        finally:
            with self._lock:
                self._tell(making=None)
        return self.state.built

    def _made(self, reading: Reading, edition: str) -> tuple[tuple[str, ...], Proved]:
        """The names of the files of one edition, and what its proof says."""
        try:
            found = build_edition(reading, edition, self.out, cache=self._cache)
        except UnsoundError as error:
            return (), Proved(edition, False, as_text(error.report))
        except PressError as error:
            return (), Proved(edition, False, str(error))
        names = tuple(each.name for each in found.files)
        return names, Proved(edition, True, as_text(found.report) if found.report else "")

    # ------------------------------------------------------------------ the thread

    def _work(self) -> None:
        while True:
            with self._wake:
                while self._wanted is None and not self._stop:
                    self._wake.wait()
                if self._stop:
                    return
                text, self._wanted = self._wanted, None
                assert text is not None  # else the loop above would not have ended
                self._tell(busy="Reading", mark=mark_of(text))
            self._round(text)

    def _round(self, text: str) -> None:
        # Sweeping between two pieces of news took longer than some of them; now it comes last.
        with few_sweeps():
            shown = self.editions or ("",)
            for news in work(text, self.path, shown, self._seen, self._cache, self._mate):
                with self._lock:
                    if self._wanted is not None or self._stop:
                        return  # a newer text: this round would only delay it
                    self._take(news)
            with self._lock:
                self._tell(busy="")

    def _take(self, news: News) -> None:
        state = self.state
        if news.problems is not None:
            sound = not any(each.is_error for each in news.problems)
            pages = state.pages
            if not sound:  # the last good booklet stays in sight
                pages = {
                    name: tuple(replace(each, old=True) for each in found)
                    for name, found in pages.items()
                }
            busy = "Working it out" if sound else ""
            self._tell(
                problems=news.problems,
                draw=news.draw,
                reading=news.reading,
                pages=pages,
                busy=busy,
            )
            return
        if news.seen is not None:
            self._seen[news.edition] = news.seen
        models = state.models if news.model is None else self._models(news)
        pages = state.pages
        if news.pages is not None:
            shown = self.editions or (news.edition,)
            pages = {k: v for k, v in pages.items() if k in shown} | {news.edition: news.pages}
            self.editions = shown
        self._tell(models=models, pages=pages, fault=news.fault, busy="Pressing the pages")

    def _models(self, news: News) -> dict[str, Model]:
        assert news.model is not None
        shown = self.editions or (news.edition,)
        kept = {k: v for k, v in self.state.models.items() if k in shown}
        return kept | {news.edition: news.model}

    def _tell(self, **changes: Any) -> None:
        self.state = replace(self.state, revision=self.state.revision + 1, **changes)
        for listener in tuple(self._listeners):
            listener()

    # ------------------------------------------------------------------ looking things up

    def page(self, name: str) -> Page | None:
        """The page with this id, if it is among those shown."""
        found = (p for pages in self.state.pages.values() for p in pages if p.id == name)
        return next(found, None)

    def picture(self, page: Page, dpi: int) -> bytes:
        """A page as PNG; the same one is drawn once."""
        return bytes(
            self._once(f"png:{page.id}:{dpi}", lambda: page_picture(page.pdf, page.number, dpi))
        )

    def spots(self, page: Page, edition: str) -> dict[str, Any] | None:
        """What of a page comes from the design, and the fingerprint of the text that it is of."""
        model = self.state.models.get(edition)
        if model is None:
            return None
        mark = mark_of(dict(model.reading.sources).get(self.path.name, ""))
        sources: Sources = self._once(
            f"sources:{mark}:{edition}", lambda: sources_of(model, self.path.name)
        )
        spots = self._once(
            f"spots:{mark}:{edition}:{page.id}",
            lambda: spots_on(lines_on(page.pdf, page.number), sources),
        )
        return {"mark": mark, "spots": spots}

    def _once(self, key: str, make: Callable[[], Any]) -> Any:
        """What is kept under a key, made where it is not."""
        found = self._pictures.get(key)
        if found is None:
            found = self._pictures[key] = make()
        return found

    def problem_picture(self, number: int, mark: str) -> str:
        """The picture of a problem of the text with this fingerprint, as SVG; empty for none."""
        state = self.state
        if mark != state.mark or state.draw is None or not 0 <= number < len(state.problems):
            return ""
        draw, problem = state.draw, state.problems[number]
        return str(self._once(f"problem:{mark}:{number}", lambda: draw(problem) or ""))

    def numbers(self, edition: str) -> dict[str, int]:
        """The page of each section and step in the booklet last pressed."""
        seen = self._seen.get(edition)
        return dict(seen.numbers) if seen else {}

    @property
    def leading(self) -> str:
        """The edition shown first; no name before one is known."""
        return next(iter(self.editions), "")

    @property
    def model(self) -> Model | None:
        """The model of that edition; nothing before it is known."""
        return self.state.models.get(self.leading)

    def layouts(self, model: Model) -> tuple[Layout, ...]:
        """The cutting layouts of a model, each job laid out once."""
        return layouts(model, self._cache)

    def figures(self, edition: str) -> list[dict[str, Any]]:
        """The figures of the design file, as rows for the page."""
        model = self.state.models.get(edition)
        if model is None:
            return []
        return [figure_record(each) for each in figure_rows(model, self.path.name)]


def mark_of(text: str) -> str:
    """The fingerprint of a text."""
    return hashlib.blake2b(text.encode(), digest_size=12).hexdigest()
