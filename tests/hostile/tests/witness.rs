//! What a module gets through the interface is what the site measures, spread and all.

use groundrule_sandbox::{Answer, Reading};
use groundrule_site::ground::Figure;
use groundrule_site::region::Draft;
use groundrule_site::runoff::{self, Channel, Constant, Form, Storm};
use groundrule_site::{Fact, FeatureId, Measured, Site};
use groundrule_survey::Surface;
use groundrule_units::{Length, Ratio, Speed};

use crate::garden::SHED_SIGMA;
use crate::{WITNESS, garden, load, run, sandbox, task};

fn amount<'a>(reading: &'a Reading, name: &str) -> &'a Measured {
    match reading.facts.get(name) {
        Some(Fact::Amount(amount)) => amount,
        other => panic!("{name} is {other:?}"),
    }
}

#[test]
fn every_measure_arrives_as_the_site_made_it() {
    let (sandbox, site) = (sandbox(), garden::site());
    let (readings, fuel) = run(&load(&sandbox, "witness", WITNESS), &site, "gap").expect("it runs");
    assert!(fuel > 0 && fuel < 2_000_000, "{fuel}");
    let [reading] = readings.as_slice() else { panic!("{readings:?}") };
    let [house, shed] = ["house", "shed"].map(|id| site.find(id).expect("it is there"));
    assert_eq!(reading.features, [house, shed], "the shed is 3 m away, the pond 5 m");

    let gap = site.clearance(house, shed);
    let pond = site.clearance(house, site.find("pond").expect("it is there"));
    assert_eq!(pond.value().length(), Some(Length::from_metres(5.0)));
    assert_eq!(reading.answer, Answer::Amount(gap.clone()));
    assert_eq!(gap.value().length(), Some(Length::from_metres(3.0)));
    // The house is exact and the shed's near side hangs on both of its corners, so the gap's own oracle is
    // the site's tests; here it must only not be lost on the way.
    assert!(gap.spread().si() > SHED_SIGMA / 2.0, "{:?}", gap.spread());

    let check = |name: &str, expected: Measured| assert_eq!(*amount(reading, name), expected, "{name}");
    check("distance", site.distance(house, shed));
    check("yard", site.yard(house, shed));
    check("area", site.area(house));
    check("covered", site.covered(&[house, shed], None));
    check("overlap", site.overlap(house, shed));
    check("length", site.length(house));
    check("inside", site.length_inside(house, shed));
    check("width", site.drawn_width(house));
    check("twice", gap.add(&gap).expect("both are lengths"));
    check("half", gap.scale(Ratio::from_fraction(0.5)));
    check("range", pond.subtract(&gap).expect("both are lengths"));
    check("total", gap.add(&pond).expect("both are lengths"));
    check("share", gap.ratio(&Measured::exact(Length::from_metres(10.0))).expect("ten metres"));
    assert_eq!(reading.facts.get("value"), Some(&Fact::Text("3.0".to_owned())));
}

#[test]
fn every_place_arrives_as_the_site_made_it() {
    let (sandbox, site) = (sandbox(), garden::site());
    let witness = load(&sandbox, "witness", WITNESS);
    let (readings, _) = witness.run(&site, &task(&site, "places", &["house", "fence"])).expect("it runs");
    let [house, fence] = readings.as_slice() else { panic!("{readings:?}") };
    let mut own = (*site).clone();
    let id = |name: &str| site.find(name).expect("it is there");
    let metres = Length::from_metres;
    let made = |own: &mut Site, draft: Option<Draft>| own.region(&draft.expect("a draft")).expect("a region");
    let around = made(&mut own, site.around(id("house"), metres(1.5), true));
    assert_eq!(house.answer, Answer::Amount(own.area(around)));
    let lines: Vec<FeatureId> = site.lines_of(id("lot")).collect();
    let strips: Vec<_> = lines.iter().map(|&line| made(&mut own, site.strip(line, metres(3.0)))).collect();
    assert_eq!(*amount(house, "strips"), own.covered(&strips, None));
    let legs = (metres(4.0), metres(6.0));
    let corners: Vec<_> = site
        .lot_corners(id("lot"))
        .into_iter()
        .map(|corner| made(&mut own, site.corner_sight(corner, legs, false)))
        .collect();
    assert_eq!(*amount(house, "corners"), own.covered(&corners, Some(id("lot"))));
    assert_eq!(*amount(house, "drives"), own.covered(&[], None), "a house reaches no street");
    let pieces = [&[id("shed"), id("pond"), id("tree")], lines.as_slice()].concat();
    let ring = site.widest_opening(id("house"), &pieces).expect("the lot lines go around it");
    assert_eq!(*amount(house, "opening"), ring.opening);
    assert_eq!(house.facts.get("centrelines"), Some(&Fact::Count(0)), "no street has a width");
    let heights: Vec<f64> = (0..3).map(|i| amount(fence, &format!("height_{i}")).value().si()).collect();
    assert_eq!(heights, [1.8, 1.5, 1.2]);
}

