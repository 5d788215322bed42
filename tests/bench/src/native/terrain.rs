//! The ground and the water on it, straight from the site.

use groundrule_kit::{
    Course, Drainage, Face, Feature, Figure, Grade, Hollow, Length, Moved, Outcome, Place, Ratio, Terrain,
    WallFall,
};
use groundrule_site::Measured;
use groundrule_site::ground::{self, Figure as Of};
use groundrule_survey::{Position, Surface};

use super::{Native, feature, id, ids};

fn surface(of: Grade) -> Surface {
    match of {
        Grade::Existing => Surface::Existing,
        Grade::Proposed => Surface::Proposed,
    }
}

fn figure(figure: Figure) -> Of {
    match figure {
        Figure::Least => Of::Least,
        Figure::Greatest => Of::Greatest,
        Figure::Mean => Of::Mean,
        Figure::Steepest => Of::Steepest,
        Figure::Flattest => Of::Flattest,
    }
}

fn place(at: Position) -> Place {
    Place { x: at.x, y: at.y }
}

impl Terrain for Native<'_> {
    fn known(&self, of: Grade) -> bool {
        self.site().ground(surface(of)).is_some()
    }

    fn level(&self, of: Grade, features: &[Feature], which: Figure) -> Vec<Measured> {
        features.iter().map(|it| self.site().level(surface(of), id(*it), figure(which))).collect()
    }

    fn slope_over(&self, of: Grade, areas: &[Feature], which: Figure) -> Vec<Measured> {
        areas.iter().map(|it| self.site().slope_over(surface(of), id(*it), figure(which))).collect()
    }

    fn aspect(&self, of: Grade, areas: &[Feature]) -> Vec<Option<Measured>> {
        areas.iter().map(|it| self.site().aspect(surface(of), id(*it))).collect()
    }

    fn slope_along(
        &self,
        of: Grade,
        lines: &[Feature],
        which: Figure,
        stations: (Length, Length),
    ) -> Vec<Measured> {
        lines
            .iter()
            .map(|it| self.site().slope_along(surface(of), id(*it), figure(which), stations))
            .collect()
    }

    fn slope_across(&self, of: Grade, lines: &[Feature], which: Figure) -> Vec<Measured> {
        lines.iter().map(|it| self.site().slope_across(surface(of), id(*it), figure(which))).collect()
    }

    fn slope_break(&self, of: Grade, lines: &[Feature], stretch: Length) -> Vec<Measured> {
        lines.iter().map(|it| self.site().slope_break(surface(of), id(*it), stretch)).collect()
    }

    fn falls(
        &self,
        of: Grade,
        building: Feature,
        run: Length,
        barriers: &[Feature],
        hard: &[Feature],
    ) -> Vec<WallFall<Measured>> {
        let found = self.site().falls(surface(of), id(building), run, &ids(barriers), &ids(hard));
        let fall = |fall: ground::WallFall| WallFall {
            slope: fall.slope,
            fall: fall.fall,
            run: fall.run,
            hard: fall.hard.map(feature),
            cut_short: fall.cut_short.map(feature),
        };
        found.into_iter().map(fall).collect()
    }

    fn faces(&self, of: Grade, within: Feature, steeper_than: Ratio) -> Vec<Face<Measured>> {
        let drafts = self.site().faces(surface(of), id(within), steeper_than).unwrap_or_default();
        let face = |draft| {
            let made = self.site.borrow_mut().face(draft);
            Face {
                toe: feature(made.toe),
                crest: feature(made.crest),
                height: made.height,
                slope: made.slope,
            }
        };
        drafts.iter().map(face).collect()
    }

    fn earthwork(&self, areas: &[Feature]) -> Vec<Moved<Measured>> {
        let moved = |area: &Feature| {
            let earth = self.site().earth(id(*area));
            Moved { cut: earth.cut, fill: earth.fill }
        };
        areas.iter().map(moved).collect()
    }

    fn contour_length(&self, of: Grade, areas: &[Feature], interval: Length) -> Vec<Measured> {
        areas.iter().map(|it| self.site().contour_length(surface(of), id(*it), interval)).collect()
    }
}

impl Drainage for Native<'_> {
    fn hollows(&self, of: Grade, within: Feature, drains: &[Feature]) -> Vec<Hollow<Measured>> {
        let found = self.site().hollows(surface(of), id(within), &ids(drains)).unwrap_or_default();
        let hollow = |hollow: ground::Hollow| Hollow {
            depth: hollow.depth,
            area: hollow.area,
            volume: hollow.volume,
            bottom: place(hollow.bottom),
            spill: place(hollow.spill),
            inside: hollow.inside.and_then(|i| u32::try_from(i).ok()),
        };
        found.into_iter().map(hollow).collect()
    }

    fn deepest(&self, of: Grade, within: &[Feature], drains: &[Feature]) -> Vec<Measured> {
        within.iter().map(|it| self.site().deepest(surface(of), id(*it), &ids(drains))).collect()
    }

    fn courses(
        &self,
        of: Grade,
        from: &[Feature],
        ends: &[Feature],
        past: &[Feature],
        overflow: bool,
    ) -> Vec<Vec<Course<Measured>>> {
        let all = |it: &Feature| {
            let found = self.site().courses(surface(of), id(*it), &ids(ends), &ids(past), overflow);
            found.unwrap_or_default().into_iter().map(course).collect()
        };
        from.iter().map(all).collect()
    }

    fn keeps_clear(&self, of: Grade, pairs: &[(Feature, Feature)]) -> Vec<Measured> {
        pairs.iter().map(|(a, b)| self.site().keeps_clear(surface(of), id(*a), id(*b))).collect()
    }

    fn leaves_over(&self, of: Grade, lot: Feature) -> Vec<(Feature, Measured)> {
        let found = self.site().leaves_over(surface(of), id(lot)).unwrap_or_default();
        found.into_iter().map(|(line, area)| (feature(line), area)).collect()
    }

    fn drained_area(&self, of: Grade, within: Feature, ends: &[Feature]) -> Vec<Measured> {
        self.site().drained_area(surface(of), id(within), &ids(ends)).unwrap_or_default()
    }
}

fn course(course: ground::Course) -> Course<Measured> {
    Course {
        outcome: match course.outcome {
            ground::Outcome::At(it) => Outcome::At(feature(it)),
            ground::Outcome::Building(it) => Outcome::Building(feature(it)),
            ground::Outcome::Stands => Outcome::Stands,
            ground::Outcome::Over(it) => Outcome::Over(feature(it)),
            ground::Outcome::BeyondLevels => Outcome::BeyondLevels,
            ground::Outcome::Unknown => Outcome::Unknown,
        },
        length: course.length,
        fall: course.fall,
        path: course.path.into_iter().map(place).collect(),
        over: course.over.into_iter().map(feature).collect(),
    }
}
