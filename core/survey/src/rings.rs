//! What can be wrong with an outline: crossing itself, folding back, having no area, a hole outside it.

use robust::{Coord, orient2d};

use crate::curves::Xy;

/// What is wrong with a ring, and where.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum RingFault {
    /// Two of its edges cross or touch at a place.
    Crossing(Xy),
    /// It runs out to a place and back over itself.
    Spike(Xy),
    /// Its points lie on one line.
    Flat(Xy),
}

/// The first thing wrong with a ring, if anything is. The ring must not repeat a place twice in a row.
pub(crate) fn ring_fault(ring: &[Xy]) -> Option<RingFault> {
    let n = ring.len();
    if n < 3 || ring.iter().all(|&p| side(ring[0], ring[1], p) == 0.0) {
        return ring.first().map(|&p| RingFault::Flat(p));
    }
    for i in 0..n {
        let (a, b, c) = (ring[i], ring[(i + 1) % n], ring[(i + 2) % n]);
        let back = (b.0 - a.0) * (c.0 - b.0) + (b.1 - a.1) * (c.1 - b.1) < 0.0;
        if back && side(a, b, c) == 0.0 {
            return Some(RingFault::Spike(b));
        }
    }
    crossing(ring).map(RingFault::Crossing)
}

/// Twice the signed area, positive anticlockwise; summed about the first point to keep figures small.
pub(crate) fn twice_area(ring: &[Xy]) -> f64 {
    let Some(&(x0, y0)) = ring.first() else { return 0.0 };
    ring.windows(2).map(|w| (w[0].0 - x0) * (w[1].1 - y0) - (w[1].0 - x0) * (w[0].1 - y0)).sum()
}

/// True when a place lies inside a ring or on it.
pub(crate) fn holds(ring: &[Xy], p: Xy) -> bool {
    let mut inside = false;
    for (i, &a) in ring.iter().enumerate() {
        let b = ring[(i + 1) % ring.len()];
        if side(a, b, p) == 0.0 && within(a, b, p) {
            return true;
        }
        if (a.1 > p.1) != (b.1 > p.1) {
            let (low, high) = if a.1 < b.1 { (a, b) } else { (b, a) };
            inside ^= side(low, high, p) > 0.0;
        }
    }
    inside
}

/// The first place where two edges that are not neighbours meet, sweeping from left to right.
fn crossing(ring: &[Xy]) -> Option<Xy> {
    let n = ring.len();
    let edge = |i: usize| (ring[i], ring[(i + 1) % n]);
    let mut order: Vec<usize> = (0..n).collect();
    order.sort_by(|&i, &j| left(edge(i)).total_cmp(&left(edge(j))).then(i.cmp(&j)));
    let mut open: Vec<usize> = Vec::new();
    for i in order {
        let (a, b) = edge(i);
        open.retain(|&j| right(edge(j)) >= left((a, b)));
        for &j in &open {
            let neighbours = (i + 1) % n == j || (j + 1) % n == i;
            let (c, d) = edge(j);
            if !neighbours && let Some(at) = meeting(a, b, c, d) {
                return Some(at);
            }
        }
        open.push(i);
    }
    None
}

/// Where two segments meet, if they do.
fn meeting(a: Xy, b: Xy, c: Xy, d: Xy) -> Option<Xy> {
    let (abc, abd) = (side(a, b, c), side(a, b, d));
    let (cda, cdb) = (side(c, d, a), side(c, d, b));
    if abc == 0.0 && within(a, b, c) {
        return Some(c);
    }
    if abd == 0.0 && within(a, b, d) {
        return Some(d);
    }
    if cda == 0.0 && within(c, d, a) {
        return Some(a);
    }
    if cdb == 0.0 && within(c, d, b) {
        return Some(b);
    }
    if (abc > 0.0) == (abd > 0.0) || (cda > 0.0) == (cdb > 0.0) || abc * abd == 0.0 || cda * cdb == 0.0 {
        return None;
    }
    let t = cda / (cda - cdb);
    Some((a.0 + t * (b.0 - a.0), a.1 + t * (b.1 - a.1)))
}

fn side(a: Xy, b: Xy, c: Xy) -> f64 {
    orient2d(coord(a), coord(b), coord(c))
}

fn coord((x, y): Xy) -> Coord<f64> {
    Coord { x, y }
}

fn within(a: Xy, b: Xy, p: Xy) -> bool {
    p.0 >= a.0.min(b.0) && p.0 <= a.0.max(b.0) && p.1 >= a.1.min(b.1) && p.1 <= a.1.max(b.1)
}

fn left((a, b): (Xy, Xy)) -> f64 {
    a.0.min(b.0)
}

fn right((a, b): (Xy, Xy)) -> f64 {
    a.0.max(b.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn faults_of_rings() {
        let check =
            |ring: &[Xy], expected: Option<RingFault>| assert_eq!(ring_fault(ring), expected, "{ring:?}");
        check(&[(0., 0.), (4., 0.), (4., 4.), (0., 4.)], None);
        // Robustness cases in the manner of OGC simple features: a bow tie, a spike, a flat ring, a figure of eight.
        check(&[(0., 0.), (4., 4.), (4., 0.), (0., 4.)], Some(RingFault::Crossing((2., 2.))));
        check(
            &[(0., 0.), (10., 0.), (10., 5.), (16., 5.), (10., 5.), (10., 10.), (0., 10.)],
            Some(RingFault::Spike((16., 5.))),
        );
        check(&[(0., 0.), (5., 5.), (10., 10.)], Some(RingFault::Flat((0., 0.))));
        check(
            &[(0., 0.), (2., 2.), (4., 0.), (4., 4.), (2., 2.), (0., 4.)],
            Some(RingFault::Crossing((2., 2.))),
        );
    }

    #[test]
    fn places_in_and_on_a_ring() {
        let ring = [(0., 0.), (4., 0.), (4., 4.), (0., 4.)];
        let check = |p: Xy, expected: bool| assert_eq!(holds(&ring, p), expected, "{p:?}");
        check((1., 1.), true);
        check((4., 2.), true);
        check((0., 0.), true);
        check((5., 2.), false);
        check((-1., 0.), false);
    }
}
