//! The little flat geometry the readers need: metres, x to the right, y up.

/// A place on the plane in metres.
pub(crate) type Xy = [f64; 2];

pub(crate) fn minus(a: Xy, b: Xy) -> Xy {
    [a[0] - b[0], a[1] - b[1]]
}

pub(crate) fn dot(a: Xy, b: Xy) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

pub(crate) fn cross(a: Xy, b: Xy) -> f64 {
    a[0] * b[1] - a[1] * b[0]
}

pub(crate) fn length(a: Xy) -> f64 {
    libm::hypot(a[0], a[1])
}

/// The same direction with length one; zero stays zero.
pub(crate) fn unit(a: Xy) -> Xy {
    let size = length(a);
    if size > 0.0 { [a[0] / size, a[1] / size] } else { [0.0, 0.0] }
}

/// The edges of a ring that does not repeat its first vertex.
pub(crate) fn edges(ring: &[Xy]) -> impl Iterator<Item = (Xy, Xy)> + '_ {
    ring.iter().copied().zip(ring.iter().copied().cycle().skip(1))
}

/// Twice the area of a ring, positive when it runs anticlockwise.
pub(crate) fn twice_area(ring: &[Xy]) -> f64 {
    let Some(&origin) = ring.first() else { return 0.0 };
    edges(ring).map(|(a, b)| cross(minus(a, origin), minus(b, origin))).sum()
}

/// True when a place lies inside a ring, by the number of edges to its right.
pub(crate) fn inside(ring: &[Xy], at: Xy) -> bool {
    edges(ring)
        .filter(|(a, b)| (a[1] > at[1]) != (b[1] > at[1]))
        .filter(|(a, b)| at[0] < a[0] + (at[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0]))
        .count()
        % 2
        == 1
}

/// How much of the way from `a` to `b` runs inside a ring.
pub(crate) fn length_inside(ring: &[Xy], a: Xy, b: Xy) -> f64 {
    let way = minus(b, a);
    let mut cuts = vec![0.0, 1.0];
    for (p, q) in edges(ring) {
        let edge = minus(q, p);
        let turn = cross(way, edge);
        if turn == 0.0 {
            continue;
        }
        let along = cross(minus(p, a), edge) / turn;
        let across = cross(minus(p, a), way) / turn;
        if (0.0..=1.0).contains(&along) && (0.0..=1.0).contains(&across) {
            cuts.push(along);
        }
    }
    cuts.sort_by(f64::total_cmp);
    let share: f64 = cuts
        .windows(2)
        .filter(|cut| {
            let middle = f64::midpoint(cut[0], cut[1]);
            inside(ring, [a[0] + middle * way[0], a[1] + middle * way[1]])
        })
        .map(|cut| cut[1] - cut[0])
        .sum();
    share * length(way)
}

/// The place on a straight piece nearest to another place.
pub(crate) fn nearest_on(a: Xy, b: Xy, to: Xy) -> Xy {
    let way = minus(b, a);
    let square = dot(way, way);
    let t = if square > 0.0 { (dot(minus(to, a), way) / square).clamp(0.0, 1.0) } else { 0.0 };
    [a[0] + t * way[0], a[1] + t * way[1]]
}

/// The length of a path.
pub(crate) fn path_length(path: &[Xy]) -> f64 {
    path.windows(2).map(|piece| length(minus(piece[1], piece[0]))).sum()
}

/// The place a share of the way along a path.
pub(crate) fn along(path: &[Xy], share: f64) -> Option<Xy> {
    let mut left = path_length(path) * share;
    for piece in path.windows(2) {
        let way = minus(piece[1], piece[0]);
        let size = length(way);
        if left <= size && size > 0.0 {
            let t = left / size;
            return Some([piece[0][0] + t * way[0], piece[0][1] + t * way[1]]);
        }
        left -= size;
    }
    path.last().copied()
}

/// The smallest upright box around some places, as its lower and upper corner.
pub(crate) fn bounds(places: &[Xy]) -> (Xy, Xy) {
    places.iter().fold(([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]), |(low, high), at| {
        ([low[0].min(at[0]), low[1].min(at[1])], [high[0].max(at[0]), high[1].max(at[1])])
    })
}
