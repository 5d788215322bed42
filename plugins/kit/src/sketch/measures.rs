//! A sketch as a ground.

use groundrule_units::{Area, Dimension, Length, Quantity};

use super::{Exact, Rect, Sketch, Thing};
use crate::{Amounts, Areas, Asked, Distances, Facts, Feature, Place, Shape, Value, Widths};

impl Sketch {
    fn one(&self, of: Feature, dimension: Dimension, measure: impl Fn(Rect) -> f64) -> Exact {
        let si = self.rect(of).map(measure);
        si.map_or(Exact::missing(dimension), |si| Exact::new(Quantity::new(dimension, si)))
    }

    fn two(
        &self,
        pairs: &[(Feature, Feature)],
        dimension: Dimension,
        measure: impl Fn(Rect, Rect) -> f64,
    ) -> Vec<Exact> {
        let each = |&(a, b): &(Feature, Feature)| match (self.rect(a), self.rect(b)) {
            (Some(a), Some(b)) => Exact::new(Quantity::new(dimension, measure(a, b))),
            _ => Exact::missing(dimension),
        };
        pairs.iter().map(each).collect()
    }
}

impl Amounts for Sketch {
    type Amount = Exact;

    fn values(&self, items: &[&Exact]) -> Vec<Quantity> {
        items.iter().map(|amount| amount.value()).collect()
    }

    fn lacks(&self, items: &[&Exact]) -> Vec<bool> {
        items.iter().map(|amount| amount.lacks()).collect()
    }

    fn add(&self, pairs: &[(&Exact, &Exact)]) -> Vec<Exact> {
        pairs.iter().map(|(a, b)| a.plus(**b, 1.0)).collect()
    }

    fn subtract(&self, pairs: &[(&Exact, &Exact)]) -> Vec<Exact> {
        pairs.iter().map(|(a, b)| a.plus(**b, -1.0)).collect()
    }

    fn ratio(&self, pairs: &[(&Exact, &Exact)]) -> Vec<Option<Exact>> {
        pairs.iter().map(|(a, b)| a.over(**b)).collect()
    }

    fn scale(&self, items: &[(&Exact, f64)]) -> Vec<Exact> {
        items.iter().map(|(amount, factor)| amount.times(*factor)).collect()
    }

    fn sum(&self, items: &[&Exact]) -> Option<Exact> {
        items.iter().copied().copied().reduce(|a, b| a.plus(b, 1.0))
    }

    fn least(&self, items: &[&Exact]) -> Option<Exact> {
        items.iter().copied().copied().min_by(|a, b| a.value().si().total_cmp(&b.value().si()))
    }

    fn greatest(&self, items: &[&Exact]) -> Option<Exact> {
        items.iter().copied().copied().max_by(|a, b| a.value().si().total_cmp(&b.value().si()))
    }
}

impl Asked for Sketch {
    fn subjects(&self) -> Vec<Feature> {
        self.subjects.clone()
    }

    fn group(&self, name: &str) -> Vec<Feature> {
        self.groups.get(name).cloned().unwrap_or_default()
    }

    fn parameter(&self, name: &str) -> Option<Value> {
        self.parameters.get(name).cloned()
    }

    fn parameter_amount(&self, name: &str) -> Option<Exact> {
        amount(self.parameters.get(name))
    }
}

fn amount(value: Option<&Value>) -> Option<Exact> {
    match value {
        Some(Value::Quantity(quantity)) => Some(Exact::new(*quantity)),
        _ => None,
    }
}

impl Facts for Sketch {
    fn labels(&self, features: &[Feature]) -> Vec<String> {
        features.iter().map(|&of| self.thing(of).name.clone()).collect()
    }

    fn is_a(&self, features: &[Feature], kind: &str) -> Vec<bool> {
        features.iter().map(|&of| self.thing(of).kind.split('/').any(|part| part == kind)).collect()
    }

    fn shapes(&self, features: &[Feature]) -> Vec<Shape> {
        let shape = |rect: Option<Rect>| match rect {
            None => Shape::Absent,
            Some(rect) if rect.is_spot() => Shape::Spot,
            Some(rect) if rect.is_line() => Shape::Line,
            Some(_) => Shape::Outline,
        };
        features.iter().map(|&of| shape(self.rect(of))).collect()
    }

    fn lot_of(&self, features: &[Feature]) -> Vec<Option<Feature>> {
        features.iter().map(|&of| self.thing(of).lot).collect()
    }

    fn fact(&self, features: &[Feature], name: &str) -> Vec<Option<Value>> {
        features.iter().map(|&of| self.thing(of).facts.get(name).cloned()).collect()
    }

