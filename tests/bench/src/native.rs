//! A site as the ground of a check, with no sandbox between: the same code, to see what the sandbox costs
//! and to compare what the two answer.

mod constructed;
mod rain;

use std::cell::{Ref, RefCell};

use groundrule_kit::{
    Amounts, Areas, Asked, Distances, Facts, Feature, Length, Place, Quantity, Ratio, Shape, Value, Widths,
};
use groundrule_plan::Status;
use groundrule_sandbox::Task;
use groundrule_site::{AmountError, Fact, FeatureId, Measured, Parameter, Site};

/// A site and a question about it.
#[derive(Clone, Debug)]
pub struct Native<'a> {
    /// Shares what the plan shows; the regions made here are its own.
    site: RefCell<Site>,
    task: &'a Task,
}

impl<'a> Native<'a> {
    /// The ground of one task. Features the site does not have read as absent.
    pub fn new(site: &Site, task: &'a Task) -> Self {
        Self { site: RefCell::new(site.clone()), task }
    }

    fn site(&self) -> Ref<'_, Site> {
        self.site.borrow()
    }

    fn each<T>(&self, features: &[Feature], look: impl Fn(Option<&groundrule_site::Feature>) -> T) -> Vec<T> {
        features.iter().map(|&of| look(self.site().feature(id(of)))).collect()
    }

    fn pairs(
        &self,
        pairs: &[(Feature, Feature)],
        measure: fn(&Site, FeatureId, FeatureId) -> Measured,
    ) -> Vec<Measured> {
        pairs.iter().map(|&(a, b)| measure(&self.site(), id(a), id(b))).collect()
    }

    fn singles(&self, features: &[Feature], measure: fn(&Site, FeatureId) -> Measured) -> Vec<Measured> {
        features.iter().map(|&of| measure(&self.site(), id(of))).collect()
    }
}

const fn id(feature: Feature) -> FeatureId {
    FeatureId(feature.handle())
}

const fn feature(id: FeatureId) -> Feature {
    Feature::from_handle(id.0)
}

fn ids(features: &[Feature]) -> Vec<FeatureId> {
    features.iter().map(|&of| id(of)).collect()
}

const fn status_word(status: Status) -> &'static str {
    match status {
        Status::Existing => "existing",
        Status::Proposed => "proposed",
        Status::Remove => "remove",
    }
}

/// The sandbox stops a module that combines amounts of two dimensions; here it is a slip in a bench.
#[allow(clippy::panic, reason = "only a wrong check gets here, and a bench should fail loudly")]
fn fit<T>(result: Result<T, AmountError>) -> T {
    result.unwrap_or_else(|why| panic!("{why}"))
}

impl Amounts for Native<'_> {
    type Amount = Measured;

    fn values(&self, items: &[&Measured]) -> Vec<Quantity> {
        items.iter().map(|amount| amount.value()).collect()
    }

    fn lacks(&self, items: &[&Measured]) -> Vec<bool> {
        items.iter().map(|amount| !amount.needs.is_empty()).collect()
    }

    fn add(&self, pairs: &[(&Measured, &Measured)]) -> Vec<Measured> {
        pairs.iter().map(|(a, b)| fit(a.add(b))).collect()
    }

    fn subtract(&self, pairs: &[(&Measured, &Measured)]) -> Vec<Measured> {
        pairs.iter().map(|(a, b)| fit(a.subtract(b))).collect()
    }

    fn ratio(&self, pairs: &[(&Measured, &Measured)]) -> Vec<Option<Measured>> {
        let over = |(a, b): &(&Measured, &Measured)| match a.ratio(b) {
            Err(AmountError::ZeroDivisor) => None,
            other => Some(fit(other)),
        };
        pairs.iter().map(over).collect()
    }

    fn scale(&self, items: &[(&Measured, f64)]) -> Vec<Measured> {
        items.iter().map(|(amount, factor)| amount.scale(Ratio::from_fraction(*factor))).collect()
    }

    fn sum(&self, items: &[&Measured]) -> Option<Measured> {
        fit(Measured::sum(items.iter().copied()))
    }

    fn least(&self, items: &[&Measured]) -> Option<Measured> {
        fit(Measured::least(items.iter().copied()))
    }

    fn greatest(&self, items: &[&Measured]) -> Option<Measured> {
        fit(Measured::greatest(items.iter().copied()))
    }
}

impl Asked for Native<'_> {
    fn subjects(&self) -> Vec<Feature> {
        self.task.subjects.iter().copied().map(feature).collect()
    }

    fn group(&self, name: &str) -> Vec<Feature> {
        self.task
            .groups
            .get(name)
            .map(|group| group.iter().copied().map(feature).collect())
            .unwrap_or_default()
    }

    fn parameter(&self, name: &str) -> Option<Value> {
        self.task.parameters.get(name).map(|parameter| match parameter {
            Parameter::Quantity(quantity) => Value::Quantity(*quantity),
            Parameter::Count(count) => Value::Count(*count),
            Parameter::Flag(flag) => Value::Flag(*flag),
            Parameter::Text(text) => Value::Text(text.clone()),
            Parameter::List(texts) => Value::Texts(texts.clone()),
        })
    }

    fn parameter_amount(&self, name: &str) -> Option<Measured> {
        match self.task.parameters.get(name) {
            Some(Parameter::Quantity(quantity)) => Some(Measured::exact(*quantity)),
            _ => None,
        }
    }
}

