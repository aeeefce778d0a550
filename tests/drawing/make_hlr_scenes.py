"""Make hlr_scenes.json: the visible lines of the scenes as another engine finds them.

The engine is Open CASCADE's HLRBRep_Algo, an exact hidden-line removal on boundary models.
Run by `make lines-data`, which gives the engine a virtual environment of its own.

Facets become planar faces, sewn to shells and made solids; every solid goes into one
HLRBRep_Algo.  Sharp, smooth and outline edges that it calls visible are written as they
come, in mm on the paper; the test joins collinear ones on both sides before it compares.
"""

import json
from collections.abc import Sequence
from pathlib import Path

import OCP
from OCP.BRep import BRep_Tool
from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakePolygon,
    BRepBuilderAPI_MakeSolid,
    BRepBuilderAPI_Sewing,
)
from OCP.BRepLib import BRepLib
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
from OCP.HLRAlgo import HLRAlgo_Projector
from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape
from OCP.TopAbs import TopAbs_EDGE, TopAbs_SHELL, TopAbs_VERTEX
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS, TopoDS_Shape

from patternpress.assembly.solid import Solid
from patternpress.drawing.projection import View
from tests.drawing.solid_scenes import SCENES, Scene

DATA = Path(__file__).with_name("hlr_scenes.json")
Segment = tuple[float, float, float, float]


def occ_solid(solid: Solid) -> TopoDS_Shape:
    sewing = BRepBuilderAPI_Sewing(1e-7)
    for facet in solid.facets:
        wires = []
        for loop in facet.loops:
            polygon = BRepBuilderAPI_MakePolygon()
            for number in loop:
                polygon.Add(gp_Pnt(*solid.points[number]))
            polygon.Close()
            wires.append(polygon.Wire())
        face = BRepBuilderAPI_MakeFace(wires[0], True)
        for wire in wires[1:]:
            face.Add(wire)
        sewing.Add(face.Face())
    sewing.Perform()
    shell = TopExp_Explorer(sewing.SewedShape(), TopAbs_SHELL).Current()
    made = BRepBuilderAPI_MakeSolid(TopoDS.Shell(shell)).Solid()
    BRepLib.OrientClosedSolid_s(made)
    return made


def visible_segments(scene: Scene, view: View) -> list[Segment]:
    return segments_of([occ_solid(solid) for _, solid in scene], view)


def segments_of(solids: Sequence[TopoDS_Shape], view: View) -> list[Segment]:
    algorithm = HLRBRep_Algo()
    for solid in solids:
        algorithm.Add(solid)
    axes = gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(*view.toward), gp_Dir(*view.right))
    algorithm.Projector(HLRAlgo_Projector(axes))
    algorithm.Update()
    algorithm.Hide()
    shapes = HLRBRep_HLRToShape(algorithm)
    found: list[Segment] = []
    for lines in (shapes.VCompound(), shapes.Rg1LineVCompound(), shapes.OutLineVCompound()):
        if lines is None or lines.IsNull():
            continue
        edges = TopExp_Explorer(lines, TopAbs_EDGE)
        while edges.More():
            found.append(_ends(edges.Current()))
            edges.Next()
    return found


def _ends(edge: TopoDS_Shape) -> Segment:
    ends: list[float] = []
    corners = TopExp_Explorer(edge, TopAbs_VERTEX)
    while corners.More():
        point = BRep_Tool.Pnt_s(TopoDS.Vertex(corners.Current()))
        ends += [round(point.X(), 9), round(point.Y(), 9)]
        corners.Next()
    x1, y1, x2, y2 = ends
    return x1, y1, x2, y2


def main() -> None:
    rows = {name: sorted(visible_segments(*case)) for name, case in SCENES.items()}
    about = f"HLRBRep_Algo of Open CASCADE, cadquery-ocp {OCP.__version__}; see the script"
    lines = ",\n".join(f"{json.dumps(name)}: {json.dumps(row)}" for name, row in rows.items())
    DATA.write_text(f'{{"made with": {json.dumps(about)},\n{lines}\n}}\n', encoding="utf-8")


if __name__ == "__main__":
    main()
