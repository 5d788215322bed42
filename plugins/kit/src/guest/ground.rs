//! The ground of the host: its surface, and the water on it.

use groundrule_units::{Length, Ratio};

use super::bindings::groundrule::rules::amounts::Measured;
use super::bindings::groundrule::rules::{flow, terrain};
use super::convert;
use super::host::Host;
use crate::{Course, Drainage, Face, Feature, Figure, Grade, Hollow, Moved, Outcome, Terrain, WallFall};

fn grade(of: Grade) -> terrain::Ground {
    match of {
        Grade::Existing => terrain::Ground::Existing,
        Grade::Proposed => terrain::Ground::Proposed,
    }
}

fn figure(figure: Figure) -> terrain::Figure {
    match figure {
        Figure::Least => terrain::Figure::Least,
        Figure::Greatest => terrain::Figure::Greatest,
        Figure::Mean => terrain::Figure::Mean,
        Figure::Steepest => terrain::Figure::Steepest,
        Figure::Flattest => terrain::Figure::Flattest,
    }
}

impl Terrain for Host {
    fn known(&self, of: Grade) -> bool {
        terrain::known(grade(of))
    }

    fn level(&self, of: Grade, features: &[Feature], which: Figure) -> Vec<Measured> {
        terrain::level(grade(of), &convert::handles(features), figure(which))
    }

    fn slope_over(&self, of: Grade, areas: &[Feature], which: Figure) -> Vec<Measured> {
        terrain::slope_over(grade(of), &convert::handles(areas), figure(which))
    }

    fn aspect(&self, of: Grade, areas: &[Feature]) -> Vec<Option<Measured>> {
        terrain::aspect(grade(of), &convert::handles(areas))
    }

    fn slope_along(
        &self,
        of: Grade,
        lines: &[Feature],
        which: Figure,
        (from, to): (Length, Length),
    ) -> Vec<Measured> {
        terrain::slope_along(grade(of), &convert::handles(lines), figure(which), from.metres(), to.metres())
    }

    fn slope_across(&self, of: Grade, lines: &[Feature], which: Figure) -> Vec<Measured> {
        terrain::slope_across(grade(of), &convert::handles(lines), figure(which))
    }

    fn slope_break(&self, of: Grade, lines: &[Feature], stretch: Length) -> Vec<Measured> {
        terrain::slope_break(grade(of), &convert::handles(lines), stretch.metres())
    }

    fn falls(
        &self,
        of: Grade,
        building: Feature,
        run: Length,
        barriers: &[Feature],
        hard: &[Feature],
    ) -> Vec<WallFall<Measured>> {
        let (barriers, hard) = (convert::handles(barriers), convert::handles(hard));
        let found = terrain::falls(grade(of), building.handle(), run.metres(), &barriers, &hard);
        let fall = |fall: terrain::WallFall| WallFall {
            slope: fall.slope,
            fall: fall.fall,
            run: fall.run,
            hard: fall.hard.map(Feature::from_handle),
            cut_short: fall.cut_short.map(Feature::from_handle),
        };
        found.into_iter().map(fall).collect()
    }

    fn faces(&self, of: Grade, within: Feature, steeper_than: Ratio) -> Vec<Face<Measured>> {
        let face = |face: terrain::Face| Face {
            toe: Feature::from_handle(face.toe),
            crest: Feature::from_handle(face.crest),
            height: face.height,
            slope: face.slope,
        };
        terrain::faces(grade(of), within.handle(), steeper_than.fraction()).into_iter().map(face).collect()
    }

    fn earthwork(&self, areas: &[Feature]) -> Vec<Moved<Measured>> {
        let moved = |moved: terrain::Moved| Moved { cut: moved.cut, fill: moved.fill };
        terrain::earthwork(&convert::handles(areas)).into_iter().map(moved).collect()
    }

    fn contour_length(&self, of: Grade, areas: &[Feature], interval: Length) -> Vec<Measured> {
        terrain::contour_length(grade(of), &convert::handles(areas), interval.metres())
    }
}

impl Drainage for Host {
    fn hollows(&self, of: Grade, within: Feature, drains: &[Feature]) -> Vec<Hollow<Measured>> {
        let hollow = |hollow: flow::Hollow| Hollow {
            depth: hollow.depth,
            area: hollow.area,
            volume: hollow.volume,
            bottom: convert::place(hollow.bottom),
            spill: convert::place(hollow.spill),
            inside: hollow.inside,
        };
        flow::hollows(grade(of), within.handle(), &convert::handles(drains)).into_iter().map(hollow).collect()
    }

    fn deepest(&self, of: Grade, within: &[Feature], drains: &[Feature]) -> Vec<Measured> {
        flow::deepest(grade(of), &convert::handles(within), &convert::handles(drains))
    }

    fn courses(
        &self,
        of: Grade,
        from: &[Feature],
        ends: &[Feature],
        past: &[Feature],
        overflow: bool,
    ) -> Vec<Vec<Course<Measured>>> {
        let (from, ends, past) = (convert::handles(from), convert::handles(ends), convert::handles(past));
        let found = flow::courses(grade(of), &from, &ends, &past, overflow);
        found.into_iter().map(|courses| courses.into_iter().map(course).collect()).collect()
    }

    fn keeps_clear(&self, of: Grade, pairs: &[(Feature, Feature)]) -> Vec<Measured> {
        flow::keeps_clear(grade(of), &convert::pairs(pairs))
    }

    fn leaves_over(&self, of: Grade, lot: Feature) -> Vec<(Feature, Measured)> {
        let found = flow::leaves_over(grade(of), lot.handle());
        found.into_iter().map(|(line, area)| (Feature::from_handle(line), area)).collect()
    }

    fn drained_area(&self, of: Grade, within: Feature, ends: &[Feature]) -> Vec<Measured> {
        flow::drained_area(grade(of), within.handle(), &convert::handles(ends))
    }
}

fn course(course: flow::Course) -> Course<Measured> {
    Course {
        outcome: match course.outcome {
            flow::Outcome::At(feature) => Outcome::At(Feature::from_handle(feature)),
            flow::Outcome::Building(feature) => Outcome::Building(Feature::from_handle(feature)),
            flow::Outcome::Stands => Outcome::Stands,
            flow::Outcome::Over(line) => Outcome::Over(Feature::from_handle(line)),
            flow::Outcome::BeyondLevels => Outcome::BeyondLevels,
            flow::Outcome::Unknown => Outcome::Unknown,
        },
        length: course.length,
        fall: course.fall,
        path: convert::places(&course.path),
        over: convert::features(course.over),
    }
}
