"""Computes the expected values of the book again: again.py FILE, as `cargo xtask checks FILE` writes it.

Every check that says how (`again`, an expression of Python over its own data) is computed afresh with NumPy, SciPy and Shapely, and must round to
what the book prints. Ends with a line `reference: ...`; fails if none was computed.
"""

import json
import math
import sys

import numpy as np
from scipy.integrate import dblquad, quad
from scipy.linalg import eigvalsh_tridiagonal
from scipy.optimize import brentq
from scipy.stats import ncx2, norm, rayleigh
from shapely import LineString, Point, Polygon, box, maximum_inscribed_circle

# Chords of a full circle. Their polygon is smaller than its circle by 7e-10 of the area.
CHORDS = 100_000


def polygon(vertices):
    """The outline as a polygon, arcs as chords; a vertex is x, y and the bulge of the segment that leaves it."""
    points = []
    for a, b in zip(vertices, vertices[1:] + vertices[:1]):
        bulge = a[2] if len(a) > 2 else 0.0
        p, q = np.array(a[:2], float), np.array(b[:2], float)
        if bulge == 0:
            points.append(p[None, :])
            continue
        sweep = 4 * math.atan(bulge)
        chord = q - p
        centre = (p + q) / 2 + np.array([-chord[1], chord[0]]) * (1 - bulge * bulge) / (4 * bulge)
        start = math.atan2(*(p - centre)[::-1])
        t = start + sweep * np.arange(n := max(2, round(CHORDS * abs(sweep) / math.tau))) / n
        points.append(centre + math.hypot(*(p - centre)) * np.c_[np.cos(t), np.sin(t)])
    return Polygon(np.concatenate(points))


def maximum_inscribed(vertices):
    return maximum_inscribed_circle(polygon(vertices), 1e-7).length


def column(stiffness, length, stations=2000):
    """Least load that buckles a hinged column, by finite differences: stiffness y'' + load y = 0."""
    step = length / stations
    least = eigvalsh_tridiagonal(np.full(stations - 1, 2.0), np.full(stations - 2, -1.0), select="i", select_range=(0, 0))
    return stiffness * least[0] / step**2


NAMES = {
    name: getattr(math, name) for name in ("atan2", "cos", "degrees", "exp", "hypot", "pi", "radians", "sin", "sqrt")
} | {
    "LineString": LineString, "Point": Point, "box": box, "brentq": brentq, "column": column, "dblquad": dblquad, "maximum_inscribed": maximum_inscribed, "maximum_inscribed_circle": maximum_inscribed_circle, "ncx2": ncx2, "norm": norm, "np": np,
    "polygon": polygon, "quad": quad, "rayleigh": rayleigh,
}  # fmt: skip


def half_a_digit(printed):
    mantissa, _, exponent = printed.lower().partition("e")
    return 0.5 * 10.0 ** (int(exponent or 0) - len(mantissa.partition(".")[2]))


def main(path):
    with open(path) as file:
        rows = json.load(file)
    computed, wrong = 0, 0
    for row in rows:
        if row["again"] is None:
            continue
        value = eval(row["again"], NAMES | row["given"])  # the book is ours, as this file is
        computed += 1
        if not abs(value - float(row["expected"])) <= half_a_digit(row["expected"]) * (1 + 1e-9):
            wrong += 1
            print(f"{row['id']}: the book prints {row['expected']}, computed {value!r}, ours {row['ours']}")
    print(f"reference: book, {computed} expected values computed again, {wrong} differ")
    return 1 if wrong or not computed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
