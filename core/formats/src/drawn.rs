//! What a file draws, before it is put on a plane.

use groundrule_plan::Span;

use crate::kernel::Xy;
use crate::plane::System;
use crate::{LinearUnit, Use};

/// What the numbers of a file mean.
#[derive(Clone, Debug)]
pub(crate) enum Frame {
    /// Places on the earth.
    Earth(System),
    /// A flat drawing in some unit, tied to no place.
    Flat(LinearUnit),
}

/// One thing of one layer.
#[derive(Clone, Debug)]
pub(crate) struct Drawn {
    pub(crate) role: Use,
    /// What the file calls it, for ids and messages.
    pub(crate) id: String,
    /// A name for people, as streets have.
    pub(crate) name: Option<String>,
    pub(crate) parts: Vec<Part>,
    pub(crate) span: Span,
}

/// One connected piece; rings do not repeat their first place.
#[derive(Clone, Debug)]
pub(crate) enum Part {
    Area { ring: Vec<Xy>, holes: Vec<Vec<Xy>> },
    Line(Vec<Xy>),
    Spot(Xy),
}

impl Part {
    pub(crate) fn places(&self) -> impl Iterator<Item = &Xy> {
        let (first, rest, spot): (&[Xy], &[Vec<Xy>], Option<&Xy>) = match self {
            Self::Area { ring, holes } => (ring, holes, None),
            Self::Line(path) => (path, &[], None),
            Self::Spot(at) => (&[], &[], Some(at)),
        };
        first.iter().chain(rest.iter().flatten()).chain(spot)
    }

    pub(crate) fn places_mut(&mut self) -> impl Iterator<Item = &mut Xy> {
        let (first, rest, spot): (&mut [Xy], &mut [Vec<Xy>], Option<&mut Xy>) = match self {
            Self::Area { ring, holes } => (ring, holes, None),
            Self::Line(path) => (path, &mut [], None),
            Self::Spot(at) => (&mut [], &mut [], Some(at)),
        };
        first.iter_mut().chain(rest.iter_mut().flatten()).chain(spot)
    }

    /// What it is, in a sentence.
    pub(crate) fn noun(&self) -> &'static str {
        match self {
            Self::Area { .. } => "an outline",
            Self::Line(_) => "a line",
            Self::Spot(_) => "a point",
        }
    }
}

/// What is wrong with a ring or a line as a file holds it.
pub(crate) enum Broken {
    Open,
    Few,
    NotFinite,
}

/// A closed ring of a file without its repeated last place and without places said twice.
pub(crate) fn ring(mut places: Vec<Xy>) -> Result<Vec<Xy>, Broken> {
    if !places.iter().flatten().all(|number| number.is_finite()) {
        return Err(Broken::NotFinite);
    }
    if places.len() < 2 || places.first() != places.last() {
        return Err(if places.len() < 4 { Broken::Few } else { Broken::Open });
    }
    places.pop();
    places.dedup();
    while places.len() > 1 && places.first() == places.last() {
        places.pop();
    }
    if places.len() < 3 { Err(Broken::Few) } else { Ok(places) }
}

/// A line of a file without places said twice.
pub(crate) fn line(mut places: Vec<Xy>) -> Result<Vec<Xy>, Broken> {
    if !places.iter().flatten().all(|number| number.is_finite()) {
        return Err(Broken::NotFinite);
    }
    places.dedup();
    if places.len() < 2 { Err(Broken::Few) } else { Ok(places) }
}

impl Broken {
    /// What is wrong and what to do, to follow the name of the thing.
    pub(crate) fn words(&self) -> (&'static str, &'static str) {
        match self {
            Self::Open => {
                ("is not closed: its last place is not its first", "repeat the first place at the end")
            }
            Self::Few => (
                "has too few different places: an outline needs three, a line two",
                "give it a shape, or take it out of the file",
            ),
            Self::NotFinite => (
                "has a coordinate that is not a finite number",
                "export it again, or take it out of the file",
            ),
        }
    }
}
