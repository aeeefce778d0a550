"""The pictures of the demo designs, drawn once for all tests of pictures."""

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from patternpress.assembly.model import Model, edition_names, work_out
from patternpress.design.read import read_design
from patternpress.drawing.details import Detail, detail_of
from patternpress.drawing.framing import BESIDE, Picture
from patternpress.drawing.pictures import Staged, state_picture, step_picture
from patternpress.drawing.picturestyle import PictureStyle
from patternpress.drawing.scenes import StepScene, step_scenes
from patternpress.drawing.steady import steady_scales
from patternpress.drawing.things import Bulks, bulks_of
from patternpress.drawing.views import Choice, choose_views

DESIGNS = Path(__file__).parents[2] / "designs"
DEMOS = ("keepers-desk", "signal-shelf", "net-tote", "smaller/oil-cupboard")
STYLE = PictureStyle()


@dataclass(frozen=True, eq=False)
class Drawn:
    """One step: its scene, the choice of its view, its detail if any, and both its pictures."""

    scene: StepScene
    choice: Choice
    detail: Detail | None
    action: Picture
    state: Picture

    def __str__(self) -> str:
        return f"step {self.scene.number}"


@cache
def model_of(demo: str) -> Model:
    """A demo in its first edition."""
    reading = read_design(DESIGNS / f"{demo}.yaml")
    assert reading.book is not None
    return work_out(reading, edition_names(reading.book)[0])


@cache
def bulks_for(demo: str) -> Bulks:
    """The solids of a demo's parts."""
    return bulks_of(model_of(demo).worked)


@cache
def scenes_of(demo: str) -> tuple[StepScene, ...]:
    """The joining steps of a demo."""
    return step_scenes(model_of(demo), bulks_for(demo))


@cache
def drawn_steps(demo: str) -> tuple[Drawn, ...]:
    """The joining steps of a demo with their pictures."""
    scenes = scenes_of(demo)
    found = []
    choices = choose_views(scenes)
    for choice, most in zip(choices, steady_scales(choices, BESIDE), strict=True):
        scene, detail = choice.scene, detail_of(choice)
        title = f"Step {scene.number} of {demo}"
        action = step_picture(Staged(choice, detail=detail, most=most), title, STYLE)
        state = state_picture(scene, choice, title, STYLE, most=action.scale)
        found.append(Drawn(scene, choice, detail, action, state))
    return tuple(found)
