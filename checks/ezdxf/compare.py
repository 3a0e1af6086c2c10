"""Runs `kerfwright survey` on the drawings of write.py and compares with closed forms and with what ezdxf reads: compare.py BINARY FOLDER.

For each outline: area and perimeter by closed form; every point of ezdxf's own entities lies on the surveyed outline, and every vertex and
middle of the outline on ezdxf's entities. For each drawing: units, who said so, what was passed over, no error. Ends with a line `reference: ...`.
"""

import json
import math
import subprocess
import sys
from pathlib import Path

import ezdxf
import numpy as np

# Drawings hold 16 digits and coordinates up to a few hundred units; what is left is rounding, as a share of the unit.
SHARE = 1e-9


def survey(binary, path, in_mm=1.0):
    """The join limit shrinks with the unit, or outlines of a few micrometres would be nothing but joints."""
    limit = str(0.001 * min(1.0, in_mm))
    command = [binary, "survey", str(path), "--json", "--join-limit", limit]
    run = subprocess.run(command, capture_output=True, text=True, timeout=60)
    return run.returncode, json.loads(run.stdout) if run.stdout.strip() else None


def curves(entity):
    """The LINE and ARC entities that ezdxf makes of an entity, circles as they are."""
    if entity.dxftype() in ("LWPOLYLINE", "POLYLINE"):
        return list(entity.virtual_entities())
    return [entity]


def points(curve):
    """Points along a curve of ezdxf's, in world coordinates."""
    if curve.dxftype() == "LINE":
        a, b = curve.dxf.start, curve.dxf.end
        return [a.lerp(b, t / 16) for t in range(17)]
    if curve.dxftype() == "CIRCLE":
        return list(curve.vertices(np.linspace(0, 360, 33)))
    start, end = curve.dxf.start_angle, curve.dxf.end_angle
    return list(curve.vertices(np.linspace(start, start + (end - start) % 360 or 360, 33)))


def length(curve):
    if curve.dxftype() == "LINE":
        return (curve.dxf.end - curve.dxf.start).magnitude
    if curve.dxftype() == "CIRCLE":
        return 2 * math.pi * curve.dxf.radius
    return math.radians((curve.dxf.end_angle - curve.dxf.start_angle) % 360) * curve.dxf.radius


def distance_to_piece(x, y, a, b):
    """Distance of a point from the line or arc between two surveyed vertices."""
    (x0, y0, bulge), (x1, y1, _) = a, b
    ends = min(math.hypot(x - x0, y - y0), math.hypot(x - x1, y - y1))
    if bulge == 0:
        dx, dy = x1 - x0, y1 - y0
        t = ((x - x0) * dx + (y - y0) * dy) / (dx * dx + dy * dy)
        return abs((x - x0) * dy - (y - y0) * dx) / math.hypot(dx, dy) if 0 < t < 1 else ends
    k = (1 - bulge * bulge) / (4 * bulge)
    cx, cy = (x0 + x1) / 2 - (y1 - y0) * k, (y0 + y1) / 2 + (x1 - x0) * k
    # A point of the circle is on the arc if it lies on the arc's side of the chord.
    side = ((x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)) * bulge
    on_arc = abs(math.hypot(x - cx, y - cy) - math.hypot(x0 - cx, y0 - cy)) if side <= 0 else math.inf
    return min(ends, on_arc)


def distance_to_outline(p, vertices):
    return min(distance_to_piece(p[0], p[1], a, b) for a, b in zip(vertices, vertices[1:] + vertices[:1]))


def distance_to_curve(p, curve):
    if curve.dxftype() == "LINE":
        (x0, y0, _), (x1, y1, _) = curve.dxf.start, curve.dxf.end
        return distance_to_piece(*p, (x0, y0, 0), (x1, y1, 0))
    centre = curve.ocs().to_wcs(curve.dxf.center)
    ring = abs(math.hypot(p[0] - centre.x, p[1] - centre.y) - curve.dxf.radius)
    if curve.dxftype() == "CIRCLE":
        return ring
    q = curve.ocs().from_wcs((p[0], p[1], 0)) - curve.dxf.center
    along = (math.degrees(math.atan2(q.y, q.x)) - curve.dxf.start_angle) % 360
    inside = along <= (curve.dxf.end_angle - curve.dxf.start_angle) % 360
    ends = min(math.hypot(p[0] - e.x, p[1] - e.y) for e in (curve.start_point, curve.end_point))
    return min(ring, ends) if inside else ends