impl Facts for Native<'_> {
    fn labels(&self, features: &[Feature]) -> Vec<String> {
        self.each(features, |of| of.map(|of| of.title.clone()).unwrap_or_default())
    }

    fn is_a(&self, features: &[Feature], kind: &str) -> Vec<bool> {
        self.each(features, |of| of.is_some_and(|of| self.site().kinds().is_a(&of.kind, kind)))
    }

    fn shapes(&self, features: &[Feature]) -> Vec<Shape> {
        self.each(features, |of| match of.map(|of| &of.shape) {
            Some(groundrule_survey::Shape::Outline { .. }) => Shape::Outline,
            Some(groundrule_survey::Shape::Line { .. }) => Shape::Line,
            Some(groundrule_survey::Shape::Spot(_)) => Shape::Spot,
            Some(groundrule_survey::Shape::Disc { .. }) => Shape::Disc,
            Some(groundrule_survey::Shape::Absent) | None => Shape::Absent,
        })
    }

    fn lot_of(&self, features: &[Feature]) -> Vec<Option<Feature>> {
        self.each(features, |of| of.and_then(|of| of.lot).map(feature))
    }

    fn fact(&self, features: &[Feature], name: &str) -> Vec<Option<Value>> {
        self.each(features, |of| match (of?.facts.get(name), name) {
            (Some(Fact::Amount(amount)), _) => Some(Value::Quantity(amount.value())),
            // A list has no case of its own here; `stated_each` hands it over.
            (Some(Fact::Amounts(amounts)), _) => {
                let words: Vec<String> = amounts.iter().map(|it| format!("{} m", it.value().si())).collect();
                Some(Value::Text(words.join(", ")))
            }
            (Some(Fact::Count(count)), _) => Some(Value::Count(*count)),
            (Some(Fact::Flag(flag)), _) => Some(Value::Flag(*flag)),
            (Some(Fact::Text(text)), _) => Some(Value::Text(text.clone())),
            (None, "kind") => of.map(|of| Value::Text(of.kind.clone())),
            (None, "status") => of?.status.map(|status| Value::Text(status_word(status).to_owned())),
            (None, _) => None,
        })
    }

    fn stated(&self, features: &[Feature], name: &str) -> Vec<Option<Measured>> {
        self.each(features, |of| match of?.facts.get(name)? {
            Fact::Amount(amount) => Some(amount.as_ref().clone()),
            _ => None,
        })
    }

    fn stated_each(&self, features: &[Feature], name: &str) -> Vec<Vec<Measured>> {
        self.each(features, |of| match of.and_then(|of| of.facts.get(name)) {
            Some(Fact::Amounts(amounts)) => amounts.clone(),
            _ => Vec::new(),
        })
    }

    fn outline(&self, of: Feature) -> Vec<Place> {
        let site = self.site();
        let Some(of) = site.feature(id(of)) else { return Vec::new() };
        let points = match &of.shape {
            groundrule_survey::Shape::Outline { ring, .. } => ring.as_slice(),
            groundrule_survey::Shape::Line { path, .. } => path.as_slice(),
            groundrule_survey::Shape::Spot(point) | groundrule_survey::Shape::Disc { centre: point, .. } => {
                std::slice::from_ref(point)
            }
            groundrule_survey::Shape::Absent => &[],
        };
        points.iter().map(|point| Place { x: point.at.x, y: point.at.y }).collect()
    }
}

impl Distances for Native<'_> {
    fn between(&self, pairs: &[(Feature, Feature)]) -> Vec<Measured> {
        self.pairs(pairs, Site::distance)
    }

    fn clearance(&self, pairs: &[(Feature, Feature)]) -> Vec<Measured> {
        self.pairs(pairs, Site::clearance)
    }

    fn yard(&self, pairs: &[(Feature, Feature)]) -> Vec<Measured> {
        self.pairs(pairs, Site::yard)
    }

    fn near(&self, from: &[Feature], to: &[Feature], reach: Length) -> Vec<(Feature, Feature)> {
        let found = self.site().near(&ids(from), &ids(to), reach);
        found.into_iter().map(|(a, b)| (feature(a), feature(b))).collect()
    }

    fn facing(&self, features: &[Feature]) -> Vec<Vec<Option<Feature>>> {
        let lines = |of: &Feature| {
            self.site().facing(id(*of)).into_iter().map(|side| side.line.map(feature)).collect()
        };
        features.iter().map(lines).collect()
    }
}

impl Areas for Native<'_> {
    fn area(&self, features: &[Feature]) -> Vec<Measured> {
        self.singles(features, Site::area)
    }

    fn covered(&self, features: &[Feature], within: Option<Feature>) -> Measured {
        self.site().covered(&ids(features), within.map(id))
    }

    fn overlap(&self, pairs: &[(Feature, Feature)]) -> Vec<Measured> {
        self.pairs(pairs, Site::overlap)
    }

    fn length(&self, features: &[Feature]) -> Vec<Measured> {
        self.singles(features, Site::length)
    }

    fn length_inside(&self, pairs: &[(Feature, Feature)]) -> Vec<Measured> {
        self.pairs(pairs, Site::length_inside)
    }
}

impl Widths for Native<'_> {
    fn drawn_width(&self, features: &[Feature]) -> Vec<Measured> {
        self.singles(features, Site::drawn_width)
    }
}
