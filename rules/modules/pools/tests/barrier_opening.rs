//! Barriers around a pool, as rings that the test hands in.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_pools::BarrierOpening;

fn pool() -> Sketch {
    Sketch::new()
        .feature("pool", "water/pool", Rect::metres(5.0, 5.0, 12.0, 9.0))
        .feature("fence", "structure/fence", Rect::metres(1.0, 1.0, 1.0, 15.0))
        .feature("house", "structure/dwelling", Rect::metres(1.0, 20.0, 15.0, 30.0))
        .subjects(&["pool"])
}

#[test]
fn the_widest_opening_with_what_makes_the_ring() {
    let ring = pool().opening("pool", Length::from_metres(0.6), &["fence", "house"]);
    assert_eq!(
        ring.clone().group("barrier", &["fence", "house"]).ask::<BarrierOpening>(),
        "pool: 0.6 m; pieces 2, made_of fence, house"
    );
    let lacking = "pool: lacking barrier around pool";
    assert_eq!(ring.group("barrier", &["fence"]).ask::<BarrierOpening>(), lacking);
    assert_eq!(pool().group("barrier", &["fence"]).ask::<BarrierOpening>(), lacking);
}
