//! What the person importing a file says about it.

use std::collections::BTreeMap;

use groundrule_units::{Angle, Length, Mark, Written};

/// A place on the earth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LonLat {
    /// East of Greenwich is positive.
    pub longitude: Angle,
    /// North of the equator is positive.
    pub latitude: Angle,
}

/// The unit of the coordinates of a survey file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LinearUnit {
    /// The metre.
    Metre,
    /// The millimetre.
    Millimetre,
    /// The centimetre.
    Centimetre,
    /// The kilometre.
    Kilometre,
    /// The international foot, 0.3048 m exactly.
    Foot,
    /// The United States survey foot, 1200/3937 m exactly (retired for new work after 2022).
    SurveyFoot,
    /// The inch, 25.4 mm exactly.
    Inch,
    /// The mile of 5,280 international feet.
    Mile,
}

impl LinearUnit {
    /// One of it.
    pub const fn one(self) -> Length {
        match self {
            Self::Metre => Length::from_metres(1.0),
            Self::Millimetre => Length::from_millimetres(1.0),
            Self::Centimetre => Length::from_millimetres(10.0),
            Self::Kilometre => Length::from_metres(1000.0),
            Self::Foot => Length::from_feet(1.0),
            Self::SurveyFoot => Length::from_metres(1200.0 / 3937.0),
            Self::Inch => Length::from_inches(1.0),
            Self::Mile => Length::from_feet(5280.0),
        }
    }

    /// Its name, for people.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Metre => "metre",
            Self::Millimetre => "millimetre",
            Self::Centimetre => "centimetre",
            Self::Kilometre => "kilometre",
            Self::Foot => "international foot",
            Self::SurveyFoot => "US survey foot",
            Self::Inch => "inch",
            Self::Mile => "mile",
        }
    }
}

/// What the things of one layer are.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Use {
    /// Each outline is a lot.
    Lots,
    /// Each outline is a building: the largest of a lot is its dwelling, the others accessory structures.
    Buildings,
    /// Each line is the middle of a street. Streets propose the roles of lot lines and are not drawn.
    Streets,
    /// Each is a feature of this kind of the kind tree.
    Kind(String),
}

/// Which layer is what.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Layers {
    /// Layers by name; the others are left out, and the plan says so.
    Named(BTreeMap<String, Use>),
    /// The file holds one layer, and this is what it is.
    Only(Use),
}

/// What to take a file for, and what it cannot say itself.
#[derive(Clone, Debug)]
pub struct Options {
    /// The plan's title.
    pub title: String,
    /// Which layer is what.
    pub layers: Layers,
    /// How well a corner read from this file is known, plus or minus at 95 %.
    pub accuracy: Written<Length>,
    /// Where the site is, roughly: coordinates more than half a degree away are asked about.
    pub near: Option<LonLat>,
    /// The unit of coordinates whose file names neither a system nor a unit.
    pub unit: Option<LinearUnit>,
    /// The GeoJSON property that holds the name of a feature's layer.
    pub layer_property: String,
    /// The property or column that holds a street's name.
    pub street_property: String,
    /// How far from the middle of a street a lot line may lie and still front it.
    pub street_reach: Length,
}

impl Options {
    /// The options most files want, given what their layers are: corners of a map good to 5 ft (common
    /// practice for tax maps), layers named by a `layer` property, streets by `name`, a reach of 80 ft
    /// (half of a 100 ft right-of-way, and a verge).
    pub fn new(title: impl Into<String>, layers: Layers) -> Self {
        Self {
            title: title.into(),
            layers,
            accuracy: Written { value: Length::from_feet(5.0), text: "5 ft".to_owned(), mark: Mark::Plain },
            near: None,
            unit: None,
            layer_property: "layer".to_owned(),
            street_property: "name".to_owned(),
            street_reach: Length::from_feet(80.0),
        }
    }

    /// True when some layer is of this use.
    pub(crate) fn wants(&self, wanted: &Use) -> bool {
        match &self.layers {
            Layers::Named(named) => named.values().any(|role| role == wanted),
            Layers::Only(role) => role == wanted,
        }
    }

    /// The kinds that layers were said to be of.
    pub(crate) fn kinds(&self) -> impl Iterator<Item = &str> {
        let (named, only) = match &self.layers {
            Layers::Named(named) => (Some(named), None),
            Layers::Only(role) => (None, Some(role)),
        };
        named.into_iter().flat_map(BTreeMap::values).chain(only).filter_map(|role| match role {
            Use::Kind(kind) => Some(kind.as_str()),
            _ => None,
        })
    }

    /// What a layer of this name is; nothing when it is to be left out.
    pub(crate) fn role_of(&self, layer: &str) -> Option<&Use> {
        match &self.layers {
            Layers::Named(named) => named.get(layer),
            Layers::Only(role) => Some(role),
        }
    }
}
