//! The flow of rain.

use groundrule_kit::{Channel, Constant, Form, Ratio, Runoff, Storm, Water};
use groundrule_site::{Measured, runoff};

use super::Native;

type Answers = Vec<Option<Measured>>;

impl Runoff for Native<'_> {
    fn product(&self, items: &[Vec<(&Measured, i8)>]) -> Answers {
        items.iter().map(|factors| runoff::product(factors).ok().flatten()).collect()
    }

    fn composite(&self, items: &[Vec<(&Measured, f64)>]) -> Answers {
        items.iter().map(|parts| runoff::composite(parts)).collect()
    }

    fn rounded(&self, items: &[&Measured]) -> Vec<Measured> {
        items.iter().map(|of| runoff::rounded(of)).collect()
    }

    fn rational_peak(&self, items: &[(&Measured, &Measured, &Measured)], form: Form) -> Answers {
        items.iter().map(|(area, c, rain)| runoff::rational_peak(area, c, rain, form)).collect()
    }

    fn curve_number(&self, cover: &str, soil_group: &str) -> Option<f64> {
        runoff::of_cover(cover, soil_group)
    }

    fn covers(&self) -> Vec<String> {
        runoff::covers().map(str::to_owned).collect()
    }

    fn with_hard_ground(&self, items: &[(&Measured, &Measured, Option<&Measured>)]) -> Answers {
        items.iter().map(|(number, hard, apart)| runoff::with_hard_ground(number, hard, *apart)).collect()
    }

    fn runoff_depth(&self, items: &[(&Measured, &Measured)]) -> Answers {
        items.iter().map(|(rain, number)| runoff::runoff_depth(rain, number)).collect()
    }

    fn graphical_peak(
        &self,
        items: &[(&Measured, &Measured, &Measured, &Measured)],
        storm: Storm,
        ponds: f64,
    ) -> Answers {
        let ponds = Ratio::from_fraction(ponds);
        items.iter().map(|&(a, n, p, t)| runoff::graphical_peak([a, n, p, t], storm, ponds)).collect()
    }

    fn quality_volume(&self, items: &[(&Measured, &Measured, &Measured)]) -> Answers {
        items.iter().map(|(area, rain, hard)| runoff::quality_volume(area, rain, hard)).collect()
    }

    fn sheet_time(&self, items: &[(&Measured, &Measured, &Measured, f64)]) -> Answers {
        items.iter().map(|(run, slope, rain, n)| runoff::sheet_time(run, slope, rain, *n)).collect()
    }

    fn shallow_speed(&self, items: &[(&Measured, bool)]) -> Answers {
        items.iter().map(|(slope, paved)| runoff::shallow_speed(slope, *paved)).collect()
    }

    fn kirpich_time(&self, items: &[(&Measured, &Measured)]) -> Answers {
        items.iter().map(|(run, slope)| runoff::kirpich_time(run, slope)).collect()
    }

    fn wetted_speed(&self, items: &[(&Measured, &Measured, &Measured, f64)], constant: Constant) -> Answers {
        items.iter().map(|&(a, p, s, n)| runoff::wetted_speed([a, p, s], n, constant)).collect()
    }

    fn at_depth(&self, items: &[(Channel<'_, Measured>, &Measured)]) -> Vec<Option<Water<Measured>>> {
        items.iter().map(|(of, depth)| runoff::stream(&channel(of), depth).map(water)).collect()
    }

    fn at_flow(&self, items: &[(Channel<'_, Measured>, &Measured)]) -> Vec<Option<Water<Measured>>> {
        items.iter().map(|(of, flow)| runoff::normal(&channel(of), flow).map(water)).collect()
    }
}

fn channel<'a>(of: &Channel<'a, Measured>) -> runoff::Channel<'a> {
    runoff::Channel {
        width: of.width,
        side: of.side,
        slope: of.slope,
        roughness: of.roughness,
        constant: of.constant,
    }
}

fn water(found: runoff::Stream) -> Water<Measured> {
    Water { depth: found.depth, flow: found.flow, speed: found.speed }
}
