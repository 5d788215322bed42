//! Handing the host what it may not use.
#![allow(clippy::unnecessary_wraps, reason = "every check has the same signature")]

use crate::interface::amounts::Measured;
use crate::interface::checks::Reading;
use crate::interface::{amounts, area, distance, region, site, width};
use crate::subject;

type Readings = Result<Vec<Reading>, String>;

pub(crate) fn names_no_feature() -> Readings {
    Err(site::label(&[4_000_000_000]).remove(0))
}

pub(crate) fn searches_for_ever() -> Readings {
    Err(format!("{:?}", distance::near(&[subject()], &[subject()], f64::INFINITY)))
}

pub(crate) fn reaches_nowhere() -> Readings {
    Err(format!("{:?}", region::around(&[subject()], f64::NAN, false)))
}

pub(crate) fn scales_by_infinity() -> Readings {
    let area = area::of(&[subject()]).remove(0);
    Err(format!("{:?}", amounts::scale(&[(&area, f64::INFINITY)])))
}

pub(crate) fn overflows() -> Readings {
    let area = area::of(&[subject()]).remove(0);
    let large = amounts::scale(&[(&area, 1e300)]).remove(0);
    Err(format!("{:?}", amounts::scale(&[(&large, 1e300)])))
}

pub(crate) fn adds_apples_to_pears() -> Readings {
    let (area, width) = (area::of(&[subject()]).remove(0), width::drawn(&[subject()]).remove(0));
    Err(format!("{:?}", amounts::add(&[(&area, &width)])))
}

#[allow(unsafe_code, reason = "a handle out of thin air is what is tested")]
pub(crate) fn makes_up_an_amount() -> Readings {
    // SAFETY: none is needed; the host must notice.
    let amount = unsafe { Measured::from_handle(77) };
    Err(format!("{:?}", amounts::values(&[&amount])))
}

#[allow(unsafe_code, reason = "letting go of one handle twice is what is tested")]
pub(crate) fn lets_go_twice() -> Readings {
    let amount = area::of(&[subject()]).remove(0);
    // SAFETY: none is needed; the host must notice.
    let again = unsafe { Measured::from_handle(amount.handle()) };
    drop(amount);
    drop(again);
    Ok(Vec::new())
}
