//! A rectangle by its sizes, set out from a corner or along a wall.

use groundrule_units::Angle;

use super::sense::SaidTurn;
use crate::model::{Accuracy, Anchor, Geometry, Place, WallRef};
use crate::reader::{Keys, NotNegative, Read, Reader, Shape, Size, Table, Value, list, span_of};
use crate::{Fault, Name};

use groundrule_units::{Length, Written};

crate::table! {
    /// A rectangle: `corner`, `at` and `size`, or `along`, `station`, `offset`, `side` and `size`. Its corners are
    /// `sw`, `se`, `ne` and `nw`.
    pub(crate) table BoxTable {
        /// Along `sw`-`se`, then along `sw`-`nw`.
        required size: TwoSizes,
        /// The corner that stands at the place; `sw` when absent.
        optional corner: BoxCorner,
        /// Where that corner stands.
        optional at: Place,
        /// Turned so much about that corner.
        optional turn: SaidTurn,
        /// The wall its `sw`-`se` side lies along.
        optional along: WallRef,
        /// How far along the wall it begins.
        optional station: Written<Length>,
        /// Clear distance off the wall; none when absent.
        optional offset: NotNegative,
        /// The side of the wall it stands on, as one goes along.
        optional side: WallSide,
        /// How well its sizes are known, where that differs from its place.
        optional sizes_by: Accuracy,
    }
}

/// A corner of a box.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum BoxCorner {
    Sw,
    Se,
    Ne,
    Nw,
}

crate::words! { BoxCorner {
    "sw" => Self::Sw, "lower left before turning";
    "se" => Self::Se, "lower right before turning";
    "ne" => Self::Ne, "upper right before turning";
    "nw" => Self::Nw, "upper left before turning";
} }

impl BoxCorner {
    fn name(self) -> Name {
        Name(
            match self {
                Self::Sw => "sw",
                Self::Se => "se",
                Self::Ne => "ne",
                Self::Nw => "nw",
            }
            .to_owned(),
        )
    }
}

/// A side of a wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum WallSide {
    Left,
    Right,
}

crate::words! { WallSide {
    "left" => Self::Left, "to the left as one goes along the wall";
    "right" => Self::Right, "to the right as one goes along the wall";
} }

/// Two sizes, each more than zero.
#[derive(Debug)]
pub(crate) struct TwoSizes(Written<Length>, Written<Length>);

impl Read for TwoSizes {
    fn shape() -> Shape {
        Shape::List { of: Box::new(Size::shape()), least: 2, most: Some(2) }
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        match value.get_ref().as_array().map(AsRef::<[Value<'_>]>::as_ref) {
            Some([width, depth]) => {
                let (width, depth) = (Size::read(width, reader), Size::read(depth, reader));
                Some(Self(width?.0, depth?.0))
            }
            Some(items) => {
                let message = format!("A box has two sizes; here are {}.", items.len());
                let help = "Write `size = [\"40 ft\", \"32 ft\"]`: along its front, then its depth.";
                reader.fault_help("plan::bad-size", message, span_of(value), "not two", help)
            }
            None => reader.wrong_type::<Self, _>(value),
        }
    }
}

/// A box as geometry.
#[derive(Debug)]
pub(crate) struct WrittenBox(pub(crate) Geometry);

impl Read for WrittenBox {
    fn shape() -> Shape {
        BoxTable::shape()
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(mut keys) = Keys::of(value) else {
            return reader.wrong_type::<Self, _>(value);
        };
        let table = BoxTable::read_keys(&mut keys, reader);
        keys.refuse_rest::<BoxTable>(reader);
        let (anchor, own_keys): (&str, &[&str]) = match (keys.has("at"), keys.has("along")) {
            (true, false) => ("at", &["corner", "turn"]),
            (false, true) => ("along", &["station", "offset", "side"]),
            (both, _) => return tell_anchor(both, &keys, reader),
        };
        let strays: Vec<&str> = ["corner", "turn", "station", "offset", "side"]
            .into_iter()
            .filter(|key| keys.has(key) && !own_keys.contains(key))
            .collect();
        if let Some(first) = strays.first().and_then(|key| keys.key_span(key)) {
            let message = format!("A box set out with `{anchor}` has no {}.", list(strays.iter().copied()));
            let help = "`corner` and `turn` go with `at`; `station`, `offset` and `side` go with `along`.";
            return reader.fault_help("plan::stray-key", message, first, "does not belong here", help);
        }
        let TwoSizes(width, depth) = table.size?;
        let anchor = if anchor == "at" {
            let turn = if keys.has("turn") { table.turn?.0 } else { Angle::ZERO };
            let corner = if keys.has("corner") { table.corner? } else { BoxCorner::Sw };
            Anchor::Corner { corner: corner.name(), place: table.at?, turn }
        } else {
            for (key, example) in [("station", "\"4 ft\""), ("side", "\"right\"")] {
                if !keys.has(key) {
                    let message = format!("A box along a wall lacks its `{key}`.");
                    let help = format!("Add `{key} = {example}`.");
                    return reader.fault_help("plan::missing-key", message, keys.span(), "in this box", help);
                }
            }
            let offset = match (keys.has("offset"), table.offset) {
                (true, offset) => offset?.0,
                (false, _) => super::place::zero(),
            };
            let left = table.side? == WallSide::Left;
            Anchor::Wall { wall: table.along?, station: table.station?, offset, left }
        };
        Some(Self(Geometry::Box { anchor, width, depth, sizes_by: table.sizes_by, span: keys.span() }))
    }
}

fn tell_anchor<T>(both: bool, keys: &Keys<'_, '_>, reader: &mut Reader<'_>) -> Option<T> {
    let help = "Write `corner = \"sw\", at = [25, 30]`, or `along = \"house.se-ne\", station = \"4 ft\", side = \"right\"`.";
    let fault = match (both, keys.key_span("at"), keys.key_span("along")) {
        (true, Some(at), Some(along)) => {
            let fault = Fault::new("plan::two-places", "The box is set out in two ways.", at, "one way");
            fault.with_label(along, "another")
        }
        _ => Fault::new(
            "plan::no-place",
            "Nothing says where the box stands.",
            keys.span(),
            "no `at` or `along`",
        ),
    };
    reader.tell(fault.with_help(help));
    None
}
