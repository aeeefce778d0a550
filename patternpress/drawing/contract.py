"""The contract of a template's SVG, and the check of it.

In: SVG text.  Out: what breaks the contract, in words; nothing if it holds.
"""

import re
import xml.etree.ElementTree as ET

NAMESPACE = "{http://www.w3.org/2000/svg}"
ALLOWED = {"svg", "g", "path", "text", "tspan", "title"}
_PLAIN = r"-?\d+(?:\.\d{1,4})?"
_NUMBER = re.compile(_PLAIN)
_PATH = re.compile(rf"(?:[MLCZ](?:{_PLAIN}(?: {_PLAIN})*)?)+")
_LENGTHS = {"x", "y", "font-size", "stroke-width", "stroke-dasharray", "viewBox"}
_WIDTHS = {"0.13", "0.18", "0.25", "0.35", "0.5", "0.7", "1", "1.4", "2"}
_LEAST_LETTER = 1.8 / 0.7  # font size of 1.8 mm digits in a face with capitals of 0.7 or less
_COUNTS = {"M": 2, "L": 2, "C": 6, "Z": 0}


def check_template(svg_text: str) -> list[str]:
    """Return every breach of the contract.

    Only svg, g, path, text, tspan and one title with words; paths only M, L, C and Z; view
    box and size alike in mm; widths of ISO 128; numbers plain, at most four decimals; no
    styles but attributes; digits no smaller than 1.8 mm.
    """
    try:
        root = ET.fromstring(svg_text)
    except ET.ParseError as error:
        return [f"no XML: {error}"]
    found = [*_page(root)]
    for element in root.iter():
        name = element.tag.removeprefix(NAMESPACE)
        if name not in ALLOWED:
            found.append(f"element {name}")
        found += _attributes(name, element)
    return found


def _page(root: ET.Element) -> list[str]:
    found = []
    box = root.get("viewBox", "").split()
    expected = ["0", "0", *(root.get(side, "").removesuffix("mm") for side in ("width", "height"))]
    if root.tag != f"{NAMESPACE}svg" or box != expected or not root.get("width", "").endswith("mm"):
        found.append("view box and size are not the same millimetres")
    titles = root.findall(f".//{NAMESPACE}title")
    if len(titles) != 1 or titles[0] not in list(root):
        found.append("not one title under svg")
    elif len((titles[0].text or "").split()) < 3:
        found.append("the title says nothing")
    return found


def _attributes(name: str, element: ET.Element) -> list[str]:
    found = [f"{name} has {key}" for key in ("style", "class") if key in element.attrib]
    for key in sorted(_LENGTHS & element.attrib.keys()):
        values = element.attrib[key].split()
        wrong = [value for value in values if not _NUMBER.fullmatch(value) or value == "-0"]
        found += [f"{name} {key} {value!r} is not a plain number" for value in wrong]
    width = element.get("stroke-width")
    if width is not None and width not in _WIDTHS:
        found.append(f"line width {width} is not of ISO 128")
    size = element.get("font-size")
    if size is not None and _NUMBER.fullmatch(size) and float(size) < _LEAST_LETTER:
        found.append(f"letters of {size} mm are too small")
    if name == "path":
        found += _path_data(element.get("d", ""))
    return found


def _path_data(data: str) -> list[str]:
    if not data.startswith("M") or not _PATH.fullmatch(data):
        return [f"path data {data[:40]!r} is not M, L, C and Z with plain numbers"]
    found = []
    for command, rest in re.findall(r"([MLCZ])([^MLCZ]*)", data):
        values = rest.split()
        if len(values) != _COUNTS[command]:
            found.append(f"path command {command} with {len(values)} numbers")
        if "-0" in values:
            found.append("path number -0")
    return found
