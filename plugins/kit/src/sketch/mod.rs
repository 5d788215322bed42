//! A sheet of upright rectangles: enough geometry to try a check on, with no host and no plan.

mod constructed;
mod exact;
mod measures;
mod rain;
mod rect;
mod tell;
mod terrain;

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

pub use exact::Exact;
use groundrule_units::Length;
pub use rect::Rect;

use crate::{Feature, Value};

/// A ground for an author's own tests. Everything in it is exact, and stands where its rectangle says.
///
/// A name that is not in the sketch, a call with amounts of two dimensions and other slips that would stop
/// a module in the sandbox panic here, with the reason.
///
/// Of the places a check may construct, a sketch makes those that are upright rectangles: the strip along a side of a
/// lot, and the corners of a lot. A rounded one or a triangle it cannot hold, nor find a ring of fences; those the test
/// hands in, with [`Sketch::region`] and [`Sketch::opening`], and what was not handed in is not there.
#[derive(Clone, Debug, Default)]
pub struct Sketch {
    things: Vec<Rc<Thing>>,
    /// Regions made so far; they are numbered after the things.
    made: RefCell<Vec<Rc<Thing>>>,
    /// Regions handed in, by the names of what they are made of.
    prepared: BTreeMap<Vec<String>, Vec<Rect>>,
    /// Rings handed in, by the name of what they go around.
    rings: BTreeMap<String, (Length, Vec<Feature>)>,
    /// What the test says of the ground.
    ground: terrain::Handed,
    subjects: Vec<Feature>,
    groups: BTreeMap<String, Vec<Feature>>,
    parameters: BTreeMap<String, Value>,
}

#[derive(Clone, Debug)]
struct Thing {
    name: String,
    kind: String,
    lot: Option<Feature>,
    rect: Option<Rect>,
    facts: BTreeMap<String, Value>,
    lists: BTreeMap<String, Vec<Length>>,
}

impl Thing {
    fn new(name: &str, kind: &str, lot: Option<Feature>, rect: Option<Rect>) -> Self {
        let (name, kind) = (name.to_owned(), kind.to_owned());
        Self { name, kind, lot, rect, facts: BTreeMap::new(), lists: BTreeMap::new() }
    }
}

impl Sketch {
    /// An empty sheet.
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds a feature. Its kind may be written from the root down, `structure/accessory-structure/shed`.
    /// A rectangle without a width is a line, one without any extent a spot.
    pub fn feature(mut self, name: &str, kind: &str, rect: Rect) -> Self {
        self.add(name, kind, Some(rect));
        self
    }

    /// Adds a feature that is stated but not drawn.
    pub fn undrawn(mut self, name: &str, kind: &str) -> Self {
        self.add(name, kind, None);
        self
    }

    /// Adds a lot with its four sides, named by compass from below: `lot.s` the front, `lot.e` and `lot.w` the
    /// sides, `lot.n` the rear.
    pub fn lot(mut self, name: &str, rect: Rect) -> Self {
        let lot = self.add(name, "lot", Some(rect));
        for (end, role, side) in rect.sides() {
            let line = self.add(&format!("{name}.{end}"), "lot-line", Some(side));
            if let Some(thing) = self.things.get_mut(line.handle() as usize) {
                let thing = Rc::make_mut(thing);
                thing.lot = Some(lot);
                thing.facts.insert("role".to_owned(), role.into());
            }
        }
        self
    }

    /// Puts the last feature on a lot.
    pub fn on(mut self, lot: &str) -> Self {
        let lot = self.id(lot);
        self.last().lot = Some(lot);
        self
    }

    /// States a fact of the last feature.
    pub fn stating(mut self, name: &str, value: impl Into<Value>) -> Self {
        self.last().facts.insert(name.to_owned(), value.into());
        self
    }

    /// States a list of lengths of the last feature.
    pub fn stating_each(mut self, name: &str, lengths: &[Length]) -> Self {
        self.last().lists.insert(name.to_owned(), lengths.to_vec());
        self
    }

    /// Hands in a region, as a rectangle that stands for it, for whenever a check constructs one of these features: of
    /// one for a strip or the ground around it, of two lines for a corner, of a drive and a line for a drive, which may
    /// have several.
    pub fn region(mut self, of: &[&str], rect: Rect) -> Self {
        let of = of.iter().map(|name| self.name(self.id(name)).to_owned()).collect();
        self.prepared.entry(of).or_default().push(rect);
        self
    }

    /// Hands in the ring around a feature: its widest opening and its pieces.
    pub fn opening(mut self, around: &str, opening: Length, pieces: &[&str]) -> Self {
        let pieces = pieces.iter().map(|name| self.id(name)).collect();
        let around = self.name(self.id(around)).to_owned();
        self.rings.insert(around, (opening, pieces));
        self
    }

    /// Whom the check is about.
    pub fn subjects(mut self, names: &[&str]) -> Self {
        self.subjects = names.iter().map(|name| self.id(name)).collect();
        self
    }

    /// What it is measured to.
    pub fn group(mut self, group: &str, names: &[&str]) -> Self {
        let features = names.iter().map(|name| self.id(name)).collect();
        self.groups.insert(group.to_owned(), features);
        self
    }

    /// A parameter of the rule.
    pub fn parameter(mut self, name: &str, value: impl Into<Value>) -> Self {
        self.parameters.insert(name.to_owned(), value.into());
        self
    }

    /// The feature of this name.
    pub fn id(&self, name: &str) -> Feature {
        let found = self.things.iter().position(|thing| thing.name == name);
        found.and_then(|at| u32::try_from(at).ok()).map_or_else(
            || stop(&format!("the sketch has no `{name}`; add it before it is named")),
            Feature::from_handle,
        )
    }

    /// The name of a feature.
    pub fn name(&self, of: Feature) -> &str {
        match self.things.get(of.handle() as usize) {
            Some(thing) => &thing.name,
            None => stop("a reading names a region; it may name only what the plan has"),
        }
    }

    fn add(&mut self, name: &str, kind: &str, rect: Option<Rect>) -> Feature {
        let id = u32::try_from(self.things.len()).unwrap_or_else(|_| stop("a sketch is for a few features"));
        self.things.push(Rc::new(Thing::new(name, kind, None, rect)));
        Feature::from_handle(id)
    }

    fn last(&mut self) -> &mut Thing {
        let last = self.things.last_mut().unwrap_or_else(|| stop("add a feature before saying more of it"));
        Rc::make_mut(last)
    }

    fn thing(&self, of: Feature) -> Rc<Thing> {
        let at = of.handle() as usize;
        let made = || self.made.borrow().get(at.checked_sub(self.things.len())?).cloned();
        self.things
            .get(at)
            .cloned()
            .or_else(made)
            .unwrap_or_else(|| stop("a check used a feature that its ground never handed out"))
    }

    fn rect(&self, of: Feature) -> Option<Rect> {
        self.thing(of).rect
    }
}

/// Ends a test whose sketch or check is wrong.
#[allow(clippy::panic, reason = "a sketch only lives in tests, and a wrong one should fail them loudly")]
fn stop(why: &str) -> ! {
    panic!("{why}")
}
