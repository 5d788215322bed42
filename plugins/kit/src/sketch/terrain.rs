//! The ground of a sketch: a plane, and whatever else the test hands in.

use std::collections::BTreeMap;

use groundrule_units::{Angle, Area, Dimension, Length, Quantity, Ratio, Volume};

use super::{Exact, Rect, Sketch};
use crate::{
    Course, Drainage, Face, Feature, Figure, Grade, Hollow, Moved, Outcome, Place, Terrain, WallFall,
};

/// A plane: its level at the origin, and how far it rises by distance to the right and up the sheet.
type Plane = (Length, f64, f64);

/// What a test says of the ground.
#[derive(Clone, Debug, Default)]
pub(super) struct Handed {
    planes: BTreeMap<Grade, Plane>,
    falls: BTreeMap<Feature, Vec<WallFall<Exact>>>,
    faces: BTreeMap<Feature, Vec<(Rect, Rect, Length, Ratio)>>,
    hollows: BTreeMap<Feature, Vec<Hollow<Exact>>>,
    clear: BTreeMap<(Feature, Feature), f64>,
    ends: BTreeMap<Feature, Vec<Outcome>>,
    over: BTreeMap<(Grade, Feature), Area>,
    drained: BTreeMap<Feature, Area>,
    earth: BTreeMap<Feature, (Volume, Volume)>,
    breaks: BTreeMap<Feature, Ratio>,
    aspects: BTreeMap<Feature, Angle>,
}

impl Sketch {
    /// Lays the ground as a plane: its level at the origin, and its rise by distance to the right and up.
    pub fn plane(mut self, of: Grade, level: Length, right: f64, up: f64) -> Self {
        self.ground.planes.insert(of, (level, right, up));
        self
    }

    /// Hands in what the ground does at one side of a building: its fall over a run, what paving is there, and what cut
    /// the run short.
    pub fn wall_fall(
        mut self,
        building: &str,
        (fall, run): (Length, Length),
        hard: Option<&str>,
        cut_short: Option<&str>,
    ) -> Self {
        let id = |name: &str| self.id(name);
        let found = WallFall {
            slope: Exact::new(fall / run),
            fall: Exact::new(fall),
            run: Exact::new(run),
            hard: hard.map(id),
            cut_short: cut_short.map(id),
        };
        let building = self.id(building);
        self.ground.falls.entry(building).or_default().push(found);
        self
    }

    /// Hands in a face of the ground in a feature: rectangles for its foot and its top, its height and its slope.
    pub fn face(mut self, within: &str, (toe, crest): (Rect, Rect), height: Length, slope: Ratio) -> Self {
        let within = self.id(within);
        self.ground.faces.entry(within).or_default().push((toe, crest, height, slope));
        self
    }

    /// Hands in a hollow of so deep in a feature.
    pub fn hollow(mut self, within: &str, depth: Length) -> Self {
        let nowhere = Place { x: Length::ZERO, y: Length::ZERO };
        let found = Hollow {
            depth: Exact::new(depth),
            area: Exact::new(Area::from_square_metres(1.0)),
            volume: Exact::new(Volume::from_cubic_metres(depth.metres() / 3.0)),
            bottom: nowhere,
            spill: nowhere,
            inside: None,
        };
        let within = self.id(within);
        self.ground.hollows.entry(within).or_default().push(found);
        self
    }

    /// Hands in how sure it is that water from one feature keeps clear of another.
    pub fn clear_of(mut self, from: &str, of: &str, standard_uncertainties: f64) -> Self {
        let pair = (self.id(from), self.id(of));
        self.ground.clear.insert(pair, standard_uncertainties);
        self
    }

    /// Hands in where water from one more place of a feature ends.
    pub fn runs_to(mut self, from: &str, outcome: Outcome) -> Self {
        let from = self.id(from);
        self.ground.ends.entry(from).or_default().push(outcome);
        self
    }

    /// Hands in the area from which water leaves over a lot line.
    pub fn leaving(mut self, of: Grade, line: &str, area: Area) -> Self {
        let line = self.id(line);
        self.ground.over.insert((of, line), area);
        self
    }

    /// Hands in the area that drains to a feature.
    pub fn draining(mut self, to: &str, area: Area) -> Self {
        let to = self.id(to);
        self.ground.drained.insert(to, area);
        self
    }

