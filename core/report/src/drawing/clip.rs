//! Cutting what reaches beyond the drawing: lines and rings against an upright window.

use super::svg::Paper;

/// An upright window on the paper.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Window {
    /// Its upper left corner.
    pub(crate) low: Paper,
    /// Its lower right corner.
    pub(crate) high: Paper,
}

impl Window {
    /// True for a place in it or on its edge.
    pub(crate) fn holds(&self, at: Paper) -> bool {
        at.x >= self.low.x && at.x <= self.high.x && at.y >= self.low.y && at.y <= self.high.y
    }

    /// The parts of a line that are in it (Liang and Barsky's way, segment by segment).
    pub(crate) fn lines(&self, path: &[Paper]) -> Vec<Vec<Paper>> {
        let mut found: Vec<Vec<Paper>> = Vec::new();
        for (&a, &b) in path.iter().zip(path.iter().skip(1)) {
            let Some((from, to)) = self.shares(a, b) else { continue };
            let (enter, leave) = (a.towards(b, from), a.towards(b, to));
            match found.last_mut() {
                Some(piece) if from == 0.0 && piece.last() == Some(&enter) => piece.push(leave),
                _ => found.push(vec![enter, leave]),
            }
        }
        found
    }

    /// The shares of a segment between which it is in the window.
    fn shares(&self, a: Paper, b: Paper) -> Option<(f64, f64)> {
        let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
        let sides = [
            (a.x - self.low.x, b.x - self.low.x),
            (self.high.x - a.x, self.high.x - b.x),
            (a.y - self.low.y, b.y - self.low.y),
            (self.high.y - a.y, self.high.y - b.y),
        ];
        for (start, end) in sides {
            if start < 0.0 && end < 0.0 {
                return None;
            }
            if start < 0.0 {
                enter = enter.max(start / (start - end));
            } else if end < 0.0 {
                leave = leave.min(start / (start - end));
            }
        }
        (enter < leave).then_some((enter, leave))
    }

    /// The part of a ring in it (Sutherland and Hodgman's way): nothing, or a ring that may run along its edge.
    pub(crate) fn ring(&self, ring: &[Paper]) -> Vec<Paper> {
        let inside: [&dyn Fn(Paper) -> f64; 4] =
            [&|p| p.x - self.low.x, &|p| self.high.x - p.x, &|p| p.y - self.low.y, &|p| self.high.y - p.y];
        inside.into_iter().fold(ring.to_vec(), |ring, side| {
            let mut kept = Vec::with_capacity(ring.len() + 2);
            for (&a, &b) in ring.iter().cycle().skip(ring.len().saturating_sub(1)).zip(&ring) {
                let (start, end) = (side(a), side(b));
                if (start < 0.0) != (end < 0.0) {
                    kept.push(a.towards(b, start / (start - end)));
                }
                if end >= 0.0 {
                    kept.push(b);
                }
            }
            kept
        })
    }
}

/// The length of a path.
pub(crate) fn length(path: &[Paper]) -> f64 {
    path.iter().zip(path.iter().skip(1)).map(|(a, b)| a.distance(*b)).sum()
}

/// The place so far along a path; its ends beyond them.
pub(crate) fn at(path: &[Paper], mut along: f64) -> Option<Paper> {
    for (&a, &b) in path.iter().zip(path.iter().skip(1)) {
        let length = a.distance(b);
        if length > 0.0 && along <= length {
            return Some(a.towards(b, (along / length).max(0.0)));
        }
        along -= length;
    }
    path.last().copied()
}

/// The part of a path between two lengths along it.
pub(crate) fn part(path: &[Paper], from: f64, to: f64) -> Vec<Paper> {
    let (Some(start), Some(end)) = (at(path, from), at(path, to)) else { return Vec::new() };
    let mut run = 0.0;
    let mut between = Vec::new();
    for (&a, &b) in path.iter().zip(path.iter().skip(1)) {
        if run > from && run < to {
            between.push(a);
        }
        run += a.distance(b);
    }
    std::iter::once(start).chain(between).chain([end]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const WINDOW: Window = Window { low: Paper::new(0.0, 0.0), high: Paper::new(10.0, 10.0) };

    fn places(path: &[(f64, f64)]) -> Vec<Paper> {
        path.iter().map(|(x, y)| Paper::new(*x, *y)).collect()
    }

    #[test]
    fn lines_end_at_the_window() {
        let check = |path: &[(f64, f64)], expected: &[&[(f64, f64)]]| {
            let expected: Vec<Vec<Paper>> = expected.iter().map(|path| places(path)).collect();
            assert_eq!(WINDOW.lines(&places(path)), expected, "{path:?}");
        };
        check(&[(1.0, 1.0), (2.0, 5.0), (9.0, 9.0)], &[&[(1.0, 1.0), (2.0, 5.0), (9.0, 9.0)]]);
        check(&[(-5.0, 5.0), (15.0, 5.0)], &[&[(0.0, 5.0), (10.0, 5.0)]]);
        check(
            &[(5.0, 5.0), (5.0, 15.0), (6.0, 15.0), (6.0, 5.0)],
            &[&[(5.0, 5.0), (5.0, 10.0)], &[(6.0, 10.0), (6.0, 5.0)]],
        );
        check(&[(-1.0, 5.0), (5.0, -7.0)], &[&[(0.0, 3.0), (1.5, 0.0)]]);
        check(&[(-1.0, 1.0), (1.0, -3.0)], &[]);
        check(&[], &[]);
    }

    #[test]
    fn rings_are_cut_to_the_window() {
        let check = |ring: &[(f64, f64)], area: f64| {
            let cut = WINDOW.ring(&places(ring));
            let twice: f64 =
                cut.iter().zip(cut.iter().cycle().skip(1)).map(|(a, b)| a.x * b.y - b.x * a.y).sum();
            assert!((twice.abs() / 2.0 - area).abs() < 1e-9, "{cut:?}");
            assert!(cut.iter().all(|at| WINDOW.holds(*at)), "{cut:?}");
        };
        check(&[(2.0, 2.0), (4.0, 2.0), (4.0, 4.0)], 2.0);
        check(&[(-5.0, -5.0), (20.0, -5.0), (20.0, 20.0), (-5.0, 20.0)], 100.0);
        check(&[(5.0, 5.0), (15.0, 5.0), (15.0, 15.0), (5.0, 15.0)], 25.0);
        check(&[(15.0, 5.0), (18.0, 5.0), (18.0, 9.0)], 0.0);
        check(&[], 0.0);
    }

    #[test]
    fn parts_of_a_path() {
        let path = places(&[(0.0, 0.0), (4.0, 0.0), (4.0, 6.0)]);
        assert!((length(&path) - 10.0).abs() < 1e-12);
        assert_eq!(part(&path, 1.0, 3.0), places(&[(1.0, 0.0), (3.0, 0.0)]));
        assert_eq!(part(&path, 3.0, 6.0), places(&[(3.0, 0.0), (4.0, 0.0), (4.0, 2.0)]));
        assert_eq!(at(&path, 99.0), Some(Paper::new(4.0, 6.0)));
        assert_eq!(at(&[], 1.0), None);
    }
}
