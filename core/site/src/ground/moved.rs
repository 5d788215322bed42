//! Earth to be taken away or brought in along a line: the parts between two profiles.

use groundrule_units::Length;

use super::regraded::SAME_LEVEL;

/// A level at a station: how far along the line, how high.
pub(crate) type Station = (Length, Length);

/// A part of a section where the ground shall lie higher or lower than it does.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved {
    /// True where earth is taken away, false where it is brought in.
    pub cut: bool,
    /// The ground as it lies, in order of station.
    pub existing: Vec<(Length, Length)>,
    /// The ground as it shall be, from the same station to the same station.
    pub proposed: Vec<(Length, Length)>,
    /// Where the two are farthest apart.
    pub deepest: (Length, Length),
}

/// The parts where two profiles are apart by more than is drawn as one.
pub(crate) fn moved(existing: &[Vec<Station>], proposed: &[Vec<Station>]) -> Vec<Moved> {
    let mut all = Vec::new();
    for old in existing {
        for new in proposed {
            between(old, new, &mut all);
        }
    }
    all.sort_by_key(|part| part.existing.first().map(|(station, _)| *station));
    all
}

fn between(old: &[Station], new: &[Station], all: &mut Vec<Moved>) {
    let (Some(a), Some(b), Some(c), Some(d)) = (old.first(), old.last(), new.first(), new.last()) else {
        return;
    };
    let (from, to) = (a.0.max(c.0), b.0.min(d.0));
    if to <= from {
        return;
    }
    let inside = old.iter().chain(new).map(|(station, _)| *station).filter(|s| *s > from && *s < to);
    let mut stations: Vec<Length> = inside.chain([from, to]).collect();
    stations.sort();
    stations.dedup();
    let mut levels: Vec<(Length, f64, f64)> = Vec::new();
    for station in stations {
        let (Some(now), Some(then)) = (level(old, station), level(new, station)) else { continue };
        if let Some((before, was, became)) = levels.last().copied() {
            let (left, right) = (became - was, then - now);
            if left * right < 0.0 {
                let share = left / (left - right);
                let mix = |a: f64, b: f64| a + (b - a) * share;
                let at = before + (station - before) * share;
                let meet = mix(was, now);
                levels.push((at, meet, meet));
            }
        }
        levels.push((station, now, then));
    }
    let mut part: Vec<(Length, f64, f64)> = Vec::new();
    for here in levels {
        let apart = |(_, now, then): &(Length, f64, f64)| then - now;
        let sign = part.iter().map(apart).find(|apart| *apart != 0.0).unwrap_or(0.0);
        part.push(here);
        if apart(&here) == 0.0 || sign * apart(&here) < 0.0 {
            push(&part, all);
            part = vec![here];
        }
    }
    push(&part, all);
}

fn push(part: &[(Length, f64, f64)], all: &mut Vec<Moved>) {
    let apart = |(_, now, then): &&(Length, f64, f64)| (then - now).abs();
    let Some(deepest) = part.iter().max_by(|a, b| apart(a).total_cmp(&apart(b))) else { return };
    if apart(&deepest) < SAME_LEVEL || part.len() < 2 {
        return;
    }
    let line = |level: fn(&(Length, f64, f64)) -> f64| {
        part.iter().map(|at| (at.0, Length::from_metres(level(at)))).collect()
    };
    all.push(Moved {
        cut: deepest.2 < deepest.1,
        existing: line(|at| at.1),
        proposed: line(|at| at.2),
        deepest: (deepest.0, Length::from_metres((deepest.2 - deepest.1).abs())),
    });
}

/// The level of a profile at a station within it, in metres.
pub(crate) fn level(profile: &[Station], station: Length) -> Option<f64> {
    profile.windows(2).find_map(|pair| {
        let &[(from, low), (to, high)] = pair else { return None };
        let run = (to - from).metres();
        if station < from || station > to {
            return None;
        }
        let share = if run > 0.0 { (station - from).metres() / run } else { 0.0 };
        Some(low.metres() + (high - low).metres() * share)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(stations: &[(f64, f64)]) -> Vec<Vec<Station>> {
        vec![stations.iter().map(|(s, z)| (Length::from_metres(*s), Length::from_metres(*z))).collect()]
    }

    #[test]
    fn parts_end_where_the_profiles_meet() {
        let check = |old: &[(f64, f64)], new: &[(f64, f64)], expected: &[(bool, f64, f64, f64)]| {
            let found: Vec<(bool, f64, f64, f64)> = moved(&line(old), &line(new))
                .iter()
                .map(|part| {
                    let ends = (part.existing.first().unwrap().0, part.existing.last().unwrap().0);
                    (part.cut, ends.0.metres(), ends.1.metres(), part.deepest.1.metres())
                })
                .collect();
            assert_eq!(found.len(), expected.len(), "{found:?}");
            for (a, b) in found.iter().zip(expected) {
                assert_eq!(a.0, b.0, "{found:?}");
                for (a, b) in [(a.1, b.1), (a.2, b.2), (a.3, b.3)] {
                    assert!((a - b).abs() < 1e-12, "{found:?}");
                }
            }
        };
        let slope = [(0.0, 4.0), (8.0, 0.0)];
        // Worked by hand: a terrace at 2 cut into a slope of 1 in 2 meets it in the middle.
        check(&slope, &[(0.0, 2.0), (8.0, 2.0)], &[(true, 0.0, 4.0, 2.0), (false, 4.0, 8.0, 2.0)]);
        check(&slope, &slope, &[]);
        check(&slope, &[(0.0, 4.0), (4.0, 2.01), (8.0, 0.0)], &[]);
        check(&slope, &[(0.0, 4.0), (4.0, 3.0), (8.0, 0.0)], &[(false, 0.0, 8.0, 1.0)]);
        check(&slope, &[(6.0, 2.0), (12.0, 2.0)], &[(false, 6.0, 8.0, 2.0)]);
        check(&slope, &[(9.0, 2.0), (12.0, 2.0)], &[]);
    }
}
