"""Works out again, with GEOS and numpy, what `cargo xtask reference` wrote about random outlines: compare.py FOLDER.

Fails on any difference beyond the bounds stated below, and when a kind of check had no case. Ends with lines `reference: ...`.
A parallel is held between two of GEOS's: the set that is DELTA farther in must lie inside ours, and ours inside the set that is DELTA less far in.
That bounds the difference everywhere and finds pieces that are missing or too many, however small.
"""

import json
import math
import multiprocessing
import sys
from collections import Counter
from pathlib import Path

import numpy as np
import shapely
from shapely import Point

from narrowest import narrowest
from shapes import DELTA, SAGITTA, arcs, dilated, eroded, polygon, region

# Measures, as a share of what size alone would make them: sums over chords at two steps, extrapolated.
MEASURE_SHARE = 1e-9
# A miss shallower than this need not be listed, mm; depths agree within TOLERANCE where both brackets allow.
LEAST_MISS, TOLERANCE = 1e-4, 1e-6 + SAGITTA
# Refusals with an error that are put up with, as a share of the cases: of ordinary outlines, and of those whose arcs are flat to rounding.
REFUSED, REFUSED_FLAT = 0.001, 0.005


def sums(vertices, per_radian):
    """Area, perimeter, first and second moments about the first vertex of the polygon with a given fineness."""
    points = []
    for arc in arcs(vertices):
        if arc.sweep == 0:
            points.append(arc.p[None, :])
            continue
        # Along the chord's own frame, so that a flat arc needs no centre: p + chord * (half + bulge-shaped bow).
        n = per_radian * max(1, math.ceil(abs(arc.sweep)))
        t = np.arange(n) / n
        share = np.sin(t * arc.sweep / 2) / math.sin(arc.sweep / 2)
        turn = arc.angle + (t - 1) * arc.sweep / 2
        points.append(arc.p + (share * arc.length)[:, None] * np.c_[np.cos(turn), np.sin(turn)])
    p = np.concatenate(points) - np.array(vertices[0][:2])
    q = np.roll(p, -1, axis=0)
    cross = p[:, 0] * q[:, 1] - q[:, 0] * p[:, 1]
    s = p + q
    square = p[:, None, :] * p[:, :, None] + q[:, None, :] * q[:, :, None] + s[:, None, :] * s[:, :, None]
    second = (cross[:, None, None] * square).sum(axis=0) / 24
    ring = shapely.LinearRing(p)
    first = (cross[:, None] * s).sum(axis=0) / 6
    return np.array([shapely.Polygon(ring).area, ring.length, *first, second[0, 0], second[0, 1], second[1, 1]])


def measures(case):
    """Both sums err with the square of the step, so two of them give the next order."""
    vertices = case["vertices"]
    area, length, fx, fy, sxx, sxy, syy = (4 * sums(vertices, 400) - sums(vertices, 200)) / 3
    cx, cy = fx / area, fy / area
    ixx, iyy, ixy = syy - area * cy * cy, sxx - area * cx * cx, sxy - area * cx * cy
    least = (ixx + iyy) / 2 - math.hypot((ixx - iyy) / 2, ixy)
    x0, y0 = vertices[0][:2]
    size = length / 4
    ours = case["moments"]
    pairs = [
        ("area", case["area"], area, size**2),
        ("perimeter", case["perimeter"], length, size),
        ("centroid x", case["centroid"][0] - x0, cx, size),
        ("centroid y", case["centroid"][1] - y0, cy, size),
        ("ixx", ours["ixx"], ixx, size**4),
        ("iyy", ours["iyy"], iyy, size**4),
        ("ixy", abs(ours["ixy"]), abs(ixy), size**4),
        ("least", ours["least"], least, size**4),
    ]
    return [f"{name}: ours {a}, reference {b}" for name, a, b, scale in pairs if not abs(a - b) <= MEASURE_SHARE * scale]


def circle(case):
    ours = case["circle"]
    shape = polygon(case["vertices"])
    r, centre = ours["radius"], Point(ours["x"], ours["y"])
    tolerance = 1e-3 * r
    theirs = shapely.maximum_inscribed_circle(shape, tolerance).length
    wrong = []
    if not shape.contains(centre) or abs(shapely.distance(centre, shape.exterior) - r) > 2 * SAGITTA:
        wrong.append(f"circle: centre is {shapely.distance(centre, shape.exterior)} from the edge, radius {r}")
    if not theirs - 2 * SAGITTA <= r <= theirs + tolerance + 2 * SAGITTA:
        wrong.append(f"circle: radius {r}, GEOS {theirs} within {tolerance}")
    if not eroded(case["vertices"], r + DELTA).is_empty:
        wrong.append(f"circle: a larger one than {r} fits")
    return wrong


