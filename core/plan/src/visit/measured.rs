//! The points and walls a measurement names, by what it does with them.

use crate::model::{Fact, Plan, PointRef, Reading, TieSide, WallRef};

/// Points that a measurement puts in their place, so that they need no other.
pub(crate) fn placed(reading: &Reading) -> Vec<&PointRef> {
    match reading {
        Reading::Chain(chain) => {
            let marks = chain.pieces.iter().filter_map(|piece| piece.to.as_ref());
            std::iter::once(&chain.start).chain(marks).collect()
        }
        Reading::Offsets(offsets) => offsets.points.iter().map(|offset| &offset.point).collect(),
        Reading::Tie(tie) => vec![&tie.point],
        Reading::Traverse(traverse) => {
            std::iter::once(&traverse.start).chain(traverse.calls.iter().map(|call| &call.to)).collect()
        }
        _ => Vec::new(),
    }
}

/// Points a measurement starts from or compares; they must stand somewhere.
pub(crate) fn used(reading: &Reading) -> Vec<&PointRef> {
    match reading {
        Reading::Tie(tie) => {
            let mut points: Vec<&PointRef> = tie.from.iter().map(|(from, _)| from).collect();
            points.extend(walls(reading));
            points
        }
        Reading::Distance(distance) => vec![&distance.from, &distance.to],
        Reading::Angle(angle) => vec![&angle.at, &angle.from, &angle.to],
        Reading::Fact(Fact::RightAngle { at, arms }) => {
            let arms = arms.iter().flat_map(|(from, to)| [from, to]);
            std::iter::once(at).chain(arms).collect()
        }
        Reading::Fact(Fact::Straight(points)) => points.iter().collect(),
        other => walls(other),
    }
}

/// Points a measurement gives a height, or starts a height from; a benchmark needs no place on the plan.
pub(crate) fn levelled(reading: &Reading) -> Vec<&PointRef> {
    match reading {
        Reading::Height(height) => vec![&height.point],
        Reading::LevelRun(run) => run.sights.iter().map(|sight| &sight.point).collect(),
        _ => Vec::new(),
    }
}

/// The two ends of every wall a measurement names.
fn walls(reading: &Reading) -> Vec<&PointRef> {
    let walls: Vec<&WallRef> = match reading {
        Reading::Chain(chain) => chain.along.iter().collect(),
        Reading::Offsets(offsets) => vec![&offsets.along],
        Reading::Tie(tie) => match tie.side.as_ref().map(|side| &side.value) {
            Some(TieSide::LeftOf(wall) | TieSide::RightOf(wall)) => vec![wall],
            _ => Vec::new(),
        },
        Reading::Fact(Fact::Parallel(first, second) | Fact::Equal(first, second)) => vec![first, second],
        _ => Vec::new(),
    };
    walls.into_iter().flat_map(|wall| [&wall.from, &wall.to]).collect()
}

/// Calls `change` with every wall that measurements name.
pub(crate) fn walls_mut(plan: &mut Plan, change: &mut dyn FnMut(&mut WallRef)) {
    for measurement in &mut plan.measurements {
        match &mut measurement.reading {
            Reading::Chain(chain) => chain.along.iter_mut().for_each(&mut *change),
            Reading::Offsets(offsets) => change(&mut offsets.along),
            Reading::Tie(tie) => {
                if let Some(TieSide::LeftOf(wall) | TieSide::RightOf(wall)) =
                    tie.side.as_mut().map(|side| &mut side.value)
                {
                    change(wall);
                }
            }
            Reading::Fact(Fact::Parallel(first, second) | Fact::Equal(first, second)) => {
                change(first);
                change(second);
            }
            _ => {}
        }
    }
}
