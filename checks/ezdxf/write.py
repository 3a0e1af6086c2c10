"""Writes drawings of every DXF version that ezdxf can write, and what is in them: write.py FOLDER [SEED].

Each drawing holds the same outlines, moved, turned and mirrored at random: as loose lines and arcs in a random order and direction, as old and
light polylines with bulges, as circles, some of them with an extrusion along -Z, plus entities that are to be passed over. expected.json
says what closed forms give for each outline, in millimetres.
"""

import json
import math
import random
import sys
from pathlib import Path

import ezdxf
from ezdxf.math import Matrix44, Vec3

# R12 has no $INSUNITS.
VERSIONS = ["R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018"]
UNITS = {0: ("mm", "assumed", 1.0), 1: ("in", "drawing", 25.4), 4: ("mm", "drawing", 1.0), 5: ("mm", "drawing", 10.0),
         9: ("mm", "drawing", 0.0254), 13: ("mm", "drawing", 0.001)}


def rounded_rectangle(w, h, r):
    """Vertices with bulges, area and perimeter."""
    b = math.tan(math.pi / 8)
    points = [(r, 0, 0), (w - r, 0, b), (w, r, 0), (w, h - r, b), (w - r, h, 0), (r, h, b), (0, h - r, 0), (0, r, b)]
    return points, w * h - (4 - math.pi) * r * r, 2 * (w + h) - (8 - 2 * math.pi) * r


def slot(length, width):
    r = width / 2
    points = [(0, 0, 0), (length, 0, 1), (length, width, 0), (0, width, 1)]
    return points, length * width + math.pi * r * r, 2 * length + 2 * math.pi * r


def sector(r, sweep):
    """A circular segment of more than half a circle, whose bulge exceeds 1."""
    points = [(r, 0, math.tan(sweep / 4)), (r * math.cos(sweep), r * math.sin(sweep), 0)]
    return points, r * r * (sweep - math.sin(sweep)) / 2, r * sweep + 2 * r * math.sin((2 * math.pi - sweep) / 2)


def notched(w, h, depth):
    """A rectangle with a half circle cut out of its top: a negative bulge."""
    points = [(0, 0, 0), (w, 0, 0), (w, h, 0), (w / 2 + depth, h, -1), (w / 2 - depth, h, 0), (0, h, 0)]
    return points, w * h - math.pi * depth**2 / 2, 2 * (w + h) - 2 * depth + math.pi * depth