def bracketed(what, loops, inner, outer):
    """inner within ours within outer."""
    ours = region(loops)
    if not ours.is_valid:
        # Pieces that run on tangent to within rounding may cross again next to their joint. A zero buffer takes such a crossing away, and with it
        # one side of a real figure of eight, which the brackets then miss.
        ours = ours.buffer(0)
    wrong = []
    if not inner.is_empty and (ours.is_empty or not ours.covers(inner)):
        wrong.append(f"{what}: ours lacks {inner.difference(ours).area:.3g} mm2")
    if not ours.is_empty and (outer.is_empty or not outer.covers(ours)):
        wrong.append(f"{what}: ours has {ours.difference(outer).area:.3g} mm2 too much")
    return wrong


def inward(what, vertices, distance, loops):
    return bracketed(what, loops, eroded(vertices, distance + DELTA), eroded(vertices, distance - DELTA))


def outward(what, vertices, distance, loops):
    """Ours is the outer edge first, then pockets; pockets may close before the bracket does."""
    inner, outer = dilated(vertices, distance - DELTA), dilated(vertices, distance + DELTA)
    ours = polygon(loops[0])
    for pocket in loops[1:]:
        ours = ours.difference(polygon(pocket))
    wrong = []
    if not ours.covers(inner):
        wrong.append(f"{what}: ours lacks {inner.difference(ours).area:.3g} mm2")
    if not outer.covers(ours):
        wrong.append(f"{what}: ours has {ours.difference(outer).area:.3g} mm2 too much")
    return wrong


def parallel(case, one):
    distance = one["distance"]
    check = inward if distance > 0 else outward
    return check(f"parallel at {distance}", case["vertices"], abs(distance), one["loops"])


def reach(case, one):
    """Paths, the edge they reach, and the depths they miss."""
    vertices, radius, what = case["vertices"], one["radius"], f"reach of {one['radius']}"
    narrow, wide = eroded(vertices, radius + DELTA), eroded(vertices, radius - DELTA)
    wrong = bracketed(what, one["paths"], narrow, wide)
    if wrong or narrow.is_empty:
        return wrong
    if len(one["edges"]) != len(one["paths"]):
        wrong.append(f"{what}: {len(one['paths'])} paths, {len(one['edges'])} edges")
    # The reached edge is where the distance to the paths is the radius; the two brackets stand on either side.
    # Edges of two paths may overlap, so each is held against the pieces of the brackets that belong to its own path.
    for path, edge in zip(one["paths"], one["edges"]):
        middle, shape = polygon(path), polygon(edge)
        if not shape.covers(middle):
            wrong.append(f"{what}: an edge does not go round its path")
        rim = shapely.points(shapely.get_coordinates(shapely.segmentize(shape.exterior, radius / 10)))
        far, near = shapely.distance(rim, touching(wide, middle)), shapely.distance(rim, touching(narrow, middle))
        if (far > radius + 2 * SAGITTA).any():
            wrong.append(f"{what}: the edge is {far.max()} from its path")
        # A path that the narrower bracket has lost is nowhere: its distance is not a number, and nothing is held against it.
        if (near < radius - 2 * SAGITTA).any():
            wrong.append(f"{what}: the edge is only {near.min()} from its path")
    return wrong + missed(what, vertices, radius, one["missed"], narrow, wide)


def touching(shape, other):
    parts = shapely.get_parts(shape)
    return shapely.union_all(parts[shapely.intersects(parts, other)])


def reach_along(maybe, start, step, radius):
    """How many samples one may go on along the edge before it is touched. A wire that passes within 2 DELTA of an edge between two
    corners, and does not touch it, looks as if it did over 2 sqrt(4 R DELTA): either is right then, and a dip as short as that is
    gone through."""
    n = len(maybe)
    dip = int(np.ceil(3 * np.sqrt(4 * radius * DELTA) / (radius / 50))) + 1
    gone = 0
    while gone < n:
        ahead = [k for k in range(1, dip + 1) if maybe[(start + step * (gone + k)) % n] > 2 * DELTA]
        if not ahead:
            break
        gone += ahead[0]
    return gone


