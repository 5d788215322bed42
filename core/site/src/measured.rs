//! A value with its spread, kept as a sum of independent error sources so that covariance survives arithmetic.

use groundrule_survey::{Position, SourceId};
use groundrule_units::{Dimension, Quantity, Ratio};
use smallvec::SmallVec;

use crate::terms::{self, Gather};

/// How far one standard deviation of each source moves a value, in the value's SI unit; in order of source.
pub type Terms = SmallVec<[(SourceId, f64); 8]>;

/// What to draw for a measurement.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// A place.
    Spot(Position),
    /// A dimension from one place to another.
    Span(Position, Position),
    /// A ring to be shaded.
    Region(Vec<Position>),
}

/// Data that is not there.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Need {
    /// What is lacking: `clear opening of gate-1`.
    pub what: String,
    /// What to add or where to measure it.
    pub how: String,
}

/// Why two amounts cannot be combined.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AmountError {
    /// They are amounts of different things.
    Mismatch {
        /// What the first is.
        first: Dimension,
        /// What the other is.
        other: Dimension,
    },
    /// The amount to divide by is zero.
    ZeroDivisor,
}

impl std::fmt::Display for AmountError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let word = |dimension: Dimension| match dimension {
            Dimension::Length => "a length",
            Dimension::Area => "an area",
            Dimension::Volume => "a volume",
            Dimension::Angle => "an angle",
            Dimension::Ratio => "a ratio",
            Dimension::Flow => "a flow",
            Dimension::Speed => "a speed",
            Dimension::Time => "a time",
        };
        match self {
            Self::Mismatch { first, other } => {
                write!(f, "{} cannot be combined with {}", word(*first), word(*other))
            }
            Self::ZeroDivisor => write!(f, "an amount cannot be divided by an amount of zero"),
        }
    }
}

impl std::error::Error for AmountError {}

/// A measured amount.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    value: Quantity,
    terms: Terms,
    /// What to draw.
    pub marks: Vec<Mark>,
    /// What is lacking; an amount with needs is not judged.
    pub needs: Vec<Need>,
}

impl Measured {
    /// An amount with its error terms, which must be in order of source, each source once.
    pub fn new(value: Quantity, terms: Terms) -> Self {
        Self { value, terms, marks: Vec::new(), needs: Vec::new() }
    }

    /// An amount that is exactly so: stated, counted or designed.
    pub fn exact(value: impl Into<Quantity>) -> Self {
        Self::new(value.into(), Terms::new())
    }

    /// No amount, because of what is not there. Its value is zero and means nothing.
    pub fn lacking(dimension: Dimension, needs: Vec<Need>) -> Self {
        Self { needs, ..Self::new(Quantity::new(dimension, 0.0), Terms::new()) }
    }

    /// The same amount with these marks in place of its own.
    pub fn marked(self, marks: Vec<Mark>) -> Self {
        Self { marks, ..self }
    }

    /// The best value.
    pub fn value(&self) -> Quantity {
        self.value
    }

    /// The error terms.
    pub fn terms(&self) -> &Terms {
        &self.terms
    }

    /// The standard uncertainty, a quantity of the same dimension.
    pub fn spread(&self) -> Quantity {
        Quantity::new(self.value.dimension(), terms::spread(&self.terms))
    }

    /// The covariance with another amount, in the product of their SI units.
    pub fn covariance(&self, other: &Self) -> f64 {
        terms::covariance(&self.terms, &other.terms)
    }

    /// This plus another of the same dimension, with the marks and needs of both.
    pub fn add(&self, other: &Self) -> Result<Self, AmountError> {
        self.linear(other, 1.0)
    }

    /// This less another of the same dimension, with the marks and needs of both.
    pub fn subtract(&self, other: &Self) -> Result<Self, AmountError> {
        self.linear(other, -1.0)
    }

    /// This times a number.
    pub fn scale(&self, factor: Ratio) -> Self {
        let factor = factor.fraction();
        let mut terms = self.terms.clone();
        terms.iter_mut().for_each(|(_, term)| *term *= factor);
        terms.retain(|(_, term)| *term != 0.0);
        Self {
            value: Quantity::new(self.value.dimension(), self.value.si() * factor),
            terms,
            marks: self.marks.clone(),
            needs: self.needs.clone(),
        }
    }

