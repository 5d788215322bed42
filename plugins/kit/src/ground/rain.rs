//! The flow of rain, by published methods.

use groundrule_hydrology::channel::Constant;
use groundrule_hydrology::graphical::Storm;
use groundrule_hydrology::rational::Form;

use crate::Amounts;

/// A swale or a pipe.
#[derive(Clone, Copy, Debug)]
pub struct Channel<'a, A> {
    /// Width of its bed, none for a triangle; of a pipe its inside diameter.
    pub width: Option<&'a A>,
    /// How far its sides go out for each unit they rise; none for a pipe.
    pub side: Option<f64>,
    /// Its slope along the flow.
    pub slope: &'a A,
    /// Manning's n.
    pub roughness: f64,
    /// Which constant to use.
    pub constant: Constant,
}

/// Water that runs in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Water<A> {
    /// Its depth.
    pub depth: A,
    /// Its flow.
    pub flow: A,
    /// Its mean speed.
    pub speed: A,
}

/// Number of the soft part, hard share, and the share of that which is not connected.
type HalfHard<'a, A> = (&'a A, &'a A, Option<&'a A>);
/// Area, curve number, rain of a day and time of concentration.
type Four<'a, A> = (&'a A, &'a A, &'a A, &'a A);
/// Three amounts and a roughness.
type Rough<'a, A> = (&'a A, &'a A, &'a A, f64);

/// Methods of runoff. Coefficients, curve numbers and roughness that a plan or a row states are plain numbers; what is
/// measured comes as amounts, and each result is as well known as they are. Where a method has no answer, for a slope of
/// zero or beyond its range, there is none. Rain is a length, its intensity a speed.
pub trait Runoff: Amounts {
    /// The product of the amounts of each list, each to a whole power: an area times a depth is a volume, a depth over
    /// a rate a time. Up to eight of them to powers up to four; the product must have a dimension.
    fn product(&self, items: &[Vec<(&Self::Amount, i8)>]) -> Vec<Option<Self::Amount>>;
    /// The mean of a figure of several areas, each weighted by its area, as a ratio.
    fn composite(&self, items: &[Vec<(&Self::Amount, f64)>]) -> Vec<Option<Self::Amount>>;
    /// Each ratio to the nearest whole number, as curve numbers are tabulated.
    fn rounded(&self, items: &[&Self::Amount]) -> Vec<Self::Amount>;
    /// The peak flow by the rational method of each area, coefficient and intensity.
    fn rational_peak(
        &self,
        items: &[(&Self::Amount, &Self::Amount, &Self::Amount)],
        form: Form,
    ) -> Vec<Option<Self::Amount>>;
    /// The tabulated curve number of a cover on soil of a hydrologic group.
    fn curve_number(&self, cover: &str, soil_group: &str) -> Option<f64>;
    /// The names of the covers that have one.
    fn covers(&self) -> Vec<String>;
    /// The curve number of ground by that of its soft part, the share that is hard, and the share of that which runs
    /// over soil first.
    fn with_hard_ground(&self, items: &[HalfHard<'_, Self::Amount>]) -> Vec<Option<Self::Amount>>;
    /// The depth that runs off, by rain and curve number.
    fn runoff_depth(&self, items: &[(&Self::Amount, &Self::Amount)]) -> Vec<Option<Self::Amount>>;
    /// The graphical peak flow of each area, curve number, rain of a day and time of concentration. `ponds` is the share
    /// of the area that is pond or swamp.
    fn graphical_peak(
        &self,
        items: &[Four<'_, Self::Amount>],
        storm: Storm,
        ponds: f64,
    ) -> Vec<Option<Self::Amount>>;
    /// The water to be treated, of each area, rain and hard share.
    fn quality_volume(
        &self,
        items: &[(&Self::Amount, &Self::Amount, &Self::Amount)],
    ) -> Vec<Option<Self::Amount>>;
    /// The time of a sheet, of each length, slope, two-year rain of a day and roughness.
    fn sheet_time(&self, items: &[Rough<'_, Self::Amount>]) -> Vec<Option<Self::Amount>>;
    /// The speed of shallow water on each slope, paved or not.
    fn shallow_speed(&self, items: &[(&Self::Amount, bool)]) -> Vec<Option<Self::Amount>>;
    /// The whole time by Kirpich, of each length and slope.
    fn kirpich_time(&self, items: &[(&Self::Amount, &Self::Amount)]) -> Vec<Option<Self::Amount>>;
    /// The speed of water by Manning, of its area across the flow, its wetted perimeter, slope and roughness.
    fn wetted_speed(
        &self,
        items: &[Rough<'_, Self::Amount>],
        constant: Constant,
    ) -> Vec<Option<Self::Amount>>;
    /// What runs in each channel when the water stands so deep.
    fn at_depth(
        &self,
        items: &[(Channel<'_, Self::Amount>, &Self::Amount)],
    ) -> Vec<Option<Water<Self::Amount>>>;
    /// How deep each flow stands in each channel, and how fast it runs.
    fn at_flow(
        &self,
        items: &[(Channel<'_, Self::Amount>, &Self::Amount)],
    ) -> Vec<Option<Water<Self::Amount>>>;
}
