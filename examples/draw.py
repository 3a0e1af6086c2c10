"""Draws the examples' outlines with ezdxf: python examples/draw.py, from the repository's root.

The parts are invented. Each drawing is written as another DXF version, with loose entities or polylines, as
drawings come in practice.
"""

import ezdxf
from ezdxf import units
from math import tan, radians

QUARTER = tan(radians(90) / 4)


def drawing(version, unit):
    doc = ezdxf.new(version)
    if version != "R12":
        doc.units = unit
    doc.layers.add("EDGE")
    return doc, doc.modelspace()


def rounded(width, height, radius):
    """A rectangle with round corners about the origin, as (x, y, bulge)."""
    x, y, r = width / 2, height / 2, radius
    return [
        (-x + r, -y, 0), (x - r, -y, QUARTER), (x, -y + r, 0), (x, y - r, QUARTER),
        (x - r, y, 0), (-x + r, y, QUARTER), (-x, y - r, 0), (-x, -y + r, QUARTER),
    ]


def vane_slot(path, width):
    """A narrow slot with small round corners, from loose lines and arcs."""
    doc, space = drawing("R2000", units.MM)
    x, y, r = 1.1, width / 2, 0.05
    at = {"layer": "EDGE"}
    space.add_line((-x + r, -y), (x - r, -y), at)
    space.add_arc((x - r, -y + r), r, 270, 360, dxfattribs=at)
    space.add_line((x, -y + r), (x, y - r), at)
    space.add_arc((x - r, y - r), r, 0, 90, dxfattribs=at)
    space.add_line((x - r, y), (-x + r, y), at)
    space.add_arc((-x + r, y - r), r, 90, 180, dxfattribs=at)
    space.add_line((-x, y - r), (-x, -y + r), at)
    space.add_arc((-x + r, -y + r), r, 180, 270, dxfattribs=at)
    space.add_text("VANE SLOT", dxfattribs={"height": 0.2, "layer": "NOTES"})
    doc.saveas(path)


def head(path):
    """A round hole and a slot in one drawing."""
    doc, space = drawing("R2010", units.MM)
    space.add_circle((-2.4, 0.3), 0.6, dxfattribs={"layer": "EDGE"})
    x, r = 1.6, 0.25
    slot = [(x - 1.2, -r, 0), (x + 1.2, -r, 1), (x + 1.2, r, 0), (x - 1.2, r, 1)]
    space.add_lwpolyline(slot, format="xyb", close=True, dxfattribs={"layer": "EDGE"})
    doc.saveas(path)


def tip(path):
    """The leaf's tip: a blank with a shoulder."""
    doc, space = drawing("R2018", units.MM)
    q = QUARTER
    points = [
        (-0.9, -0.6, 0), (0.75, -0.6, q), (0.9, -0.45, 0), (0.9, 0.1, q), (0.75, 0.25, 0),
        (0.3, 0.25, -q), (0.2, 0.35, 0), (0.2, 0.65, q), (0.05, 0.8, 0), (-0.9, 0.8, q),
        (-1.05, 0.65, 0), (-1.05, -0.45, q),
    ]
    space.add_lwpolyline(points, format="xyb", close=True, dxfattribs={"layer": "EDGE"})
    doc.saveas(path)


def contact(path):
    """A contact's window in inches, as an old polyline."""
    doc, space = drawing("R12", units.IN)
    space.add_polyline2d(rounded(0.070, 0.032, 0.006), format="xyb", close=True, dxfattribs={"layer": "EDGE"})
    doc.saveas(path)


if __name__ == "__main__":
    vane_slot("examples/relay-leaf/vane-slot.dxf", 0.310)
    head("examples/relay-leaf/head.dxf")
    tip("examples/relay-leaf/tip.dxf")
    vane_slot("examples/too-fine/vane-slot.dxf", 0.210)
    head("examples/too-fine/head.dxf")
    contact("examples/inch-contact/window.dxf")