def missed(what, vertices, radius, listed, narrow, wide):
    """Every stretch of the edge that is surely missed has a listed place that is as deep, and every listed depth is right."""
    ring = polygon(vertices).exterior
    samples = shapely.segmentize(ring, radius / 50)
    points = shapely.points(shapely.get_coordinates(samples)[:-1])
    surely = shapely.distance(points, wide) - radius
    maybe = shapely.distance(points, narrow) - radius
    wrong = []
    places = shapely.points([m[:2] for m in listed]) if listed else np.array([])
    depths = np.array([m[2] for m in listed])
    if listed:
        off = shapely.distance(places, ring)
        low, high = shapely.distance(places, wide) - radius, shapely.distance(places, narrow) - radius
        for m, o, l, h in zip(listed, off, low, high):
            if o > 2 * SAGITTA or not l - TOLERANCE <= m[2] <= h + TOLERANCE:
                wrong.append(f"{what}: miss {m} is {o} from the edge, its depth between {l} and {h}")
    at = np.concatenate([[0], np.cumsum(shapely.distance(points[:-1], points[1:]))])
    listed_at = [int(np.argmin(shapely.distance(points, place))) for place in places]
    n = len(points)
    for stretch in stretches(surely > LEAST_MISS + TOLERANCE):
        deepest = stretch[int(np.argmax(surely[stretch]))]
        # The listed place may lie anywhere in the stretch that may be missed around it. What is touched is DELTA off in the narrow bracket.
        low = deepest - reach_along(maybe, deepest, -1, radius)
        high = deepest + reach_along(maybe, deepest, 1, radius)
        inside = [i for i, k in enumerate(listed_at) if (k - low + 1) % n <= high - low + 2]
        if not inside:
            wrong.append(f"{what}: a corner missed by {surely[deepest]} near {points[deepest]}, {at[deepest]} along, is not listed")
        elif depths[inside].max() < surely[deepest] - TOLERANCE:
            wrong.append(f"{what}: missed by {surely[deepest]} near {points[deepest]}, listed {depths[inside].max()}")
    return wrong


def room(case, one):
    """The narrowest place of an outline with its islands, and what there was to hold it against."""
    wrong, neck, stretch = narrowest(case["vertices"], [other_way_round(v) for v in one["islands"]], one["place"])
    return wrong, Counter({"narrowest": 1, "narrowest none": one["place"] is None, "narrowest neck": neck, "narrowest stretch": stretch})


def other_way_round(vertices):
    return [[*b[:2], -a[2]] for a, b in zip(vertices, vertices[1:] + vertices[:1])][::-1]


def stretches(flags):
    """Runs of true, round the ring."""
    n = len(flags)
    if flags.all():
        return [np.arange(n)]
    start = int(np.argmin(flags))
    runs, run = [], []
    for i in [(start + k) % n for k in range(n + 1)]:
        if flags[i]:
            run.append(i)
        elif run:
            runs.append(np.array(run))
            run = []
    return runs


def refused(case):
    """An outline that was refused must cross or touch itself for GEOS too, or have a joint where that cannot be told after flattening."""
    vertices = case["vertices"]
    if not polygon(vertices).is_valid:
        return []
    pieces = arcs(vertices)
    runs = [shapely.LineString(np.concatenate([a.points(), a.q[None, :]])) for a in pieces]
    n = len(pieces)
    apart = [shapely.distance(runs[i], runs[j]) for i in range(n) for j in range(i + 2, n) if (i, j) != (0, n - 1)]
    if apart and min(apart) <= 2 * SAGITTA:
        return []
    turns = [math.remainder(b.direction(0) - a.direction(1), 2 * math.pi) for a, b in zip(pieces, pieces[1:] + pieces[:1])]
    if any(math.pi - abs(turn) < 1e-4 or abs(turn) < 1e-6 for turn in turns) and case["family"] == "nearly-flat":
        return []
    return [f"refused, and GEOS sees nothing wrong: {case['refused']}"]