#[test]
fn everything_of_the_ground_arrives_as_the_site_measured_it() {
    let (sandbox, site) = (sandbox(), garden::site());
    let witness = load(&sandbox, "witness", WITNESS);
    let (readings, _) = witness.run(&site, &task(&site, "ground", &["house"])).expect("it runs");
    let [house] = readings.as_slice() else { panic!("{readings:?}") };
    let id = |name: &str| site.find(name).expect("it is there");
    let metres = Length::from_metres;
    let (now, then) = (Surface::Existing, Surface::Proposed);
    assert_eq!(house.answer, Answer::Amount(site.slope_over(now, id("lot"), Figure::Mean)));
    assert_eq!(house.facts.get("known"), Some(&Fact::Flag(true)));
    let check = |name: &str, expected: &Measured| assert_eq!(amount(house, name), expected, "{name}");
    check("level", &site.level(now, id("house"), Figure::Least));
    check("along", &site.slope_along(now, id("house"), Figure::Steepest, (metres(0.0), metres(0.0))));
    check("across", &site.slope_across(now, id("house"), Figure::Mean));
    check("break", &site.slope_break(now, id("house"), metres(1.0)));
    let aspect = site.aspect(now, id("lot")).expect("it falls to the front");
    assert_eq!(amount(house, "aspect").needs, aspect.needs, "north is not known");
    check("contours", &site.contour_length(now, id("lot"), metres(0.25)));
    let (cut, fill) = (site.earth(id("lot")).cut, site.earth(id("lot")).fill);
    assert!(cut.value().si() > 0.0, "the front is cut");
    check("cut", &cut);
    check("fill", &fill);
    let others = [id("shed"), id("pond"), id("tree")];
    for (i, fall) in site.falls(then, id("house"), metres(3.0), &others, &others).into_iter().enumerate() {
        check(&format!("fall_{i}"), &fall.slope);
        check(&format!("drop_{i}"), &fall.fall);
        check(&format!("run_{i}"), &fall.run);
    }
    let mut own = (*site).clone();
    let drafts = site.faces(now, id("lot"), Ratio::from_fraction(0.2)).expect("there is ground");
    assert_eq!(drafts.len(), 1, "the bank along the rear");
    let face = own.face(&drafts[0]);
    check("face_0", &own.distance(id("house"), face.toe));
    check("crest_0", &own.distance(id("house"), face.crest));
    check("high_0", &face.height);
    check("steep_0", &face.slope);
    let hollows = site.hollows(now, id("lot"), &others).expect("there is ground");
    assert_eq!(hollows.len(), 1, "the one before the bank");
    check("hollow_0", &hollows[0].depth);
    check("pond_0", &hollows[0].area);
    check("water_0", &hollows[0].volume);
    check("deepest", &site.deepest(now, id("lot"), &others));
    check("clear_0", &site.keeps_clear(now, id("house"), id("shed")));
    for (line, area) in site.leaves_over(now, id("lot")).expect("there is ground") {
        check(&format!("over_{}", line.0), &area);
    }
    check("to_1", &site.drained_area(now, id("lot"), &others).expect("there is ground")[1]);
    let courses = site.courses(now, id("house"), &others, &others, true).expect("there is ground");
    assert_eq!(courses.len(), 4);
    check("way_0", &courses[0].length);
    check("down_0", &courses[0].fall);
}

