//! Real levels: Davis 1973 and Maunga Whau. The numbers are taken as metres whatever their unit is.

use groundrule_terrain::{VertexId, cut_and_fill};

use crate::analytic::grid;
use crate::helper::{corners, metres, near, number, oracle, sorted, spot, surface};

fn rows(text: &str, skip: usize) -> Vec<Vec<f64>> {
    let row = |line: &str| line.split(',').map(|n| n.trim().parse().expect("a number")).collect();
    text.lines().skip(skip).filter(|line| !line.is_empty()).map(row).collect()
}

#[test]
fn spot_heights_of_davis() {
    let oracle = oracle("R1_davis_topo");
    let vertices =
        rows(include_str!("../data/davis_topo.csv"), 1).iter().map(|r| spot(r[0], r[1], r[2])).collect();
    let tin = surface(vertices, &[], &[]);
    assert_eq!(tin.facets(), 87);
    let found = sorted(tin.facet_ids().map(|f| tin.corners(f).map(|v| v.0)));
    assert_eq!(found, sorted(corners(&oracle, "triangle_list").into_iter()));
    near("area", tin.plan_area().square_metres(), number(&oracle, "area_sum"));
    near("surface", tin.surface_area().square_metres(), number(&oracle, "surface_area"));
    let (least, mean, greatest) = tin.steepness();
    near("least slope", least.fraction(), number(&oracle, "slope_min"));
    near("mean slope", mean.fraction(), number(&oracle, "slope_area_weighted_mean"));
    near("greatest slope", greatest.fraction(), number(&oracle, "slope_max"));

    let lower_than_all_around = |v: u32| {
        let own = tin.vertices()[v as usize].level;
        let around = tin.facets_around(VertexId(v)).flat_map(|f| tin.corners(f)).filter(|u| u.0 != v);
        around.map(|u| tin.vertices()[u.0 as usize].level).all(|level| level > own)
    };
    assert_eq!((0..52).filter(|v| lower_than_all_around(*v)).collect::<Vec<u32>>(), [3, 45, 49]);
    let rim: usize = tin.facet_ids().map(|f| tin.neighbours(f).iter().filter(|n| n.is_none()).count()).sum();
    assert_eq!(rim, 15);

    let hollows = tin.hollows(&[]);
    assert_eq!(hollows.len(), 1);
    let expected = &oracle["depressions"][0];
    assert_eq!(hollows[0].bottom, VertexId(45));
    near("depth", hollows[0].depth.metres(), number(expected, "depth"));
    near("area of water", hollows[0].area.square_metres(), number(expected, "area"));
    // Over the lowest level there is, as earth to be moved to make it level.
    let level = tin.with_levels(&vec![metres(number(&oracle, "z_min")); 52]);
    let work = cut_and_fill(&tin, &level, None);
    near("volume", work.cut.cubic_metres(), number(&oracle, "volume_above_690_cuft"));
    near("no fill", work.fill.cubic_metres(), 0.0);
    near("volume of water", hollows[0].volume.cubic_metres(), number(expected, "volume"));
}

#[test]
fn crater_of_maunga_whau() {
    let oracle = oracle("R2_volcano_tin");
    let levels = rows(include_str!("../data/volcano.csv"), 0);
    let (vertices, diagonals) =
        grid(87, 61, |i, j| spot(f64::from(j) * 10.0, f64::from(i) * 10.0, levels[i as usize][j as usize]));
    let lines: Vec<&[u32]> = diagonals.iter().map(<[u32; 2]>::as_slice).collect();
    let tin = surface(vertices, &lines, &[]);
    assert_eq!(tin.facets(), 10_320);
    let hollows: Vec<_> = tin.hollows(&[]).into_iter().filter(|h| h.parent.is_none()).collect();
    assert_eq!(hollows.len(), 1);
    let expected = &oracle["largest"];
    assert_eq!(hollows[0].bottom, VertexId(1802));
    near("depth", hollows[0].depth.metres(), number(expected, "depth"));
    near("area", hollows[0].area.square_metres(), number(expected, "area"));
    near("volume", hollows[0].volume.cubic_metres(), number(expected, "volume"));
}
