"""Random splines, ellipses and inserts: drawn by ezdxf, surveyed by us, held against SciPy and ezdxf: curves.py BINARY FOLDER [SEED].

Splines: SciPy evaluates the control points (in homogeneous coordinates where there are weights), ezdxf the entity that it reads back; splines
of points alone are held against SciPy's cubic splines. Ellipses: closed forms and ezdxf's vertices. Inserts: ezdxf breaks them up, nested,
mirrored, turned, unevenly scaled and in arrays. Every point of theirs must lie within the deviation that the survey reports of the surveyed
outline, and every point of the outline as near to a fine sample of theirs. Ends with a line `reference: ...`.
"""

import math
import random
import sys
from pathlib import Path

import ezdxf
import numpy as np
import scipy
from ezdxf.disassemble import recursive_decompose
from ezdxf.math import Matrix44
from scipy.interpolate import BSpline, CubicSpline

from compare import survey

SAMPLES = 2000
# Sixteen digits in the file and a few more operations, mm.
ROUNDING = 1e-9
# Arcs lie within this of what they stand for, mm.
MOST = 0.0005 + ROUNDING


class Sheet:
    """A drawing with one closed outline in each cell of a row, and the points that each is known by."""

    def __init__(self, name, rng):
        self.name, self.rng = name, rng
        self.doc = ezdxf.new(rng.choice(["R2000", "R2004", "R2007", "R2010", "R2018"]))
        self.doc.header["$INSUNITS"] = 4
        self.space = self.doc.modelspace()
        self.known = []

    def place(self):
        """A matrix that turns, mirrors and moves what lies about the origin into a cell of its own."""
        mirror = Matrix44.scale(self.rng.choice([1, -1]), 1, 1)
        turn = Matrix44.z_rotate(self.rng.uniform(0, 2 * math.pi))
        return mirror @ turn @ Matrix44.translate(20 * len(self.known), self.rng.uniform(-5, 5), 0)

    def knows(self, what, *curves):
        """Notes what an outline is, by samples of the curves and lines that it is made of."""
        self.known.append(([np.asarray(points, float)[:, :2] for points in curves], what))


def star(rng, count):
    """Points around the origin at rising angles, so that no smooth curve along them crosses itself."""
    angles = [2 * math.pi * (i + rng.uniform(-0.2, 0.2)) / count for i in range(count)]
    return np.array([(r * math.cos(a), r * math.sin(a)) for a in angles for r in [rng.uniform(2.5, 4)]])


def moved(matrix, points):
    return np.array([matrix.transform((x, y, 0)) for x, y in points])


def evaluated(controls, weights, knots, degree, count):
    """SciPy's points of a rational B-spline over the part of its knots that counts."""
    t = np.linspace(knots[degree], knots[len(controls)], count)
    homogeneous = np.column_stack([controls[:, 0] * weights, controls[:, 1] * weights, weights])
    points = BSpline(np.asarray(knots, float), homogeneous, degree)(t)
    return points[:, :2] / points[:, 2:]


def spline(sheet):
    """A spline that closes on itself: by uniform knots and repeated points, or with clamped ends at one place."""
    rng = sheet.rng
    degree, count = rng.randint(2, 5), rng.randint(7, 14)
    controls = moved(sheet.place(), star(rng, count))
    weights = np.array([rng.uniform(0.3, 3) for _ in controls]) if rng.random() < 0.5 else np.ones(count)
    around = rng.random() < 0.5
    again = degree if around else 1
    controls, weights = np.vstack([controls, controls[:again]]), np.concatenate([weights, weights[:again]])
    if around:
        knots = [float(i) for i in range(len(controls) + degree + 1)]
    else:
        inner = np.cumsum([rng.choice([0.3, 1, 1, 2]) for _ in range(len(controls) - degree - 1)])
        knots = [0.0] * (degree + 1) + list(inner) + [(inner[-1] if len(inner) else 0) + 1.0] * (degree + 1)
    made = sheet.space.add_spline(degree=degree, dxfattribs={"flags": 11 if around else 9})
    made.control_points, made.knots = controls, knots
    if not np.all(weights == 1):
        made.weights = weights
    sheet.knows(f"spline of degree {degree}", evaluated(controls, weights, knots, degree, SAMPLES))
    return made