#[test]
fn every_method_of_runoff_arrives_as_the_site_has_it() {
    let (sandbox, site) = (sandbox(), garden::site());
    let witness = load(&sandbox, "witness", WITNESS);
    let (readings, fuel) = witness.run(&site, &task(&site, "rain", &["shed"])).expect("it runs");
    assert!(fuel > 3 * 40_000 && fuel < 2_000_000, "{fuel}");
    let [reading] = readings.as_slice() else { panic!("{readings:?}") };
    let area = site.area(site.find("shed").expect("it is there"));
    let (depth, rain) = (Length::from_metres(10.0), Speed::from_millimetres_per_hour(2500.0));
    let (depth, rain) = (Measured::exact(depth), Measured::exact(rain));
    let known = |found: Option<Measured>| found.expect("an answer");
    let half = known(runoff::composite(&[(&area, 0.5)]));
    let slope = half.scale(Ratio::from_fraction(0.04));
    let number = runoff::rounded(&known(runoff::composite(&[(&area, 74.6)])));
    let time = known(runoff::product(&[(&depth, 1), (&rain, -1)]).expect("a time"));
    let check = |name: &str, expected: &Measured| assert_eq!(amount(reading, name), expected, "{name}");
    let peak = known(runoff::rational_peak(&area, &half, &rain, Form::Customary));
    assert!(peak.spread().si() > 0.0, "the shed is not known to the last place");
    assert_eq!(reading.answer, Answer::Amount(peak));
    check("time", &time);
    check("harder", &known(runoff::with_hard_ground(&number, &half, None)));
    check("apart", &known(runoff::with_hard_ground(&number, &slope, Some(&half))));
    check("depth", &known(runoff::runoff_depth(&depth, &number)));
    let storm = [&area, &number, &depth, &time];
    check("graphical", &known(runoff::graphical_peak(storm, Storm::II, Ratio::ZERO)));
    check("quality", &known(runoff::quality_volume(&area, &depth, &half)));
    check("sheet", &known(runoff::sheet_time(&depth, &slope, &depth, 0.24)));
    check("shallow", &known(runoff::shallow_speed(&slope, true)));
    check("wetted", &known(runoff::wetted_speed([&area, &depth, &slope], 0.05, Constant::Us149)));
    check("kirpich", &known(runoff::kirpich_time(&depth, &slope)));
    let pipe = Channel {
        width: Some(&depth),
        side: None,
        slope: &slope,
        roughness: 0.012,
        constant: Constant::Exact,
    };
    let full = runoff::stream(&pipe, &depth).expect("a full pipe");
    check("full", &full.speed);
    let half_flow = full.flow.scale(Ratio::from_fraction(0.5));
    check("partly", &runoff::normal(&pipe, &half_flow).expect("a part of it").depth);
    // TR-55 table 2-2a, from memory: gravel on soil C.
    assert_eq!(reading.facts.get("tabulated"), Some(&Fact::Text("89".to_owned())));
    let covers = u32::try_from(runoff::covers().count()).expect("a few");
    assert_eq!(reading.facts.get("covers"), Some(&Fact::Count(covers)));
}

#[test]
fn a_run_leaves_no_region_behind() {
    let (sandbox, site) = (sandbox(), garden::site());
    let witness = load(&sandbox, "witness", WITNESS);
    let count = site.len();
    let first = run(&witness, &site, "places").expect("it runs");
    assert!(site.feature(FeatureId(u32::try_from(count).expect("a small garden"))).is_none());
    assert_eq!(run(&witness, &site, "places").expect("it runs"), first);
}

#[test]
fn what_the_plan_states_can_be_looked_up() {
    let (sandbox, site) = (sandbox(), garden::site());
    let witness = load(&sandbox, "witness", WITNESS);
    let asked = task(&site, "facts", &["house", "shed", "pond", "tree", "lot.sw-se"]);
    let (readings, _) = witness.run(&site, &asked).expect("it runs");
    insta::assert_debug_snapshot!(readings);
}

#[test]
fn a_task_about_nobody_is_answered_by_nothing() {
    let (sandbox, site) = (sandbox(), garden::site());
    let witness = load(&sandbox, "witness", WITNESS);
    let (readings, _) = witness.run(&site, &task(&site, "gap", &[])).expect("it runs");
    assert_eq!(readings, []);
}

#[test]
fn what_lacks_data_is_lacking() {
    let (sandbox, site) = (sandbox(), garden::site());
    let witness = load(&sandbox, "witness", WITNESS);
    let mut asked = task(&site, "gap", &["house"]);
    asked.parameters.clear();
    let blame = witness.run(&site, &asked).expect_err("the row sets no reach");
    insta::assert_snapshot!(blame.message, @"the parameter reach is not a length");
    assert_eq!(blame.failure, groundrule_sandbox::Failure::Refused);
}

#[test]
fn runs_on_many_threads_are_the_same_run() {
    let (sandbox, site) = (sandbox(), garden::site());
    let witness = load(&sandbox, "witness", WITNESS);
    let alone = run(&witness, &site, "gap").expect("it runs");
    std::thread::scope(|scope| {
        let runs: Vec<_> = (0..8).map(|_| scope.spawn(|| run(&witness, &site, "gap"))).collect();
        for thread in runs {
            assert_eq!(thread.join().expect("no panic").expect("it runs"), alone);
        }
    });
}
