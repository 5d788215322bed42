//! The levels of the ground that are stated of one feature, in an order of their own, and what to call each.

use groundrule_plan::{Attribute, Feature, Geometry, Name, Plan, Span};
use groundrule_units::{Length, Level, LevelTerm, Written};

use super::Surface;
use crate::boxes::CORNERS;
use crate::layout::Owner;

/// One level at the place of a thing, or all along a contour.
pub(crate) const LEVEL: &str = "level";
/// Where surface water enters an inlet.
pub(crate) const RIM: &str = "rim";
/// Levels at vertices or stations.
pub(crate) const LEVELS: &str = "levels";
/// The top of a wall or curb.
pub(crate) const TOP: &str = "top_levels";
/// The ground on the low side of a wall.
pub(crate) const BOTTOM: &str = "bottom_levels";
/// The ground on its high side.
pub(crate) const UPPER: &str = "upper_levels";

/// Where along the line levels are stated; at its vertices when absent.
pub(crate) const STATIONS: &str = "stations";

/// In the order in which they count.
const STATED: [&str; 6] = [LEVEL, RIM, LEVELS, TOP, BOTTOM, UPPER];

/// One stated level.
pub(crate) struct Stated<'p> {
    /// Its place among all that are stated of the feature.
    pub(crate) which: u32,
    /// What states it.
    pub(crate) attribute: &'static str,
    /// Its place in its list, counting those not taken; zero for one by itself.
    pub(crate) at: usize,
    pub(crate) level: &'p Written<Level>,
    pub(crate) span: Span,
}

impl Stated<'_> {
    pub(crate) fn term(&self) -> Option<LevelTerm> {
        self.level.value.term
    }

    pub(crate) fn height(&self) -> Length {
        self.level.value.height
    }

    /// True for a level of the ground; a floor, a bench mark and the top of a wall are none, and an invert is one only
    /// along what carries water on top of it.
    pub(crate) fn is_ground(&self, carries_water: bool) -> bool {
        match self.attribute {
            // Whatever is said to lie on top is there only to stand in for the ground behind it.
            TOP => !self.contradicts(),
            LEVELS if carries_water && self.term() == Some(LevelTerm::Invert) => true,
            _ => self.term().is_none_or(of_ground),
        }
    }

    /// True where the term cannot be of the list: the bottom of a wall among tops, a top among the ground below.
    pub(crate) fn contradicts(&self) -> bool {
        matches!(
            (self.attribute, self.term()),
            (TOP, Some(LevelTerm::BottomOfWall | LevelTerm::Invert))
                | (BOTTOM, Some(LevelTerm::TopOfWall | LevelTerm::TopOfCurb))
        )
    }
}

/// True for a term that says a level is one of the ground.
pub(crate) fn of_ground(term: LevelTerm) -> bool {
    !matches!(
        term,
        LevelTerm::FinishedFloor
            | LevelTerm::FinishedFloorElevation
            | LevelTerm::TopOfWall
            | LevelTerm::TopOfCurb
            | LevelTerm::Invert
            | LevelTerm::BenchMark
    )
}

/// Which ground a level is of: its term says so, or the status of the thing it is stated of.
pub(crate) fn surface(term: Option<LevelTerm>, proposed: bool) -> Surface {
    match term {
        Some(LevelTerm::ExistingGrade) => Surface::Existing,
        Some(LevelTerm::FinishedGrade) => Surface::Proposed,
        _ if proposed => Surface::Proposed,
        _ => Surface::Existing,
    }
}

/// True for a feature whose vertices levels are stated along.
pub(crate) fn is_levelled(feature: &Feature) -> bool {
    STATED.iter().any(|name| feature.stated(name).is_some())
}

/// Every level stated of a feature.
pub(crate) fn of(feature: &Feature) -> Vec<Stated<'_>> {
    let mut stated = Vec::new();
    for attribute in STATED {
        let Some(said) = feature.stated(attribute) else { continue };
        let levels: Vec<(usize, &Written<Level>, Span)> = match &said.value {
            Attribute::Level(level) => vec![(0, level, said.span)],
            Attribute::Levels(list) => {
                let taken = list.iter().enumerate().filter_map(|(at, level)| Some((at, level.as_ref()?)));
                taken.map(|(at, level)| (at, &level.value, level.span)).collect()
            }
            _ => Vec::new(),
        };
        for ((at, level, span), which) in levels.into_iter().zip(index(stated.len())..) {
            stated.push(Stated { which, attribute, at, level, span });
        }
    }
    stated
}

fn index(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(u32::MAX)
}

/// What was taken, in words: `level of corner ne of house`.
pub(crate) fn words(plan: &Plan, owner: Owner, which: u32) -> String {
    match owner {
        Owner::Ground(mark) => {
            let point = plan.ground.levels.get(mark as usize).map(|mark| &mark.point);
            match point.map(|point| (&point.owner, &point.point)) {
                Some((Some(owner), corner)) => format!("level of corner {} of {}", corner.0, owner.0),
                Some((None, point)) => format!("level of {}", point.0),
                None => "level of the ground".to_owned(),
            }
        }
        Owner::Feature(i) => {
            let feature = plan.features.get(i as usize);
            let found = feature.and_then(|feature| {
                let stated = of(feature).into_iter().find(|stated| stated.which == which)?;
                Some(of_feature(feature, &stated))
            });
            found.unwrap_or_else(|| "level of the ground".to_owned())
        }
        _ => "level of the ground".to_owned(),
    }
}

/// What one level of a feature is, in words.
pub(crate) fn of_feature(feature: &Feature, stated: &Stated<'_>) -> String {
    let id = &feature.id.value.0;
    let of = match stated.attribute {
        RIM => return format!("level of the rim of {id}"),
        TOP => format!("the top of {id}"),
        BOTTOM => format!("the foot of {id}"),
        UPPER => format!("the ground above {id}"),
        _ => id.clone(),
    };
    if stated.attribute == LEVEL {
        return format!("level of {of}");
    }
    if feature.stated(STATIONS).is_some() {
        return format!("level at station {} of {of}", stated.at + 1);
    }
    match corner(feature, stated.at) {
        Some(corner) => format!("level of corner {} of {of}", corner.0),
        None => format!("level of {of}"),
    }
}

/// The name of a vertex as drawn.
pub(crate) fn corner(feature: &Feature, vertex: usize) -> Option<Name> {
    match feature.geometry.as_ref()? {
        Geometry::Outline { ring: path, .. } | Geometry::Line { path, .. } => {
            path.vertices.get(vertex)?.corner.clone()
        }
        Geometry::Box { .. } => CORNERS.get(vertex).map(|corner| Name((*corner).to_owned())),
        Geometry::Spot(_) | Geometry::Circle { .. } => None,
    }
}
