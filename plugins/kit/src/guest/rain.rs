//! The flow of rain, from the host.

use groundrule_hydrology::channel::Constant;
use groundrule_hydrology::graphical::Storm;
use groundrule_hydrology::rational::Form;

use super::Host;
use super::bindings::groundrule::rules::amounts::Measured;
use super::bindings::groundrule::rules::runoff;
use crate::{Channel, Runoff, Water};

type Answers = Vec<Option<Measured>>;

impl Runoff for Host {
    fn product(&self, items: &[Vec<(&Measured, i8)>]) -> Answers {
        runoff::product(items)
    }

    fn composite(&self, items: &[Vec<(&Measured, f64)>]) -> Answers {
        runoff::composite(items)
    }

    fn rounded(&self, items: &[&Measured]) -> Vec<Measured> {
        runoff::rounded(items)
    }

    fn rational_peak(&self, items: &[(&Measured, &Measured, &Measured)], form: Form) -> Answers {
        let form = match form {
            Form::Exact => runoff::RationalForm::Exact,
            Form::Customary => runoff::RationalForm::Customary,
        };
        runoff::rational_peak(items, form)
    }

    fn curve_number(&self, cover: &str, soil_group: &str) -> Option<f64> {
        runoff::curve_number(cover, soil_group)
    }

    fn covers(&self) -> Vec<String> {
        runoff::covers()
    }

    fn with_hard_ground(&self, items: &[(&Measured, &Measured, Option<&Measured>)]) -> Answers {
        runoff::with_hard_ground(items)
    }

    fn runoff_depth(&self, items: &[(&Measured, &Measured)]) -> Answers {
        runoff::runoff_depth(items)
    }

    fn graphical_peak(
        &self,
        items: &[(&Measured, &Measured, &Measured, &Measured)],
        storm: Storm,
        ponds: f64,
    ) -> Answers {
        let storm = match storm {
            Storm::I => runoff::Storm::I,
            Storm::Ia => runoff::Storm::Ia,
            Storm::II => runoff::Storm::Ii,
            Storm::III => runoff::Storm::Iii,
        };
        runoff::graphical_peak(items, storm, ponds)
    }

    fn quality_volume(&self, items: &[(&Measured, &Measured, &Measured)]) -> Answers {
        runoff::quality_volume(items)
    }

    fn sheet_time(&self, items: &[(&Measured, &Measured, &Measured, f64)]) -> Answers {
        runoff::sheet_time(items)
    }

    fn shallow_speed(&self, items: &[(&Measured, bool)]) -> Answers {
        runoff::shallow_speed(items)
    }

    fn kirpich_time(&self, items: &[(&Measured, &Measured)]) -> Answers {
        runoff::kirpich_time(items)
    }

    fn wetted_speed(&self, items: &[(&Measured, &Measured, &Measured, f64)], constant: Constant) -> Answers {
        runoff::wetted_speed(items, constant_out(constant))
    }

    fn at_depth(&self, items: &[(Channel<'_, Measured>, &Measured)]) -> Vec<Option<Water<Measured>>> {
        runoff::at_depth(&channels(items)).into_iter().map(water).collect()
    }

    fn at_flow(&self, items: &[(Channel<'_, Measured>, &Measured)]) -> Vec<Option<Water<Measured>>> {
        runoff::at_flow(&channels(items)).into_iter().map(water).collect()
    }
}

const fn constant_out(constant: Constant) -> runoff::ManningConstant {
    match constant {
        Constant::Exact => runoff::ManningConstant::Exact,
        Constant::Us1486 => runoff::ManningConstant::Us1486,
        Constant::Us149 => runoff::ManningConstant::Us149,
    }
}

fn channels<'a>(items: &[(Channel<'a, Measured>, &'a Measured)]) -> Vec<(runoff::Channel<'a>, &'a Measured)> {
    let channel = |of: &Channel<'a, Measured>| runoff::Channel {
        width: of.width,
        side: of.side,
        slope: of.slope,
        roughness: of.roughness,
        constant: constant_out(of.constant),
    };
    items.iter().map(|(of, given)| (channel(of), *given)).collect()
}

fn water(found: Option<runoff::Water>) -> Option<Water<Measured>> {
    found.map(|found| Water { depth: found.depth, flow: found.flow, speed: found.speed })
}
