"""Stress along the edges of a plate with openings, by an integral equation on the edges alone: no triangles and no displacements.

Muskhelishvili's two functions of a plane stress state are written as Cauchy integrals of one density over the edges, which leads to
the equation of Sherman and Lauricella (as in Greengard, Kropinski and Mayo, J. Comput. Phys. 125, 1996; from memory, so that
`compare.py` first holds this file to Lame and Kirsch). Segments are cut into panels of Gauss-Legendre nodes, finer towards joints.
In the last panels at a joint where the bend changes, the slope of the density is not good, however short they are: no stress is given there.
Loads are pressures that balance: the same all round each edge, and more on sides of the outer one.
"""

import numpy as np

NODES = 10
GAUSS, WEIGHTS = np.polynomial.legendre.leggauss(NODES)
# Through values at the nodes runs a polynomial: its coefficients, its slope at the nodes, its integral from -1 to each node.
TO_SERIES = np.linalg.inv(np.polynomial.legendre.legvander(GAUSS, NODES - 1))
UNITS = np.eye(NODES)
SLOPES = np.array([np.polynomial.legendre.legval(GAUSS, np.polynomial.legendre.legder(c)) for c in TO_SERIES.T]).T
INTEGRALS = np.array([np.polynomial.legendre.legval(GAUSS, np.polynomial.legendre.legint(c, lbnd=-1)) for c in TO_SERIES.T]).T
# Values at evenly spaced places of a panel, to find the top between nodes.
FINE = np.polynomial.legendre.legvander(np.linspace(-1, 1, 41), NODES - 1) @ TO_SERIES

# Panels are halved towards a joint until they are no longer than this share of the shorter segment there.
AT_JOINT = 0.03
# Nearer to a joint than this share of it no stress is given.
UNSURE = 0.05
# No panel of an arc spans a greater angle, rad; none is longer than this many times its distance from another edge.
SPAN, NEAR = 0.55, 1.0


def segments(vertices, reverse):
    """Number and (from, to, bulge) of each segment, in the order that has the plate on the left."""
    points = [complex(x, y) for x, y, _ in vertices]
    n = len(points)
    forth = [(i, (points[i], points[(i + 1) % n], vertices[i][2])) for i in range(n)]
    return [(i, (b, a, -bulge)) for i, (a, b, bulge) in reversed(forth)] if reverse else forth


def along(segment, share):
    """Places at shares of a segment's length, and the way along it for each unit of share."""
    a, b, bulge = segment
    if bulge == 0:
        return a + (b - a) * share, np.full(np.shape(share), b - a)
    sweep = 4 * np.arctan(bulge)
    middle = (a + b) / 2 + 1j * (b - a) * (1 - bulge**2) / (4 * bulge)
    arm = (a - middle) * np.exp(1j * sweep * share)
    return middle + arm, 1j * sweep * arm


def length(segment):
    a, b, bulge = segment
    return abs(b - a) * (1 if bulge == 0 else np.arctan(bulge) * (1 + bulge**2) / bulge)


def halvings(panel, shorter):
    """How often a panel is halved towards a joint, and one more."""
    return 1 + max(0, int(np.ceil(np.log2(panel / (AT_JOINT * shorter)))))