def through_points(sheet):
    """A spline of points alone, closed by itself or by a line."""
    rng = sheet.rng
    points = moved(sheet.place(), star(rng, rng.randint(5, 12)))
    held, closed = rng.random() < 0.5, rng.random() < 0.5
    made = sheet.space.add_spline([tuple(p) for p in points])
    made.closed = closed
    if closed:
        points = np.vstack([points, points[:1]])
        ends = "periodic"
    elif held:
        # Roughly the way on, so that the curve stays simple.
        first, last = points[1] - points[0], points[-1] - points[-2]
        made.dxf.start_tangent, made.dxf.end_tangent = 7 * first, 0.2 * last
        ends = ((1, first[:2] / np.linalg.norm(first[:2])), (1, last[:2] / np.linalg.norm(last[:2])))
    else:
        ends = "natural"
    if not closed:
        sheet.space.add_line(points[0], points[-1])
    lengths = np.concatenate([[0], np.cumsum(np.linalg.norm(np.diff(points[:, :2], axis=0), axis=1))])
    curve = CubicSpline(lengths, points[:, :2], bc_type=ends)
    seen = curve(np.linspace(0, lengths[-1], SAMPLES))
    line = np.linspace(points[-1, :2], points[0, :2], 400)
    sheet.knows(f"spline through points, {ends if isinstance(ends, str) else 'held'}", *([seen] if closed else [seen, line]))
    # What ezdxf makes of the same entity, for the report.
    other = np.array([tuple(p)[:2] for p in made.construction_tool().approximate(SAMPLES)])
    return None if closed else float(to_sample(other, seen).max())


def ellipse(sheet):
    """A whole ellipse, or a piece of it closed by its chord, from the front or from behind."""
    rng = sheet.rng
    major, ratio = rng.uniform(0.5, 5), rng.choice([1.0, rng.uniform(0.05, 1), 1e-2])
    angle = rng.uniform(0, 2 * math.pi)
    centre = (20 * len(sheet.known), rng.uniform(-4, 4))
    whole = rng.random() < 0.4
    start = 0 if whole else rng.uniform(0, 2 * math.pi)
    end = 2 * math.pi if whole else start + rng.uniform(0.3, 5.5)
    made = sheet.space.add_ellipse(centre, (major * math.cos(angle), major * math.sin(angle)), ratio, start, end,
                                   dxfattribs={"extrusion": (0, 0, rng.choice([1, -1]))})
    params = np.linspace(start, end, SAMPLES)
    points = np.array([tuple(p)[:2] for p in made.vertices(params)])
    if whole:
        sheet.knows("ellipse", points)
        return
    sheet.space.add_line(points[0], points[-1])
    sheet.knows("piece of an ellipse", points, np.linspace(points[-1], points[0], 400))


def inserts(folder, name, rng):
    """A drawing of inserts only, with the points of what ezdxf breaks them up into, and how many outlines they stand for."""
    sheet = Sheet(name, rng)
    blocks = sheet.doc.blocks
    hole = blocks.new("HOLE", base_point=(rng.uniform(-1, 1), rng.uniform(-1, 1)))
    hole.add_circle((0.3, 0.2), rng.uniform(0.1, 0.3))
    slot = blocks.new("Slot", base_point=(0.5, 0.1))
    slot.add_lwpolyline([(0, 1, 0), (1.5, 1, 1), (1.5, 1.8, 0), (0, 1.8, rng.uniform(0.3, 1.8))], format="xyb", close=True)
    slot.add_ellipse((0.2, 3.2), (0.9, 0.2), 0.4)
    flat = slot.add_lwpolyline([(-3, 0, 0), (-4.5, 0, 0.4), (-4.5, 1, 0)], format="xyb", close=True)
    flat.dxf.extrusion = (0, 0, -1)
    pair = blocks.new("PAIR")

    even = rng.random() < 0.5

    def scales(even):
        x = rng.choice([-1, 1]) * rng.uniform(0.5, 2)
        return {"xscale": x, "yscale": rng.choice([-1, 1]) * (abs(x) if even else rng.uniform(0.5, 2)), "zscale": 1}

    # A pair holds four outlines: the hole, and three of the slot.
    pair.add_blockref("HOLE", (0, 0), dxfattribs=scales(True))
    pair.add_blockref("slot", (0, 8), dxfattribs=scales(rng.random() < 0.5) | {"rotation": rng.uniform(0, 360)})
    count = 0
    for number in range(3):
        array = {"column_count": 2, "row_count": rng.randint(1, 2), "column_spacing": 60, "row_spacing": -70} if number == 2 else {}
        count += 4 * array.get("column_count", 1) * array.get("row_count", 1)
        sheet.space.add_blockref("PAIR", (150 * number, 0), dxfattribs=scales(even) | array | {
            "rotation": rng.choice([0, 90, rng.uniform(0, 360)]), "extrusion": (0, 0, rng.choice([1, -1]))})
    sheet.doc.saveas(folder / name)
    doc = ezdxf.readfile(folder / name)
    for points in carried_out(doc, doc.modelspace(), Matrix44()):
        sheet.knows("inserted", points)
    if even:
        # Where nothing is sheared ezdxf breaks the inserts up by itself.
        for entity in recursive_decompose(doc.modelspace()):
            for points in sampled(entity):
                sheet.knows("broken up", points)
    return sheet, count


