//! The sort of thing a name or a formula stands for.

use groundrule_plan::AttributeKind;
use groundrule_units::Dimension;

/// A number with its dimension, a truth or a text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sort {
    /// A number of metres to this power: 0 is a count, slope or share, 1 a length, 2 an area, 3 a volume.
    Metres(i8),
    /// A number of metres to the first power and seconds to the second, which is not zero: a flow, a speed, a time.
    Timed(i8, i8),
    /// An angle in radians.
    Angle,
    /// Yes or no.
    Flag,
    /// Words.
    Text,
    /// Several lengths, which no formula takes.
    Lengths,
}

impl Sort {
    /// A count, a slope or a share.
    pub(crate) const PLAIN: Self = Self::Metres(0);

    /// Cubic metres a second.
    pub(crate) const FLOW: Self = Self::Timed(3, -1);
    /// Metres a second.
    pub(crate) const SPEED: Self = Self::Timed(1, -1);
    /// Seconds.
    pub(crate) const TIME: Self = Self::Timed(0, 1);

    /// The names a pack may write for the sort of a fact.
    pub(crate) const WRITTEN: [(&'static str, Self); 11] = [
        ("length", Self::Metres(1)),
        ("area", Self::Metres(2)),
        ("volume", Self::Metres(3)),
        ("angle", Self::Angle),
        ("flow", Self::FLOW),
        ("speed", Self::SPEED),
        ("time", Self::TIME),
        ("ratio", Self::PLAIN),
        ("count", Self::PLAIN),
        ("flag", Self::Flag),
        ("text", Self::Text),
    ];

    pub(crate) fn written(word: &str) -> Option<Self> {
        Self::WRITTEN.iter().find(|(name, _)| *name == word).map(|(_, sort)| *sort)
    }

    /// What a quantity of this sort is a quantity of.
    pub(crate) fn dimension(self) -> Option<Dimension> {
        match self {
            Self::Metres(0) => Some(Dimension::Ratio),
            Self::Metres(1) => Some(Dimension::Length),
            Self::Metres(2) => Some(Dimension::Area),
            Self::Metres(3) => Some(Dimension::Volume),
            Self::Angle => Some(Dimension::Angle),
            Self::FLOW => Some(Dimension::Flow),
            Self::SPEED => Some(Dimension::Speed),
            Self::TIME => Some(Dimension::Time),
            Self::Timed(..) | Self::Metres(_) | Self::Flag | Self::Text | Self::Lengths => None,
        }
    }

    /// The sort in words, with its article.
    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::Metres(0) => "a plain number",
            Self::Metres(1) => "a length",
            Self::Metres(2) => "an area",
            Self::Metres(3) => "a volume",
            Self::Metres(_) => "a power of a length that has no name",
            Self::FLOW => "a flow",
            Self::SPEED => "a speed",
            Self::TIME => "a time",
            Self::Timed(..) => "a thing of lengths and times that has no name",
            Self::Angle => "an angle",
            Self::Flag => "a yes or no",
            Self::Text => "a text",
            Self::Lengths => "a list of lengths",
        }
    }

    pub(crate) fn is_number(self) -> bool {
        matches!(self, Self::Metres(_) | Self::Timed(..) | Self::Angle)
    }

    /// The sort of a product, or of a quotient when `over`.
    pub(crate) fn times(self, other: Self, over: bool) -> Option<Self> {
        match (self, other) {
            (Self::Angle, Self::Metres(0)) => Some(Self::Angle),
            (Self::Metres(0), Self::Angle) if !over => Some(Self::Angle),
            (Self::Angle, Self::Angle) if over => Some(Self::PLAIN),
            _ => {
                let ((a, s), (b, t)) = (self.powers()?, other.powers()?);
                let (metres, seconds) = if over { (a - b, s - t) } else { (a + b, s + t) };
                let known = (-3..=3).contains(&metres) && (-2..=2).contains(&seconds);
                let sort = if seconds == 0 { Self::Metres(metres) } else { Self::Timed(metres, seconds) };
                known.then_some(sort)
            }
        }
    }

    /// The powers of metres and of seconds.
    fn powers(self) -> Option<(i8, i8)> {
        match self {
            Self::Metres(metres) => Some((metres, 0)),
            Self::Timed(metres, seconds) => Some((metres, seconds)),
            Self::Angle | Self::Flag | Self::Text | Self::Lengths => None,
        }
    }
}

impl From<AttributeKind> for Sort {
    fn from(kind: AttributeKind) -> Self {
        match kind {
            AttributeKind::Length | AttributeKind::Level => Self::Metres(1),
            AttributeKind::Lengths | AttributeKind::Levels => Self::Lengths,
            AttributeKind::Area => Self::Metres(2),
            AttributeKind::Ratio | AttributeKind::Number | AttributeKind::Count => Self::PLAIN,
            AttributeKind::Flow => Self::FLOW,
            AttributeKind::Speed => Self::SPEED,
            AttributeKind::Time => Self::TIME,
            AttributeKind::Flag => Self::Flag,
            AttributeKind::Text => Self::Text,
        }
    }
}

impl From<Dimension> for Sort {
    fn from(dimension: Dimension) -> Self {
        match dimension {
            Dimension::Length => Self::Metres(1),
            Dimension::Area => Self::Metres(2),
            Dimension::Volume => Self::Metres(3),
            Dimension::Angle => Self::Angle,
            Dimension::Ratio => Self::PLAIN,
            Dimension::Flow => Self::FLOW,
            Dimension::Speed => Self::SPEED,
            Dimension::Time => Self::TIME,
        }
    }
}