class Edges:
    """All edges in panels: places, the way along a panel for each unit of its own coordinate, and to what they belong."""

    def __init__(self, outer, openings):
        self.loops = [segments(outer, False)] + [segments(opening, True) for opening in openings]
        self.z, self.way, self.loop, self.number, self.good = [], [], [], [], []
        for loop, pieces in enumerate(self.loops):
            for k in range(len(pieces)):
                for low, high in self.cuts(loop, k):
                    z, way = along(pieces[k][1], low + (high - low) * (1 + GAUSS) / 2)
                    self.z.append(z)
                    self.way.append(way * (high - low) / 2)
                    self.loop.append(loop)
                    self.number.append(pieces[k][0])
                    self.good.append(min(low, 1 - high) * length(pieces[k][1]) > UNSURE * self.shortest(loop, k))
        self.loop, self.number = np.repeat(self.loop, NODES), np.repeat(self.number, NODES)
        self.z, self.way = np.concatenate(self.z), np.concatenate(self.way)
        self.dz = self.way * np.tile(WEIGHTS, len(self.z) // NODES)

    def by_panels(self, matrix, values):
        return (values.reshape(-1, NODES) @ matrix.T).ravel()

    def slope(self, values):
        """Derivative by the place, along the edge."""
        return self.by_panels(SLOPES, values) / self.way

    def cuts(self, loop, k):
        pieces = self.loops[loop]
        _, segment = pieces[k]
        count = max(2, int(np.ceil(abs(4 * np.arctan(segment[2])) / SPAN)))
        shares = np.linspace(0, 1, count + 1)
        before, own, after = (length(pieces[j % len(pieces)][1]) for j in (k - 1, k, k + 1))
        first = [shares[1] / 2**j for j in range(1, halvings(own * shares[1], min(before, own)))]
        last = [1 - shares[1] / 2**j for j in range(1, halvings(own * shares[1], min(own, after)))]
        shares = sorted([*shares, *first, *last])
        stack, done = list(zip(shares[:-1], shares[1:])), []
        others = self.others(loop, k)
        while stack:
            low, high = stack.pop()
            z, way = along(segment, low + (high - low) * np.linspace(0, 1, 5))
            if len(others) and abs(way[0]) * (high - low) > NEAR * np.min(np.abs(others[None, :] - z[:, None])):
                stack += [(low, (low + high) / 2), ((low + high) / 2, high)]
            else:
                done.append((low, high))
        return sorted(done)

    def shortest(self, loop, k):
        """The shortest of a piece and its neighbours."""
        pieces = self.loops[loop]
        return min(length(pieces[j % len(pieces)][1]) for j in (k - 1, k, k + 1))

    def others(self, loop, k):
        """Places on all pieces that do not join piece k."""
        n = len(self.loops[loop])
        far = [s for l, pieces in enumerate(self.loops) for j, (_, s) in enumerate(pieces) if l != loop or (j - k) % n not in (0, 1, n - 1)]
        return np.concatenate([along(s, np.linspace(0, 1, 60))[0] for s in far]) if far else np.array([])


def inner_place(vertices):
    """A place well inside an opening."""
    ring = np.concatenate([along(s, np.linspace(0, 1, 12)[:-1])[0] for _, s in segments(vertices, False)])
    xs, ys = (np.linspace(f.min(), f.max(), 33)[1:-1] for f in (ring.real, ring.imag))
    grid = (xs[:, None] + 1j * ys[None, :]).ravel()
    winding = np.sum(np.angle((np.roll(ring, -1)[None, :] - grid[:, None]) / (ring[None, :] - grid[:, None])), axis=1)
    distance = np.where(winding > 3, np.min(np.abs(ring[None, :] - grid[:, None]), axis=1), -1)
    return grid[np.argmax(distance)]


def solve(outer, openings, pressures, sides=None):
    """Edges with stress along and across them at every node.

    pressures: one for each edge, the outer first; sides: further pressures on segments of the outer edge, by number.
    """
    edges = Edges(outer, openings)
    pressed = np.array(pressures, float)[edges.loop]
    for number, pressure in (sides or {}).items():
        pressed += pressure * ((edges.loop == 0) & (edges.number == number))
    # A pressure p gives i (X + iY) ds = -p dz.
    right, force = np.zeros(len(edges.z), complex), -pressed * edges.way
    for loop in range(len(edges.loops)):
        at = np.flatnonzero(edges.loop == loop)
        each = force[at].reshape(-1, NODES)
        before = np.concatenate([[0], np.cumsum(each @ WEIGHTS)[:-1]])
        right[at] = (before[:, None] + each @ INTEGRALS.T).ravel()
    inner = [inner_place(opening) for opening in openings]
    density = unknowns(edges, right, inner)
    # 4 Re phi' = along + across. The density's slope is taken out of the Cauchy integral of it, whose own integral is i pi.
    slope = edges.slope(density)
    apart = edges.z[None, :] - edges.z[:, None]
    np.fill_diagonal(apart, 1)
    quotient = (slope[None, :] - slope[:, None]) / apart
    np.fill_diagonal(quotient, edges.slope(slope))
    phi = slope + quotient @ edges.dz / (2j * np.pi)
    for k, place in enumerate(inner, start=1):
        own = edges.loop == k
        phi -= -2 * np.sum(density[own] * np.conj(edges.dz[own])).imag / (edges.z - place) ** 2
    return edges, 4 * phi.real + pressed, -pressed


def unknowns(edges, right, inner):
    """The density w, from a dense system in its real and imaginary parts:

    w(s) + 1/(2 pi i) int w d ln((t-s)/conj(t-s)) - 1/(2 pi i) int conj(w) d((t-s)/conj(t-s)) + terms of the openings = f(s).
    """
    z, dz, ds = edges.z, edges.dz, np.abs(edges.dz)
    apart = z[None, :] - z[:, None]
    np.fill_diagonal(apart, 1)
    other = np.conj(apart)
    of_w = (dz[None, :] / apart - np.conj(dz)[None, :] / other) / (2j * np.pi)
    of_conj = (apart * np.conj(dz)[None, :] / other - dz[None, :]) / other / (2j * np.pi)
    # Their limits at s itself come from the bend k of the edge: i k ds, and i k e^(2 i direction) ds.
    bend = np.imag(np.conj(edges.way) * edges.by_panels(SLOPES, edges.way)) / np.abs(edges.way) ** 3
    direction = edges.way / np.abs(edges.way)
    np.fill_diagonal(of_w, 1 + bend * ds / (2 * np.pi))
    np.fill_diagonal(of_conj, -bend * direction**2 * ds / (2 * np.pi))
    for k, place in enumerate(inner, start=1):
        own, s = np.flatnonzero(edges.loop == k), z - place
        # b = i int (w conj(dt) - conj(w) dt) in phi and psi as b/(z - place).
        shape = (1 / s + 1 / np.conj(s) - s / np.conj(s) ** 2)[:, None]
        of_w[:, own] += shape * 1j * np.conj(dz[own])
        of_conj[:, own] -= shape * 1j * dz[own]
        # The constant of this edge.
        of_w[np.ix_(own, own)] += ds[own] / ds[own].sum()
    # A turn of the whole plate changes no stress: this holds it, and comes out as nothing where the moments balance.
    own, place = np.flatnonzero(edges.loop == 0), inner[0] if inner else np.mean(z)
    shape = (1 / np.conj(z - place))[:, None] / (2j * np.pi)
    of_w[:, own] += shape * (dz / (z - place) ** 2)[own]
    of_conj[:, own] += shape * np.conj(dz / (z - place) ** 2)[own]
    real = np.block([[of_w.real + of_conj.real, of_conj.imag - of_w.imag], [of_w.imag + of_conj.imag, of_w.real - of_conj.real]])
    answer = np.linalg.solve(real, np.concatenate([right.real, right.imag]))
    return answer[: len(z)] + 1j * answer[len(z) :]


def peaks(edges, stress_along, stress_across, nu, first=0):
    """Greatest principal and equivalent stress, between the nodes too."""
    tension = np.maximum(stress_along, stress_across)
    total, half = stress_along + stress_across, (stress_along - stress_across) / 2
    equivalent = np.sqrt((1 - 2 * nu) ** 2 * total**2 / 4 + 3 * half**2)
    fine = (edges.loop.reshape(-1, NODES)[:, 0] >= first) & np.array(edges.good)
    return tuple(float(np.max(values.reshape(-1, NODES)[fine] @ FINE.T)) for values in (tension, equivalent))