def carried_out(doc, layout, matrix):
    """Points of all entities, inserts within inserts by the product of ezdxf's own matrices: an insert of ezdxf's cannot be sheared."""
    for entity in layout:
        if entity.dxftype() != "INSERT":
            yield from (moved(matrix, points) for points in sampled(entity))
            continue
        for one in entity.multi_insert():
            yield from carried_out(doc, doc.blocks[one.dxf.name], one.matrix44() @ matrix)


def sampled(entity):
    """Fine samples of an entity, one for each curve in it."""
    kind = entity.dxftype()
    if kind == "LWPOLYLINE":
        for piece in entity.virtual_entities():
            yield from sampled(piece)
        return
    if kind == "LINE":
        found = [entity.dxf.start.lerp(entity.dxf.end, t) for t in np.linspace(0, 1, 50)]
    elif kind == "CIRCLE":
        found = entity.vertices(np.linspace(0, 360, 1000))
    elif kind == "ARC":
        start, end = entity.dxf.start_angle, entity.dxf.end_angle
        found = entity.vertices(np.linspace(start, start + (end - start) % 360, 1000))
    else:
        start, end = entity.dxf.start_param, entity.dxf.end_param
        found = entity.vertices(np.linspace(start, start + ((end - start) % (2 * math.pi) or 2 * math.pi), 1000))
    yield np.array([tuple(p)[:2] for p in found])


def arcs(vertices, count=40):
    """Points along the surveyed arcs."""
    found = []
    for (x0, y0, b), (x1, y1, _) in zip(vertices, vertices[1:] + vertices[:1]):
        s = np.linspace(0, 1, count, endpoint=False)
        if b == 0:
            found.append(np.column_stack([x0 + s * (x1 - x0), y0 + s * (y1 - y0)]))
            continue
        sweep = 4 * math.atan(b)
        # From the chord by the angle that each point is seen under: nothing is lost where the arc is flat.
        along, across = np.sin(s * sweep / 2) / math.sin(sweep / 2), (1 - s) * sweep / 2
        dx, dy = x1 - x0, y1 - y0
        cos, sin = np.cos(across) * along, -np.sin(across) * along
        found.append(np.column_stack([x0 + cos * dx - sin * dy, y0 + sin * dx + cos * dy]))
    return np.vstack(found)


def to_outline(points, vertices):
    """Exact distances of points from the surveyed lines and arcs."""
    best = np.full(len(points), np.inf)
    x, y = points.T
    for (x0, y0, b), (x1, y1, _) in zip(vertices, vertices[1:] + vertices[:1]):
        dx, dy = x1 - x0, y1 - y0
        half = math.hypot(dx, dy) / 2
        # In the frame of the chord: u along it from its middle, v to its left.
        u = ((x - (x0 + x1) / 2) * dx + (y - (y0 + y1) / 2) * dy) / (2 * half)
        v = ((y - (y0 + y1) / 2) * dx - (x - (x0 + x1) / 2) * dy) / (2 * half)
        ends = np.hypot(np.abs(u) - half, v)
        if b == 0:
            inside, off = np.abs(u) <= half, np.abs(v)
        else:
            lift, radius = half * (1 - b * b) / (2 * b), half * (1 + b * b) / (2 * abs(b))
            out = np.hypot(u, v - lift)
            # The power of the point over the sum of distances: exact however flat the arc is.
            beyond = (u * u + v * v - half * half - 2 * lift * v) / (out + radius)
            off = np.abs(beyond)
            # Its foot on the circle lies on the arc's side of the chord.
            inside = (lift + (v - lift) * radius / np.maximum(out, 1e-300)) * b <= 0
        best = np.minimum(best, np.where(inside, off, ends))
    return best