class Writer:
    def __init__(self, version, code, rng):
        self.doc = ezdxf.new(version)
        self.rng = rng
        self.old = version == "R12"
        self.units = code
        if not self.old:
            self.doc.header["$INSUNITS"] = code
        self.doc.layers.add("cut")
        self.space = self.doc.modelspace()
        self.outlines = []

    def placed(self, column):
        """A random place in the column of the sheet that belongs to one outline, as a matrix without mirroring."""
        turn = Matrix44.z_rotate(self.rng.uniform(0, 2 * math.pi))
        return turn @ Matrix44.translate(20 * column + self.rng.uniform(-2, 2), self.rng.uniform(-5, 5), 0)

    def note(self, made, area, perimeter, how):
        self.outlines.append({"handles": [e.dxf.handle for e in made], "area": area, "perimeter": perimeter, "how": how})

    def turned_vertices(self, points, column):
        matrix = self.placed(column)
        return [(*matrix.transform(Vec3(x, y)).vec2, b) for x, y, b in points]

    def polyline(self, shape, column, facing, light):
        points, area, perimeter = shape
        vertices = self.turned_vertices(points, column)
        attributes = {"layer": "cut"}
        if facing < 0:
            # Seen from behind: stored with x and bulges of the other sign.
            vertices = [(-x, y, -b) for x, y, b in vertices]
            attributes["extrusion"] = (0, 0, -1)
        if self.rng.random() < 0.5:
            vertices = reversed_vertices(vertices)
        kind = self.space.add_lwpolyline if light else self.space.add_polyline2d
        made = kind(vertices, format="xyb", close=True, dxfattribs=attributes)
        self.note([made], area, perimeter, ("light" if light else "old") + (" mirrored" if facing < 0 else ""))

    def loose(self, shape, column, mirror_arcs):
        points, area, perimeter = shape
        vertices = self.turned_vertices(points, column)
        pairs = list(zip(vertices, vertices[1:] + vertices[:1]))
        self.rng.shuffle(pairs)
        made = [self.piece(a, b, mirror_arcs) for a, b in pairs]
        self.note(made, area, perimeter, "loose" + (" mirrored" if mirror_arcs else ""))

    def piece(self, a, b, mirror):
        (x0, y0, bulge), (x1, y1, _) = a, b
        if bulge == 0:
            ends = [(x0, y0), (x1, y1)]
            self.rng.shuffle(ends)
            return self.space.add_line(*ends, dxfattribs={"layer": "cut"})
        if bulge < 0:
            x0, y0, x1, y1, bulge = x1, y1, x0, y0, -bulge
        k = (1 - bulge * bulge) / (4 * bulge)
        cx, cy = (x0 + x1) / 2 - (y1 - y0) * k, (y0 + y1) / 2 + (x1 - x0) * k
        radius = math.hypot(x0 - cx, y0 - cy)
        start, end = (math.degrees(math.atan2(y - cy, x - cx)) for x, y in ((x0, y0), (x1, y1)))
        attributes = {"layer": "cut"}
        if mirror:
            cx, start, end = -cx, 180 - end, 180 - start
            attributes["extrusion"] = (0, 0, -1)
        return self.space.add_arc((cx, cy), radius, start, end, dxfattribs=attributes)

    def circle(self, r, column, facing):
        x, y = 20.0 * column, self.rng.uniform(-5, 5)
        attributes = {"layer": "cut", "extrusion": (0, 0, facing)}
        made = self.space.add_circle((facing * x, y), r, dxfattribs=attributes)
        self.note([made], math.pi * r * r, 2 * math.pi * r, "circle" + (" mirrored" if facing < 0 else ""))

    def passed_over(self):
        """What is no outline of the model space: how many of each type."""
        self.space.add_text("a note", dxfattribs={"insert": (0, 50)})
        self.space.add_point((1, 1))
        # A block that nobody inserts is no outline.
        self.doc.blocks.new("B").add_circle((0, 0), 3)
        skipped = {"TEXT": 1, "POINT": 1}
        if not self.old:
            self.space.add_solid([(0, 80), (1, 81), (2, 80)])
            self.doc.layout("Layout1").add_line((0, 0), (1, 1))
            skipped |= {"SOLID": 1, "LINE": 1}
        return skipped


def reversed_vertices(vertices):
    n = len(vertices)
    return [(*vertices[-i % n][:2], -vertices[-i % n - 1][2]) for i in range(n)]


def write(folder, version, code, rng):
    w = Writer(version, code, rng)
    shapes = [rounded_rectangle(6, 4, rng.uniform(0.2, 1.5)), slot(rng.uniform(1, 6), rng.uniform(0.5, 3)),
              sector(rng.uniform(1, 4), rng.uniform(1.1, 1.8) * math.pi), notched(6, 3, rng.uniform(0.3, 1.5))]
    column = 0
    for shape in shapes:
        for make in (lambda s, c: w.loose(s, c, False), lambda s, c: w.loose(s, c, True),
                     lambda s, c: w.polyline(s, c, 1, False), lambda s, c: w.polyline(s, c, -1, False)):
            make(shape, column)
            column += 1
        if not w.old:
            w.polyline(shape, column, 1, True)
            w.polyline(shape, column + 1, -1, True)
            column += 2
    w.circle(rng.uniform(0.2, 4), column, 1)
    w.circle(rng.uniform(0.2, 4), column + 1, -1)
    skipped = w.passed_over()
    name = f"{version}-{code}.dxf"
    w.doc.saveas(folder / name)
    units, units_from, mm = UNITS[code]
    return {"file": name, "units": units, "units_from": units_from, "in_mm": mm, "outlines": w.outlines, "skipped": skipped}


def main():
    folder = Path(sys.argv[1])
    rng = random.Random(int(sys.argv[2]) if len(sys.argv) > 2 else 1)
    folder.mkdir(parents=True, exist_ok=True)
    drawings = [write(folder, version, code, rng) for version in VERSIONS for code in UNITS
                if version != "R12" or code == 0]
    ezdxf.new("R2000").saveas(folder / "binary.dxf", fmt="bin")
    expected = {"drawings": drawings, "refused": ["binary.dxf"]}
    (folder / "expected.json").write_text(json.dumps(expected, indent=1))
    print(f"{len(drawings)} drawings with {sum(len(d['outlines']) for d in drawings)} outlines")


if __name__ == "__main__":
    main()
