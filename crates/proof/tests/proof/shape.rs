//! Closed shapes of lines and arcs, counter-clockwise, and plain sums over them.

use std::f64::consts::TAU;

pub type P = [f64; 2];

pub fn sub(a: P, b: P) -> P {
    [a[0] - b[0], a[1] - b[1]]
}

pub fn along(p: P, d: P, t: f64) -> P {
    [p[0] + t * d[0], p[1] + t * d[1]]
}

pub fn far(a: P, b: P) -> f64 {
    let d = sub(a, b);
    (d[0] * d[0] + d[1] * d[1]).sqrt()
}

/// A line, or an arc with its centre and sweep in radians, counter-clockwise positive.
#[derive(Debug, Clone, Copy)]
pub struct Seg {
    pub a: P,
    pub b: P,
    pub arc: Option<(P, f64)>,
}

impl Seg {
    pub fn line(a: P, b: P) -> Self {
        Self { a, b, arc: None }
    }

    pub fn length(&self) -> f64 {
        self.arc.map_or(far(self.a, self.b), |(c, sweep)| far(self.a, c) * sweep.abs())
    }

    pub fn at(&self, t: f64) -> P {
        match self.arc {
            None => along(self.a, sub(self.b, self.a), t),
            Some((c, sweep)) => {
                let r = far(self.a, c) * (1.0 - t) + far(self.b, c) * t;
                let angle = (self.a[1] - c[1]).atan2(self.a[0] - c[0]) + t * sweep;
                [c[0] + r * angle.cos(), c[1] + r * angle.sin()]
            }
        }
    }

    /// Unit direction of travel.
    pub fn direction(&self, t: f64) -> P {
        match self.arc {
            None => {
                let l = far(self.a, self.b);
                sub(self.b, self.a).map(|v| v / l)
            }
            Some((c, sweep)) => {
                let p = self.at(t);
                let r = far(p, c);
                [-(p[1] - c[1]) / r * sweep.signum(), (p[0] - c[0]) / r * sweep.signum()]
            }
        }
    }

    /// Unit normal to the left.
    pub fn left(&self, t: f64) -> P {
        let d = self.direction(t);
        [-d[1], d[0]]
    }

    pub fn reversed(&self) -> Self {
        Self { a: self.b, b: self.a, arc: self.arc.map(|(c, sweep)| (c, -sweep)) }
    }

    pub fn distance(&self, p: P) -> f64 {
        match self.arc {
            None => {
                let d = sub(self.b, self.a);
                let t = ((p[0] - self.a[0]) * d[0] + (p[1] - self.a[1]) * d[1]) / (d[0] * d[0] + d[1] * d[1]);
                far(p, along(self.a, d, t.clamp(0.0, 1.0)))
            }
            Some((c, sweep)) => {
                let start = (self.a[1] - c[1]).atan2(self.a[0] - c[0]);
                let way = (((p[1] - c[1]).atan2(p[0] - c[0]) - start) * sweep.signum()).rem_euclid(TAU);
                match way <= sweep.abs() {
                    // Rounding gives the ends two radii.
                    true => {
                        let t = way / sweep.abs();
                        (far(p, c) - far(self.a, c) * (1.0 - t) - far(self.b, c) * t).abs()
                    }
                    false => far(p, self.a).min(far(p, self.b)),
                }
            }
        }
    }
}

#[derive(Debug, Clone)]
pub struct Shape {
    pub segs: Vec<Seg>,
    /// The same as a fine polygon, to tell inside from outside.
    polygon: Vec<P>,
}

impl Shape {
    /// A shape of these pieces, counter-clockwise.
    pub fn of(segs: Vec<Seg>) -> Self {
        let steps = |s: &Seg| if s.arc.is_some() { 300 } else { 1 };
        let polygon = segs.iter().flat_map(|s| (0..steps(s)).map(|k| s.at(k as f64 / steps(s) as f64)));
        Self { polygon: polygon.collect(), segs }
    }

    /// A polygon (counter-clockwise) whose corners are rounded by the third number.
    pub fn rounded(corners: &[[f64; 3]]) -> Self {
        let n = corners.len();
        let place = |i: usize| [corners[i % n][0], corners[i % n][1]];
        let mut ends = Vec::new();
        for (i, corner) in corners.iter().enumerate() {
            let (before, here, after) = (place(i + n - 1), place(i), place(i + 1));
            let unit = |v: P| v.map(|x| x / v[0].hypot(v[1]));
            let (u, v) = (unit(sub(before, here)), unit(sub(after, here)));
            let half = (u[0] * v[0] + u[1] * v[1]).acos() / 2.0;
            let r = corner[2];
            let (p, q) = (along(here, u, r / half.tan()), along(here, v, r / half.tan()));
            let middle = unit([u[0] + v[0], u[1] + v[1]]);
            let centre = along(here, middle, r / half.sin());
            let turn = if u[0] * v[1] - u[1] * v[0] < 0.0 { 1.0 } else { -1.0 };
            ends.push((p, q, centre, turn * (std::f64::consts::PI - 2.0 * half), r));
        }
        let mut segs = Vec::new();
        for i in 0..n {
            let (p, q, centre, sweep, r) = ends[i];
            if r > 0.0 {
                segs.push(Seg { a: p, b: q, arc: Some((centre, sweep)) });
            }
            let next = ends[(i + 1) % n].0;
            if far(q, next) > 1e-9 {
                segs.push(Seg::line(q, next));
            }
        }
        Self::of(begun(segs))
    }