def to_sample(points, line):
    """Distances of points from a line through fine samples, each from the chords beside the nearest samples."""
    tree = scipy.spatial.cKDTree(line)
    _, nearest = tree.query(points, k=min(8, len(line)))
    best = np.full(len(points), np.inf)
    for column in nearest.reshape(len(points), -1).T:
        for step in (-1, 0):
            first = np.clip(column + step, 0, len(line) - 2)
            a, d = line[first], line[first + 1] - line[first]
            length = np.maximum((d * d).sum(1), 1e-300)
            t = np.clip(((points - a) * d).sum(1) / length, 0, 1)
            best = np.minimum(best, np.linalg.norm(a + t[:, None] * d - points, axis=1))
    return best


def sagitta(points):
    """How far a curve may lie from the chords of its sample: a quarter of what each sample stands off the chord around it, and as much again."""
    a, m, b = points[:-2], points[1:-1], points[2:]
    d = b - a
    length = np.maximum(np.linalg.norm(d, axis=1), 1e-300)
    return float((np.abs((m - a)[:, 0] * d[:, 1] - (m - a)[:, 1] * d[:, 0]) / length).max()) / 2


class Tally:
    def __init__(self):
        self.faults, self.outlines, self.worst = [], 0, 0.0

    def survey(self, binary, folder, sheet, count):
        """The outlines of a drawing, if there are as many as were drawn."""
        code, found = survey(binary, folder / sheet.name)
        errors = [r["message"] for r in found["remarks"] if r["severity"] == "error"] if found else ["no answer"]
        if code == 0 and not errors and len(found["outlines"]) == count:
            return found["outlines"]
        drawn = len(found["outlines"]) if found else 0
        self.faults.append(f"{sheet.name}: exit code {code}, {drawn} outlines of {count}, {errors[:2]}")
        return []

    def curves(self, binary, folder, sheet):
        """Each outline against the points that it is known by."""
        left = self.survey(binary, folder, sheet, len(sheet.known))
        for curves, what in sheet.known if left else []:
            points = np.vstack(curves)
            middle = (points.min(0) + points.max(0)) / 2
            outline = min(left, key=lambda o: math.dist(middle, np.mean(np.reshape(o["bounds_mm"], (2, 2)), 0)))
            left.remove(outline)
            self.compare(f"{sheet.name}: {outline['id']}, {what}", curves, [outline])

    def inserts(self, binary, folder, sheet, count):
        """All outlines against all points: what ezdxf breaks up is no longer one entity for each."""
        found = self.survey(binary, folder, sheet, count)
        if found:
            self.compare(sheet.name, [points for curves, _ in sheet.known for points in curves], found)

    def compare(self, name, known, outlines):
        self.outlines += len(outlines)
        allowed = max(outline["moved_mm"] for outline in outlines) + ROUNDING
        every = np.vstack(known)
        there = np.min([to_outline(every, [tuple(v) for v in outline["vertices"]]) for outline in outlines], axis=0).max()
        ours = np.vstack([arcs([tuple(v) for v in outline["vertices"]]) for outline in outlines])
        back = np.min([to_sample(ours, points) for points in known], axis=0).max() - max(map(sagitta, known))
        self.worst = max(self.worst, there, back)
        if there > allowed or back > allowed or allowed > MOST:
            self.faults.append(f"{name}: {there:.2e} and {back:.2e} apart, {allowed:.2e} reported")


def main():
    binary, folder = sys.argv[1], Path(sys.argv[2])
    rng = random.Random(int(sys.argv[3]) if len(sys.argv) > 3 else 1)
    folder.mkdir(parents=True, exist_ok=True)
    tally, others, kinds = Tally(), [], {"spline": spline, "points": through_points, "ellipse": ellipse}
    for number in range(4):
        for kind, draw in kinds.items():
            sheet = Sheet(f"{kind}-{number}.dxf", rng)
            found = [draw(sheet) for _ in range(8)]
            others += [d for d in found if isinstance(d, float)]
            sheet.doc.saveas(folder / sheet.name)
            tally.curves(binary, folder, sheet)
        sheet, count = inserts(folder, f"inserts-{number}.dxf", rng)
        tally.inserts(binary, folder, sheet, count)
    print(*tally.faults[:40], sep="\n")
    print(f"splines of points alone: ezdxf's own curves lie within {max(others):.1e} mm of SciPy's, which ours are held against")
    print(f"reference: ezdxf {ezdxf.__version__} and SciPy {scipy.__version__}: {tally.outlines} curved and inserted outlines, "
          f"within {tally.worst:.2e} mm, {len(tally.faults)} disagreements")
    sys.exit(1 if tally.faults or tally.outlines == 0 else 0)


if __name__ == "__main__":
    main()