    fn stated(&self, features: &[Feature], name: &str) -> Vec<Option<Exact>> {
        features.iter().map(|&of| amount(self.thing(of).facts.get(name))).collect()
    }

    fn stated_each(&self, features: &[Feature], name: &str) -> Vec<Vec<Exact>> {
        let each = |of| self.thing(of).lists.get(name).cloned().unwrap_or_default();
        features.iter().map(|&of| each(of).into_iter().map(Exact::new).collect()).collect()
    }

    fn outline(&self, of: Feature) -> Vec<Place> {
        self.rect(of).map(Rect::ring).unwrap_or_default()
    }
}

impl Distances for Sketch {
    fn between(&self, pairs: &[(Feature, Feature)]) -> Vec<Exact> {
        self.two(pairs, Dimension::Length, Rect::distance)
    }

    fn clearance(&self, pairs: &[(Feature, Feature)]) -> Vec<Exact> {
        self.two(pairs, Dimension::Length, Rect::clearance)
    }

    fn yard(&self, pairs: &[(Feature, Feature)]) -> Vec<Exact> {
        let yard = |&(feature, line): &(Feature, Feature)| {
            let lot = self.thing(line).lot.and_then(|lot| self.rect(lot));
            self.two(&[(feature, line)], Dimension::Length, |a, b| a.yard(b, lot))
        };
        pairs.iter().flat_map(yard).collect()
    }

    fn near(&self, from: &[Feature], to: &[Feature], reach: Length) -> Vec<(Feature, Feature)> {
        let within = |a: Feature, b: Feature| match (self.rect(a), self.rect(b)) {
            (Some(from), Some(to)) => a != b && from.distance(to) <= reach.metres(),
            _ => false,
        };
        let pairs = from.iter().flat_map(|&a| to.iter().map(move |&b| (a, b)));
        pairs.filter(|&(a, b)| within(a, b)).collect()
    }

    fn facing(&self, features: &[Feature]) -> Vec<Vec<Option<Feature>>> {
        features.iter().map(|&of| self.faced_by(of)).collect()
    }
}

impl Sketch {
    fn faced_by(&self, of: Feature) -> Vec<Option<Feature>> {
        let Some(rect) = self.rect(of) else { return Vec::new() };
        let lot = self.thing(of).lot;
        let is_line = |thing: &Thing| thing.kind.ends_with("lot-line") && thing.lot == lot;
        let lines: Vec<(Feature, Rect)> = (0_u32..)
            .zip(&self.things)
            .filter(|(_, thing)| is_line(thing))
            .filter_map(|(id, thing)| Some((Feature::from_handle(id), thing.rect?)))
            .collect();
        let nearest = |side: &str| {
            let ahead = lines.iter().filter_map(|&(line, drawn)| Some((rect.ahead(side, drawn)?, line)));
            ahead.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, line)| line)
        };
        rect.sides().iter().map(|(side, ..)| nearest(side)).collect()
    }
}

impl Areas for Sketch {
    fn area(&self, features: &[Feature]) -> Vec<Exact> {
        features.iter().map(|&of| self.one(of, Dimension::Area, Rect::area)).collect()
    }

    fn covered(&self, features: &[Feature], within: Option<Feature>) -> Exact {
        let frame = within.map(|within| self.rect(within));
        let rects: Option<Vec<Rect>> = features.iter().map(|&of| self.rect(of)).collect();
        match (rects, frame) {
            (None, _) | (_, Some(None)) => Exact::missing(Dimension::Area),
            (Some(rects), None) => Exact::new(Area::from_square_metres(Rect::covered(&rects))),
            (Some(rects), Some(Some(frame))) => {
                let inside: Vec<Rect> = rects.into_iter().filter_map(|rect| rect.common(frame)).collect();
                Exact::new(Area::from_square_metres(Rect::covered(&inside)))
            }
        }
    }

    fn overlap(&self, pairs: &[(Feature, Feature)]) -> Vec<Exact> {
        self.two(pairs, Dimension::Area, |a, b| a.common(b).map_or(0.0, Rect::area))
    }

    fn length(&self, features: &[Feature]) -> Vec<Exact> {
        features.iter().map(|&of| self.one(of, Dimension::Length, Rect::length)).collect()
    }

    fn length_inside(&self, pairs: &[(Feature, Feature)]) -> Vec<Exact> {
        self.two(pairs, Dimension::Length, |a, b| a.common(b).map_or(0.0, Rect::length))
    }
}

impl Widths for Sketch {
    fn drawn_width(&self, features: &[Feature]) -> Vec<Exact> {
        features
            .iter()
            .map(|&of| self.one(of, Dimension::Length, |rect| rect.width().min(rect.height())))
            .collect()
    }
}