def whole(line):
    """Counts and faults of one outline."""
    case = json.loads(line)
    flat = case["family"] == "nearly-flat"
    counts, wrong, errors = Counter(), [], []
    if "circle_error" in case:
        return Counter({"circle": 1, "refused flat" if flat else "refused": 1}), [], [case["circle_error"]]
    if "refused" in case:
        return Counter({"invalid": 1}), refused(case), []
    if not polygon(case["vertices"]).is_valid:
        return counts, [f"taken as valid, and GEOS says {shapely.is_valid_reason(polygon(case['vertices']))}"], []
    for name, check in [("measures", measures), ("circle", circle)]:
        counts[name] += 1
        wrong += check(case)
    for name, list_, check in [("parallel", "parallels", parallel), ("reach", "reaches", reach)]:
        for one in case[list_]:
            counts[name] += 1
            if "error" in one:
                counts["refused flat" if flat else "refused"] += 1
                errors.append(one["error"])
            else:
                wrong += check(case, one)
    for one in case["rooms"]:
        if "error" in one:
            counts["refused flat" if flat else "refused"] += 1
            errors.append(one["error"])
        else:
            faults, counted = room(case, one)
            wrong += faults
            counts += counted
    return counts, wrong, errors


def near(line):
    """Counts and faults of one parallel near a collapse."""
    case = json.loads(line)
    flat = case["family"] == "nearly-flat"
    counts = Counter({"near": 1, "near flat": int(flat)})
    if "error" in case:
        counts["refused flat" if flat else "refused"] += 1
        return counts, [], [case["error"]]
    counts["near empty"] += not case["loops"]
    wrong = inward(f"near collapse at {case['distance']}", case["vertices"], case["distance"], case["loops"])
    counts["near agree"] += not wrong
    return counts, wrong, []


def run(name, check, path):
    lines = path.read_text().splitlines()
    total, wrong, errors = Counter(), 0, []
    with multiprocessing.Pool() as pool:
        for i, (counts, faults, refusals) in enumerate(pool.imap(check, lines, chunksize=16)):
            total += counts
            errors += refusals
            wrong += bool(faults)
            for fault in faults[:5] if wrong <= 20 else []:
                print(f"{path.name}:{i + 1}: {fault}")
    return total, wrong, errors


def main(folder):
    failed = []
    total, wrong, errors = run("outlines", whole, folder / "outlines.jsonl")
    asked = total["circle"] + total["parallel"] + total["reach"] + total["narrowest"]
    print(f"reference: {total['measures']} outlines measured, {total['circle']} circles, {total['parallel']} parallels, {total['reach']} reaches, "
          f"{total['narrowest']} narrowest places ({total['narrowest none']} none, {total['narrowest neck']} held against a neck, "
          f"{total['narrowest stretch']} against a stretch), "
          f"{total['invalid']} invalid outlines; {total['refused']} refused with an error and {total['refused flat']} more with arcs flat to rounding; "
          f"{wrong} outlines differ")
    failed += [f"no case of {kind}" for kind in ("measures", "circle", "parallel", "reach", "narrowest neck", "narrowest stretch", "narrowest none") if not total[kind]]
    failed += [f"{wrong} outlines differ"] if wrong else []
    failed += [f"{total['refused']} of {asked} refused"] if total["refused"] > max(1, REFUSED * asked) else []

    failed += ["too many with flat arcs refused"] if total["refused flat"] > max(1, REFUSED_FLAT * asked) else []

    close, silent, close_errors = run("near", near, folder / "near.jsonl")
    ordinary = close["near"] - close["near flat"]
    print(f"reference: {close['near']} parallels within 1 um of a collapse: {close['near agree']} agree ({close['near empty']} of all are empty), "
          f"{close['refused']} of {ordinary} refused with an error, {close['refused flat']} of {close['near flat']} with arcs flat to rounding refused, "
          f"{silent} silent failures; bound {DELTA * 1e3:.3g} um")
    failed += ["no case near a collapse"] if not close["near"] else []
    failed += [f"{silent} silent failures near a collapse"] if silent else []
    failed += [f"{close['refused']} of {ordinary} refused near a collapse"] if close["refused"] > REFUSED * ordinary else []
    failed += ["too many with flat arcs refused near a collapse"] if close["refused flat"] > REFUSED_FLAT * close["near flat"] else []
    for error in (errors + close_errors)[:10]:
        print(f"refused: {error}")
    for fault in failed:
        print(f"reference: FAILED: {fault}")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
