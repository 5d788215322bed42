//! The abbreviations of levels and lines, with what they stand for.
//!
//! The meanings are common practice on American site plans; a plan's own legend comes first.

macro_rules! terms {
    ($(#[$doc:meta])* $name:ident { $($variant:ident, $short:literal, $meaning:literal, [$($alias:literal),*];)* }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name {
            $(#[doc = concat!("`", $short, "`: ", $meaning, ".")] $variant,)*
        }

        impl $name {
            /// All of them.
            pub const ALL: &[Self] = &[$(Self::$variant),*];

            /// The abbreviation.
            pub const fn short(self) -> &'static str {
                match self { $(Self::$variant => $short,)* }
            }

            /// What it stands for.
            pub const fn meaning(self) -> &'static str {
                match self { $(Self::$variant => $meaning,)* }
            }

            /// Other ways of writing it.
            pub(crate) const fn aliases(self) -> &'static [&'static str] {
                match self { $(Self::$variant => &[$($alias),*],)* }
            }
        }
    };
}

terms! {
    /// What a level is the level of.
    LevelTerm {
        FinishedFloorElevation, "FFE", "finished floor elevation", ["F.F.E."];
        FinishedFloor, "FF", "finished floor", ["F.F."];
        FinishedGrade, "FG", "finished grade", ["F.G."];
        ExistingGrade, "EG", "existing grade", ["E.G."];
        TopOfWall, "TW", "top of wall", ["T.W.", "TOW"];
        BottomOfWall, "BW", "bottom of wall", ["B.W.", "BOW"];
        TopOfCurb, "TC", "top of curb", ["T.C.", "TOC"];
        FlowLine, "FL", "flow line", ["F.L."];
        HighPoint, "HP", "high point", ["H.P."];
        LowPoint, "LP", "low point", ["L.P."];
        Rim, "RIM", "rim", [];
        Invert, "INV", "invert", ["I.E.", "IE"];
        BenchMark, "BM", "bench mark", ["B.M.", "TBM", "benchmark"];
    }
}

terms! {
    /// What a line on a plat is.
    LineTerm {
        PublicUtilityEasement, "PUE", "public utility easement", ["P.U.E."];
        UtilityEasement, "UE", "utility easement", ["U.E."];
        DrainageEasement, "DE", "drainage easement", ["D.E."];
        BuildingSetbackLine, "BSBL", "building setback line", ["BSL", "B.S.B.L."];
        BuildingRestrictionLine, "BRL", "building restriction line", ["B.R.L."];
        RightOfWay, "ROW", "right of way", ["R.O.W.", "R/W", "right-of-way"];
        OverheadWires, "OHW", "overhead wires", ["overhead wire", "OH wires"];
        OrdinaryHighWater, "OHW", "ordinary high water", ["ordinary high water mark", "OHWM"];
        PointOfBeginning, "POB", "point of beginning", ["P.O.B."];
    }
}