    /// Hands in the earth to be cut and filled in an area.
    pub fn earth(mut self, area: &str, cut: Volume, fill: Volume) -> Self {
        let area = self.id(area);
        self.ground.earth.insert(area, (cut, fill));
        self
    }

    /// Hands in the greatest change of slope along a feature.
    pub fn slope_change(mut self, line: &str, change: Ratio) -> Self {
        let line = self.id(line);
        self.ground.breaks.insert(line, change);
        self
    }

    /// Hands in the direction in which the ground of an area falls, clockwise from true north.
    pub fn falling_toward(mut self, area: &str, clockwise_of_north: Angle) -> Self {
        let area = self.id(area);
        self.ground.aspects.insert(area, clockwise_of_north);
        self
    }

    fn on_plane(
        &self,
        of: Grade,
        features: &[Feature],
        dimension: Dimension,
        measure: impl Fn(Plane, Rect) -> f64,
    ) -> Vec<Exact> {
        let plane = self.ground.planes.get(&of).copied();
        let one = |&feature: &Feature| match plane.zip(self.rect(feature)) {
            Some((plane, rect)) => Exact::new(Quantity::new(dimension, measure(plane, rect))),
            None => Exact::missing(dimension),
        };
        features.iter().map(one).collect()
    }
}

/// The figure of values that all stand for the same length.
fn figure(values: &[f64], figure: Figure) -> f64 {
    let sizes = || values.iter().map(|value| value.abs());
    match figure {
        Figure::Least => values.iter().copied().fold(f64::INFINITY, f64::min),
        Figure::Greatest => values.iter().copied().fold(f64::NEG_INFINITY, f64::max),
        Figure::Mean => values.iter().sum::<f64>() / values.len().max(1) as f64,
        Figure::Steepest => sizes().fold(0.0, f64::max),
        Figure::Flattest => sizes().fold(f64::INFINITY, f64::min),
    }
}

/// The rise of a plane along the longer way of a rectangle, and square to it toward its left.
fn along((_, right, up): Plane, rect: Rect) -> (f64, f64) {
    if rect.width() >= rect.height() { (right, up) } else { (up, -right) }
}

impl Terrain for Sketch {
    fn known(&self, of: Grade) -> bool {
        self.ground.planes.contains_key(&of)
    }

    fn level(&self, of: Grade, features: &[Feature], which: Figure) -> Vec<Exact> {
        self.on_plane(of, features, Dimension::Length, |(level, right, up), rect| {
            let at = |place: &Place| level.metres() + right * place.x.metres() + up * place.y.metres();
            figure(&rect.ring().iter().map(at).collect::<Vec<_>>(), which)
        })
    }

    fn slope_over(&self, of: Grade, areas: &[Feature], _: Figure) -> Vec<Exact> {
        self.on_plane(of, areas, Dimension::Ratio, |(_, right, up), _| (right * right + up * up).sqrt())
    }

    fn aspect(&self, of: Grade, areas: &[Feature]) -> Vec<Option<Exact>> {
        let one = |area: &Feature| match self.ground.aspects.get(area) {
            Some(turn) => Some(Exact::new(*turn)),
            None if self.known(of) => None,
            None => Some(Exact::missing(Dimension::Angle)),
        };
        areas.iter().map(one).collect()
    }

    fn slope_along(&self, of: Grade, lines: &[Feature], which: Figure, _: (Length, Length)) -> Vec<Exact> {
        self.on_plane(of, lines, Dimension::Ratio, |plane, rect| figure(&[-along(plane, rect).0], which))
    }

    fn slope_across(&self, of: Grade, lines: &[Feature], which: Figure) -> Vec<Exact> {
        self.on_plane(of, lines, Dimension::Ratio, |plane, rect| figure(&[along(plane, rect).1], which))
    }

    fn slope_break(&self, of: Grade, lines: &[Feature], _: Length) -> Vec<Exact> {
        let change = |(line, plane): (&Feature, Exact)| match self.ground.breaks.get(line) {
            Some(change) => Exact::new(*change),
            None => plane,
        };
        let none = self.on_plane(of, lines, Dimension::Ratio, |_, _| 0.0);
        lines.iter().zip(none).map(change).collect()
    }

