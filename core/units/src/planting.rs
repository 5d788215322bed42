//! Sizes and spacings on a plant list.

use crate::{Length, Volume};

/// One note of a plant list.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PlantNote {
    /// `DBH`: trunk diameter at breast height, 4.5 ft above ground; for trees that stand (common practice).
    TrunkAtBreastHeight(Length),
    /// `cal.`: trunk diameter 6 to 12 in above ground; for nursery stock (common practice).
    Caliper(Length),
    /// `o.c.`: spacing from centre to centre.
    OnCenter(Length),
    /// `OA`: overall height.
    Overall(Length),
    /// `gal`: nominal volume of the container it is sold in.
    Container(Volume),
    /// `B&B`: balled and burlapped.
    BalledAndBurlapped,
}
