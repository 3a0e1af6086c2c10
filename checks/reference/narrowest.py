"""The narrowest place of a room by sampling: at points all along the edge, the radius of the largest disc that touches there.

Such a disc may not reach over any other point q of the edge: from a point p with normal n into the room its radius is the least of
|q - p|^2 / (2 n.(q - p)). Along the edge, a neck is a least radius with larger ones on both sides, touched at opposite points; a stretch of
constant width is a run of equal ones. No medial axis, no pairs of walls, no closed form: nothing of what the outline room does.
"""

import numpy as np
import shapely
from shapely import Point

from shapes import SAGITTA, arcs, polygon

# Points along the edge: of all the discs, and of those beside an answer, which are few.
SAMPLES, FINE = 1200, 400000
# A neck counts here only if the radius grows by this share on both sides, a stretch only if it is this long as a share of its width.
RISE, LONG = 0.02, 0.3
# Widths that change by less are constant for the outline room, mm.
CONSTANT = 3e-4


class Samples:
    """Points along the loops, each with its normal, its loop and, on an arc that bends away from the room, the arc's radius (else infinity)."""

    def __init__(self, loops, count):
        total = sum(polygon(v).exterior.length for v in loops)
        self.step, self.fan = total / count, 60 / count
        parts = []
        for number, vertices in enumerate(loops):
            pieces = arcs(vertices)
            for one, following in zip(pieces, pieces[1:] + pieces[:1]):
                parts += [self.along(one, number), self.around(one, following, number)]
        self.points, turn, self.loop, self.bow = (np.concatenate(column) for column in zip(*parts))
        self.normals = np.c_[-np.sin(turn), np.cos(turn)]

    def along(self, arc, number):
        length = arc.length if arc.straight else abs(arc.sweep) * arc.r
        n = max(3, int(np.ceil(length / self.step)))
        t = (np.arange(n) + 0.5) / n
        if arc.straight:
            points, turn = arc.p + t[:, None] * (arc.q - arc.p), np.full(n, arc.angle)
        else:
            turn = arc.angle + (t - 0.5) * arc.sweep
            # From its beginning, not from its centre: that of an arc all but straight is too far off to be exact.
            chord, towards = 2 * arc.r * np.sin(abs(arc.sweep) * t / 2), arc.angle + (t / 2 - 0.5) * arc.sweep
            points = arc.p + chord[:, None] * np.c_[np.cos(towards), np.sin(towards)]
        bow = arc.r if not arc.straight and arc.sweep > 0 else np.inf
        return points, turn, np.full(n, number), np.full(n, bow)

    def around(self, before, after, number):
        """A corner that points into the room is touched from all directions between the normals beside it."""
        turn = np.remainder(after.direction(0) - before.direction(1) + np.pi, 2 * np.pi) - np.pi
        n = max(3, int(np.ceil(-turn / self.fan))) if turn < 0 else 0
        angles = before.direction(1) + turn * (np.arange(n) + 0.5) / max(n, 1)
        return np.tile(before.q, (n, 1)), angles, np.full(n, number), np.full(n, np.inf)

    def discs(self, rows):
        """Radius and the other touched point for some samples. About the middle of the points, so that products lose nothing that a step of the
        samples could notice."""
        points = self.points - self.points.mean(axis=0)
        own, normals = points[rows], self.normals[rows]
        square = (own**2).sum(axis=1)[:, None] + (points**2).sum(axis=1) - 2 * own @ points.T
        over = normals @ points.T - (normals * own).sum(axis=1)[:, None]
        # Points of the same line lie on the tangent: what is a millionth over it is rounding.
        over[(over <= 0) | (over * over <= 1e-12 * square)] = 0
        with np.errstate(divide="ignore", invalid="ignore"):
            inverse = np.nan_to_num(2 * over / square, posinf=0)
            return np.minimum(1 / inverse.max(axis=1), self.bow[rows]), inverse.argmax(axis=1)

    def all_discs(self):
        parts = [self.discs(rows) for rows in np.array_split(np.arange(len(self.points)), 1 + len(self.points) // 250)]
        self.radius, self.against = (np.concatenate(column) for column in zip(*parts))

    def opposite(self, i, share):
        """Whether the disc at a sample touches opposite points, and not just the arc that it sits in."""
        apart = np.hypot(*(self.points[i] - self.points[self.against[i]]))
        return self.radius[i] < 0.999 * self.bow[i] and apart > 2 * self.radius[i] * share

    def error(self, i):
        """What sampling makes of the radius at most: the other side is touched between two samples."""
        return self.step**2 / self.radius[i] + 4 * SAGITTA

    def rises(self, i, way):
        """Whether the radius grows on from a sample before it falls below what it is there."""
        members = np.flatnonzero(self.loop == self.loop[i])
        n, at = len(members), int(np.searchsorted(members, i))
        passed = members[(at + way * np.arange(1, n)) % n]
        run = self.radius[passed]
        # A disc that fills an arc has come to the end of its way.
        up, down = run > self.radius[i] * (1 + RISE), (run < self.radius[i] - self.error(i) / 10) | (run >= 0.999 * self.bow[passed])
        return up.any() and (not down.any() or int(up.argmax()) < int(down.argmax()))

    def between(self, i):
        """Whether the room is larger on both ways along the edge between the two touched points; in a spike it only gets smaller."""
        j = self.against[i]
        if self.loop[i] != self.loop[j]:
            return True
        low, high = min(i, j), max(i, j)
        members = np.flatnonzero(self.loop == self.loop[i])
        inner = self.radius[low : high + 1]
        outer = np.concatenate([self.radius[members[0] : low], self.radius[high : members[-1] + 1]])
        return all(part.size and part.max() > self.radius[i] * (1 + RISE) for part in (inner, outer))

    def necks(self):
        """Samples at necks beyond doubt, with the radius there."""
        order = np.argsort(self.radius)
        for i in order:
            if self.step < 0.1 * self.radius[i] and self.opposite(i, 0.995) and self.between(i) and self.rises(i, 1) and self.rises(i, -1):
                yield i
                return

    def constant(self):
        """The least radius of stretches beyond doubt that it stays the same on."""
        same = lambda a, b: abs(a - b) < 1e-7 + 1e-6 * a
        first, least = 0, None
        for k in range(1, len(self.radius) + 1):
            inside = (
                k < len(self.radius)
                and self.loop[k] == self.loop[first]
                and same(self.radius[k], self.radius[first])
                and self.opposite(k, 1 - 1e-4)
            )
            if inside:
                continue
            length = np.hypot(*np.diff(self.points[first:k], axis=0).T).sum() if k - first > 1 else 0.0
            if length > LONG * 2 * self.radius[first] and self.opposite(first, 1 - 1e-4) and (least is None or self.radius[first] < least):
                least = self.radius[first]
            first = k
        return least


def narrowest(outer, islands, ours):
    """Faults of an answer, and whether a neck and a stretch were found to hold it against."""
    samples = Samples([outer, *islands], SAMPLES)
    samples.all_discs()
    wrong = []
    width = ours["width"] if ours else np.inf
    neck = next(samples.necks(), None)
    if neck is not None and width > 2 * (samples.radius[neck] + samples.error(neck)):
        wrong.append(f"narrowest: {ours}, and there is a neck of {2 * samples.radius[neck]} at {samples.points[neck]}")
    stretch = samples.constant()
    if stretch is not None and width > 2 * stretch + CONSTANT + 1e-6 * stretch:
        wrong.append(f"narrowest: {ours}, and there is a stretch of {2 * stretch}")
    if ours:
        wrong += place([outer, *islands], ours)
    return wrong, neck is not None, stretch is not None


def place(loops, ours):
    """Whether an answer is a place as wide as it says, touched at opposite points, with nothing narrower beside it."""
    wrong, half, centre, fine = [], ours["width"] / 2, Point(ours["x"], ours["y"]), Samples(loops, FINE)
    room = polygon(loops[0])
    for island in loops[1:]:
        room = room.difference(polygon(island))
    if not room.contains(centre) or abs(shapely.distance(centre, room.boundary) - half) > 2 * SAGITTA:
        wrong.append(f"narrowest: {ours} is {shapely.distance(centre, room.boundary)} from the edge")
    for side in ours["sides"]:
        if shapely.distance(Point(side), room.boundary) > 2 * SAGITTA + CONSTANT:
            wrong.append(f"narrowest: side {side} of {ours} is not on the edge")
        # Of a corner only what looks the same way.
        towards = (np.array([centre.x, centre.y]) - side) / half
        beside = np.flatnonzero((np.hypot(*(fine.points - np.array(side)).T) < 1.5 * fine.step) & (fine.normals @ towards > 1 - 2e-6))
        least = fine.discs(beside)[0].min(initial=np.inf)
        if fine.step < 0.1 * half and least < half - fine.step**2 / half - 4 * SAGITTA - CONSTANT / 2:
            wrong.append(f"narrowest: {ours}, and beside its side {side} it is {2 * least}")
    return wrong