    fn falls(
        &self,
        _: Grade,
        building: Feature,
        _: Length,
        _: &[Feature],
        _: &[Feature],
    ) -> Vec<WallFall<Exact>> {
        self.ground.falls.get(&building).cloned().unwrap_or_default()
    }

    fn faces(&self, _: Grade, within: Feature, steeper_than: Ratio) -> Vec<Face<Exact>> {
        let all = self.ground.faces.get(&within).into_iter().flatten();
        let steep = all.filter(|(.., slope)| *slope > steeper_than);
        steep
            .map(|(toe, crest, height, slope)| Face {
                toe: self.make(&[within], *toe),
                crest: self.make(&[within], *crest),
                height: Exact::new(*height),
                slope: Exact::new(*slope),
            })
            .collect()
    }

    fn earthwork(&self, areas: &[Feature]) -> Vec<Moved<Exact>> {
        let missing = Exact::missing(Dimension::Volume);
        let one = |area: &Feature| match self.ground.earth.get(area) {
            Some((cut, fill)) => Moved { cut: Exact::new(*cut), fill: Exact::new(*fill) },
            None => Moved { cut: missing, fill: missing },
        };
        areas.iter().map(one).collect()
    }

    fn contour_length(&self, of: Grade, areas: &[Feature], interval: Length) -> Vec<Exact> {
        // A plane has a contour for each interval it rises: its area by its slope over the interval.
        self.on_plane(of, areas, Dimension::Length, |(_, right, up), rect| {
            rect.area() * (right * right + up * up).sqrt() / interval.metres()
        })
    }
}

impl Drainage for Sketch {
    fn hollows(&self, _: Grade, within: Feature, _: &[Feature]) -> Vec<Hollow<Exact>> {
        self.ground.hollows.get(&within).cloned().unwrap_or_default()
    }

    fn deepest(&self, of: Grade, within: &[Feature], _: &[Feature]) -> Vec<Exact> {
        let deepest = |feature: &Feature| {
            let depths = self.ground.hollows.get(feature).into_iter().flatten().map(|hollow| hollow.depth);
            depths.max_by(|a, b| a.value().si().total_cmp(&b.value().si()))
        };
        let or_none = |feature: &Feature| {
            let missing = Exact::missing(Dimension::Length);
            let dry = Exact::new(Length::from_metres(-1.0));
            deepest(feature).unwrap_or(if self.known(of) { dry } else { missing })
        };
        within.iter().map(or_none).collect()
    }

    fn courses(
        &self,
        _: Grade,
        from: &[Feature],
        _: &[Feature],
        _: &[Feature],
        _: bool,
    ) -> Vec<Vec<Course<Exact>>> {
        let course = |outcome: &Outcome| Course {
            outcome: *outcome,
            length: Exact::new(Length::from_metres(1.0)),
            fall: Exact::new(Length::ZERO),
            path: Vec::new(),
            over: Vec::new(),
        };
        let all =
            |feature: &Feature| self.ground.ends.get(feature).into_iter().flatten().map(course).collect();
        from.iter().map(all).collect()
    }

    fn keeps_clear(&self, _: Grade, pairs: &[(Feature, Feature)]) -> Vec<Exact> {
        let one = |pair: &(Feature, Feature)| match self.ground.clear.get(pair) {
            Some(margin) => Exact::new(Ratio::from_fraction(*margin)),
            None => Exact::missing(Dimension::Ratio),
        };
        pairs.iter().map(one).collect()
    }

    fn leaves_over(&self, of: Grade, lot: Feature) -> Vec<(Feature, Exact)> {
        let all = self
            .ground
            .over
            .iter()
            .filter(|((grade, line), _)| *grade == of && self.thing(*line).lot == Some(lot));
        all.map(|((_, line), area)| (*line, Exact::new(*area))).collect()
    }

    fn drained_area(&self, _: Grade, _: Feature, ends: &[Feature]) -> Vec<Exact> {
        let one = |end: &Feature| {
            self.ground.drained.get(end).map_or(Exact::missing(Dimension::Area), |area| Exact::new(*area))
        };
        ends.iter().map(one).collect()
    }
}
