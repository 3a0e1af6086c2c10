"""Outlines of lines and arcs as GEOS polygons, and the set of points farther than a distance from one.

Erosion and dilation are put together from plain boolean operations: each segment's band (what lies within the distance along its normals) and
each turned joint's sector are joined and taken away or added. GEOS's own buffer is no use as a reference here: it simplifies concave runs by up
to a hundredth of the distance (measured: 0.05 um at 1 mm on an already flattened bite), and that is more than the bound that is checked.
"""

import math

import numpy as np
import shapely
from shapely import Point

# Sagitta of the flattening, mm: every chord lies this close to its arc.
SAGITTA = 5e-6
# How far the distance is widened and narrowed to bracket ours: source and bands are each within a sagitta, and some for rounding.
DELTA = 3 * SAGITTA
# Bands reach this far over the edge, so that no crack is left along it.
OVER = 4 * SAGITTA
# Joints that turn away from the band by more than minus this, rad, get a sector; sectors overlap the bands by the same.
TURN = 1e-3


class Arc:
    """One segment: ends, and for an arc centre, radius, start angle and sweep."""

    def __init__(self, a, b):
        self.p, self.q, bulge = np.array(a[:2]), np.array(b[:2]), a[2]
        chord = self.q - self.p
        self.length = math.hypot(*chord)
        self.angle = math.atan2(chord[1], chord[0])
        self.sweep = 4 * math.atan(bulge)
        # An arc that bows by a small part of the sagitta is a line here: its centre would be lost in rounding.
        self.straight = abs(bulge) * self.length / 2 < SAGITTA / 10
        if not self.straight:
            self.r = self.length * (1 + bulge * bulge) / (4 * abs(bulge))
            left = np.array([-chord[1], chord[0]])
            self.c = (self.p + self.q) / 2 + left * (1 - bulge * bulge) / (4 * bulge)
            arm = self.p - self.c
            self.start = math.atan2(arm[1], arm[0])

    def direction(self, end):
        return self.angle + (0.5 if end else -0.5) * (0 if self.straight else self.sweep)

    def points(self, step_radius=None):
        """From the first end up to, not including, the last; chords within a sagitta of a circle of `step_radius`."""
        if self.straight:
            return self.p[None, :]
        n = steps(self.sweep, step_radius or self.r)
        return on_circle(self.c, self.r, self.start + self.sweep * np.arange(n) / n)


def steps(sweep, radius):
    widest = 2 * math.acos(max(1 - SAGITTA / radius, 0.0))
    return max(1, math.ceil(abs(sweep) / widest))


def on_circle(centre, radius, angles):
    return centre + radius * np.c_[np.cos(angles), np.sin(angles)]


def arcs(vertices):
    return [Arc(a, b) for a, b in zip(vertices, vertices[1:] + vertices[:1])]


def polygon(vertices):
    return shapely.Polygon(np.concatenate([a.points() for a in arcs(vertices)]))


def region(loops):
    """Union of loops that do not overlap."""
    return shapely.multipolygons([polygon(v) for v in loops]) if loops else shapely.Polygon()


def band(arc, distance, side):
    """Points within `distance` of the segment along its normals, on the left (side 1) or right (side -1), and a little over the edge."""
    if arc.straight:
        along = np.array([math.cos(arc.angle), math.sin(arc.angle)])
        normal = side * np.array([-along[1], along[0]])
        p, q = arc.p, arc.q
        return shapely.Polygon([p - OVER * normal, q - OVER * normal, q + distance * normal, p + distance * normal])
    # The centre lies on the left of an arc that turns left.
    toward = side * math.copysign(1, arc.sweep)
    far, near = arc.r - toward * distance, arc.r + toward * OVER
    n = steps(arc.sweep, max(arc.r, far, near))
    angles = arc.start + arc.sweep * np.arange(n + 1) / n
    edge = on_circle(arc.c, near, angles)
    if far <= 0:
        # All that lies within -far of the centre is within the distance of every point of the arc.
        middle = Point(arc.c).buffer(-far) if far < 0 else Point(arc.c)
        return shapely.union(shapely.Polygon(np.concatenate([edge, arc.c[None, :]])), middle)
    return shapely.Polygon(np.concatenate([edge, on_circle(arc.c, far, angles[::-1])]))


def sector(before, after, distance, side):
    """Points within `distance` of a joint that turns away from the side; a joint that turns back wholly gets its whole disc."""
    turn = math.remainder(after.direction(0) - before.direction(1), 2 * math.pi)
    if side * turn > TURN and abs(turn) < math.pi - TURN:
        # The bands overlap here; this covers the one point where both end.
        return Point(after.p).buffer(min(OVER, distance))
    if abs(turn) > math.pi - TURN:
        low, high = 0, 2 * math.pi
    else:
        normal = before.direction(1) + side * math.pi / 2
        low, high = sorted([normal, normal + turn])
        low, high = low - TURN, high + TURN
    n = steps(high - low, distance)
    rim = on_circle(after.p, distance, low + (high - low) * np.arange(n + 1) / n)
    # The tip stands a little behind the joint, or the sector would have no width where the bands part.
    tip = on_circle(after.p, -OVER, np.array([(low + high) / 2]))
    return shapely.Polygon(np.concatenate([tip, rim]))


def within(vertices, distance, side):
    pieces = arcs(vertices)
    bands = [band(a, distance, side) for a in pieces]
    sectors = [sector(a, b, distance, side) for a, b in zip(pieces, pieces[1:] + pieces[:1])]
    shapes = shapely.make_valid(np.array(bands + sectors))
    return shapely.union_all(shapes)


def eroded(vertices, distance):
    """What lies inside, farther than `distance` from the edge."""
    whole = polygon(vertices)
    rest = shapely.get_parts(shapely.difference(whole, within(vertices, distance, 1)))
    # Where two bands meet at a corner of the edge, rounding can leave a crumb between them. By definition nothing that near to the edge is left.
    kept = shapely.distance(shapely.point_on_surface(rest), whole.exterior) > distance / 2
    return shapely.union_all(rest[kept])


def dilated(vertices, distance):
    """What lies inside or within `distance` of the edge."""
    return shapely.union(polygon(vertices), within(vertices, distance, -1))