    pub fn rectangle(w: f64, h: f64, r: f64) -> Self {
        let (x, y) = (w / 2.0, h / 2.0);
        Self::rounded(&[[-x, -y, r], [x, -y, r], [x, y, r], [-x, y, r]])
    }

    pub fn circle(r: f64) -> Self {
        let half = std::f64::consts::PI;
        let arc = |a: P, b: P| Seg { a, b, arc: Some(([0.0, 0.0], half)) };
        Self::of(vec![arc([r, 0.0], [-r, 0.0]), arc([-r, 0.0], [r, 0.0])])
    }

    pub fn turned(&self, angle: f64) -> Self {
        let (s, c) = angle.sin_cos();
        self.map(|p| [c * p[0] - s * p[1], s * p[0] + c * p[1]])
    }

    pub fn moved(&self, by: P) -> Self {
        self.map(|p| [p[0] + by[0], p[1] + by[1]])
    }

    fn map(&self, f: impl Fn(P) -> P) -> Self {
        let segs = self.segs.iter().map(|s| Seg {
            a: f(s.a),
            b: f(s.b),
            arc: s.arc.map(|(c, sweep)| (f(c), sweep)),
        });
        Self::of(segs.collect())
    }

    /// Bulge vertices.
    pub fn vertices(&self) -> Vec<[f64; 3]> {
        let bulge = |s: &Seg| s.arc.map_or(0.0, |(_, sweep)| (sweep / 4.0).tan());
        self.segs.iter().map(|s| [s.a[0], s.a[1], bulge(s)]).collect()
    }

    pub fn to_edge(&self, p: P) -> f64 {
        self.segs.iter().map(|s| s.distance(p)).fold(f64::INFINITY, f64::min)
    }

    /// Middles of square cells all over it and around it.
    pub fn cells(&self, size: f64) -> Vec<P> {
        let bound =
            |k: usize, sign: f64| self.polygon.iter().map(|p| sign * p[k]).fold(f64::INFINITY, f64::min);
        let steps = |k: usize| ((-bound(k, -1.0) - bound(k, 1.0)) / size).ceil() as usize;
        let low = [bound(0, 1.0), bound(1, 1.0)];
        let at = |i: usize, k: usize| low[k] + (i as f64 + 0.5) * size;
        (0..steps(0)).flat_map(|i| (0..steps(1)).map(move |j| [at(i, 0), at(j, 1)])).collect()
    }

    /// Distance to the edge, positive inside.
    pub fn inside(&self, p: P) -> f64 {
        let n = self.polygon.len();
        let crossings = (0..n).filter(|i| {
            let (a, b) = (self.polygon[*i], self.polygon[(i + 1) % n]);
            (a[1] > p[1]) != (b[1] > p[1]) && p[0] < (b[0] - a[0]) * (p[1] - a[1]) / (b[1] - a[1]) + a[0]
        });
        if crossings.count() % 2 == 1 { self.to_edge(p) } else { -self.to_edge(p) }
    }

    /// The way of a wire's centre `d` inside: around concave corners in an arc, into convex ones to where the
    /// parallels meet.
    pub fn parallel(&self, d: f64) -> Vec<Seg> {
        let n = self.segs.len();
        let raw: Vec<Seg> = self
            .segs
            .iter()
            .map(|s| Seg { a: along(s.a, s.left(0.0), d), b: along(s.b, s.left(1.0), d), arc: s.arc })
            .collect();
        let mut out = raw.clone();
        let mut round = Vec::new();
        for i in 0..n {
            let j = (i + 1) % n;
            let (u, v) = (self.segs[i].direction(1.0), self.segs[j].direction(0.0));
            let turn = (u[0] * v[1] - u[1] * v[0]).atan2(u[0] * v[0] + u[1] * v[1]);
            if turn > 1e-6 {
                assert!(raw[i].arc.is_none() && raw[j].arc.is_none(), "corners of lines only");
                let w = sub(raw[j].a, raw[i].b);
                let t = (w[0] * v[1] - w[1] * v[0]) / (u[0] * v[1] - u[1] * v[0]);
                out[i].b = along(raw[i].b, u, t);
                out[j].a = out[i].b;
            } else if turn < -1e-6 {
                round.push((i, Seg { a: raw[i].b, b: raw[j].a, arc: Some((self.segs[i].b, turn)) }));
            }
        }
        for (i, arc) in round.into_iter().rev() {
            out.insert(i + 1, arc);
        }
        out
    }
}

/// The same loop, beginning in the middle of its longest line, where there is one.
fn begun(mut segs: Vec<Seg>) -> Vec<Seg> {
    let lines = (0..segs.len()).filter(|i| segs[*i].arc.is_none());
    let longest = lines.max_by(|i, j| segs[*i].length().total_cmp(&segs[*j].length()));
    if let Some(i) = longest {
        let whole = segs[i];
        let middle = whole.at(0.5);
        segs.rotate_left(i);
        segs[0] = Seg::line(middle, whole.b);
        segs.push(Seg::line(whole.a, middle));
    }
    segs
}