def middles(vertices):
    for (x0, y0, b), (x1, y1, _) in zip(vertices, vertices[1:] + vertices[:1]):
        yield (x0 + x1) / 2 + (y1 - y0) * b / 2, (y0 + y1) / 2 - (x1 - x0) * b / 2


class Comparison:
    def __init__(self, expected, found, entities):
        self.mm, self.found, self.entities, self.faults = expected["in_mm"], found, entities, []
        self.name, self.worst = expected["file"], 0.0
        for key in ("units", "units_from", "skipped"):
            self.equal(key, found[key], expected[key])
        self.equal("errors", [r for r in found["remarks"] if r["severity"] == "error"], [])
        self.equal("count of outlines", len(found["outlines"]), len(expected["outlines"]))
        if not self.faults:
            for number, (want, outline) in enumerate(zip(expected["outlines"], found["outlines"])):
                self.outline(f"o{number + 1} {want['how']}", want, outline)

    def equal(self, what, found, wanted):
        if found != wanted:
            self.faults.append(f"{self.name}: {what}: {found}, expected {wanted}")

    def close(self, what, found, wanted, scale):
        self.worst = max(self.worst, abs(found - wanted) / scale)
        if not abs(found - wanted) <= SHARE * scale:
            self.faults.append(f"{self.name}: {what}: {found}, expected {wanted}")

    def outline(self, what, want, outline):
        mm = self.mm
        self.equal(f"{what} id", outline["id"], what.split()[0])
        # Tens of units of perimeter.
        self.close(f"{what} area", outline["area_mm2"], want["area"] * mm * mm, 100 * mm * mm)
        self.close(f"{what} perimeter", outline["perimeter_mm"], want["perimeter"] * mm, 100 * mm)
        pieces = [curve for handle in want["handles"] for curve in curves(self.entities[handle])]
        self.close(f"{what} ezdxf's length", outline["perimeter_mm"], sum(map(length, pieces)) * mm, 100 * mm)
        vertices = [(x / mm, y / mm, b) for x, y, b in outline["vertices"]]
        scale = max(abs(c) for v in vertices for c in v[:2]) + 1
        apart = [distance_to_outline(p, vertices) for curve in pieces for p in points(curve)]
        self.close(f"{what} ezdxf's points", max(apart), 0, scale)
        back = [min(distance_to_curve(p, c) for c in pieces) for p in [v[:2] for v in vertices] + list(middles(vertices))]
        self.close(f"{what} points on ezdxf's entities", max(back), 0, scale)


def main():
    binary, folder = sys.argv[1], Path(sys.argv[2])
    expected = json.loads((folder / "expected.json").read_text())
    faults, outlines, worst = [], 0, 0.0
    for drawing in expected["drawings"]:
        code, found = survey(binary, folder / drawing["file"], drawing["in_mm"])
        if code != 0 or found is None:
            faults.append(f"{drawing['file']}: exit code {code}")
            continue
        entities = ezdxf.readfile(folder / drawing["file"]).entitydb
        comparison = Comparison(drawing, found, entities)
        faults += comparison.faults
        outlines += len(found["outlines"])
        worst = max(worst, comparison.worst)
    for name in expected["refused"]:
        code, _ = survey(binary, folder / name)
        if code != 2:
            faults.append(f"{name}: exit code {code}, expected 2")
    print(*faults[:40], sep="\n")
    print(f"reference: ezdxf {ezdxf.__version__}: {len(expected['drawings'])} drawings, {outlines} outlines, "
          f"worst {worst:.1e} of the scale, {len(faults)} disagreements")
    sys.exit(1 if faults or outlines == 0 else 0)


if __name__ == "__main__":
    main()