    /// This over another of the same dimension, to first order in their errors.
    ///
    /// A zero divisor is an error unless it is zero only because data is lacking: then so is the ratio.
    pub fn ratio(&self, other: &Self) -> Result<Self, AmountError> {
        self.same(other)?;
        let (a, b) = (self.value.si(), other.value.si());
        let (value, terms) = if b == 0.0 {
            if other.needs.is_empty() {
                return Err(AmountError::ZeroDivisor);
            }
            (0.0, Terms::new())
        } else {
            (a / b, terms::combine(&self.terms, 1.0 / b, &other.terms, -a / (b * b)))
        };
        Ok(self.joined(other, Quantity::new(Dimension::Ratio, value), terms))
    }

    /// The sum of amounts of one dimension; none when there are none.
    pub fn sum<'a>(amounts: impl IntoIterator<Item = &'a Self>) -> Result<Option<Self>, AmountError> {
        let mut amounts = amounts.into_iter();
        let Some(first) = amounts.next() else { return Ok(None) };
        // Gathered once: adding one by one would sort the terms again for each amount.
        let mut gather = Gather::default();
        gather.terms(&first.terms, 1.0);
        let mut sum = Self { terms: Terms::new(), ..first.clone() };
        for amount in amounts {
            sum.same(amount)?;
            gather.terms(&amount.terms, 1.0);
            let value = Quantity::new(sum.value.dimension(), sum.value.si() + amount.value.si());
            sum.value = value;
            sum.marks.extend(amount.marks.iter().cloned());
            sum.needs.extend(amount.needs.iter().cloned());
        }
        sum.needs.sort();
        sum.needs.dedup();
        sum.terms = gather.finish();
        Ok(Some(sum))
    }

    /// The least of amounts of one dimension, with the terms and marks of the one that decides (the first
    /// of equals) and the needs of all: where one is lacking, the least is not known.
    pub fn least<'a>(amounts: impl IntoIterator<Item = &'a Self>) -> Result<Option<Self>, AmountError> {
        Self::extreme(amounts, |candidate, best| candidate < best)
    }

    /// The greatest of amounts of one dimension; the rest as for [`Measured::least`].
    pub fn greatest<'a>(amounts: impl IntoIterator<Item = &'a Self>) -> Result<Option<Self>, AmountError> {
        Self::extreme(amounts, |candidate, best| candidate > best)
    }

    fn extreme<'a>(
        amounts: impl IntoIterator<Item = &'a Self>,
        beats: impl Fn(f64, f64) -> bool,
    ) -> Result<Option<Self>, AmountError> {
        let mut best: Option<&Self> = None;
        let mut needs = Vec::new();
        for amount in amounts {
            needs.extend(amount.needs.iter().cloned());
            match best {
                Some(held) => {
                    held.same(amount)?;
                    if beats(amount.value.si(), held.value.si()) {
                        best = Some(amount);
                    }
                }
                None => best = Some(amount),
            }
        }
        needs.sort();
        needs.dedup();
        Ok(best.map(|deciding| Self { needs, ..deciding.clone() }))
    }

    fn linear(&self, other: &Self, sign: f64) -> Result<Self, AmountError> {
        self.same(other)?;
        let value = Quantity::new(self.value.dimension(), self.value.si() + sign * other.value.si());
        Ok(self.joined(other, value, terms::combine(&self.terms, 1.0, &other.terms, sign)))
    }

    fn joined(&self, other: &Self, value: Quantity, terms: Terms) -> Self {
        let marks = self.marks.iter().chain(&other.marks).cloned().collect();
        let mut needs: Vec<Need> = self.needs.iter().chain(&other.needs).cloned().collect();
        needs.sort();
        needs.dedup();
        Self { value, terms, marks, needs }
    }

    fn same(&self, other: &Self) -> Result<(), AmountError> {
        let (first, other) = (self.value.dimension(), other.value.dimension());
        if first == other { Ok(()) } else { Err(AmountError::Mismatch { first, other }) }
    }
}
