//! Using up what there is, and giving up.
#![allow(clippy::unnecessary_wraps, reason = "every check has the same signature")]
#![allow(clippy::panic, reason = "panicking is what is tested")]

use std::hint::black_box;

use crate::interface::checks::{Answer, Reading};
use crate::interface::{amounts, area, region};
use crate::{reading, subject};

type Readings = Result<Vec<Reading>, String>;

pub(crate) fn loops() -> Readings {
    loop {
        black_box(());
    }
}

/// Nearly all of the work is the host's.
pub(crate) fn works_the_host() -> Readings {
    let crowd = vec![subject(); 1_000];
    loop {
        black_box(area::covered(&crowd, None));
    }
}

pub(crate) fn hoards_memory() -> Readings {
    let mut hoard = Vec::new();
    loop {
        hoard.push(black_box(Vec::<u8>::with_capacity(1 << 20)));
    }
}

pub(crate) fn hoards_amounts() -> Readings {
    let subject = subject();
    let mut hoard = Vec::new();
    loop {
        hoard.extend(area::of(&[subject; 1_000]));
    }
}

/// Of a million regions, each of its own call.
pub(crate) fn makes_regions_for_ever() -> Readings {
    let subject = subject();
    for _ in 0..1_000_000 {
        black_box(region::around(&[subject], 1.0, false));
    }
    Ok(Vec::new())
}

/// Each region has more corners than the one before.
pub(crate) fn makes_a_region_of_a_region_for_ever() -> Readings {
    let mut last = subject();
    loop {
        last = region::around(&[last], 0.5, false)[0].unwrap_or(last);
    }
}

/// Each sum carries the marks of both, so the host's memory doubles while the guest's does not.
pub(crate) fn doubles_an_amount() -> Readings {
    let mut amount = crate::interface::distance::between(&[(subject(), other())]).remove(0);
    loop {
        amount = amounts::add(&[(&amount, &amount)]).remove(0);
    }
}

/// One amount, lent more often in one call than an engine allows that is not told otherwise.
pub(crate) fn lends_a_crowd() -> Readings {
    let amount = area::of(&[subject()]).remove(0);
    Err(format!("It lent {}.", amounts::values(&vec![&amount; 120_000]).len()))
}

fn other() -> u32 {
    crate::interface::task::group("others")[0]
}

/// Small frames fill the stack that the host bounds.
pub(crate) fn recurses() -> Readings {
    fn deeper(depth: u64) -> u64 {
        if black_box(true) { deeper(depth + 1) ^ depth } else { depth }
    }
    Ok(vec![reading(Answer::Count(u32::try_from(deeper(0)).unwrap_or(0)))])
}

/// Large frames fill the stack that the compiler keeps in the guest's own memory.
pub(crate) fn recurses_with_large_frames() -> Readings {
    fn deeper(depth: u64) -> u64 {
        let room = black_box([depth; 64]);
        if black_box(true) { deeper(depth + 1) + room[3] } else { room[5] }
    }
    Ok(vec![reading(Answer::Count(u32::try_from(deeper(0)).unwrap_or(0)))])
}

pub(crate) fn returns_too_much() -> Readings {
    Ok(vec![reading(Answer::NotApplicable("x".repeat(40 << 20)))])
}

pub(crate) fn returns_a_long_text() -> Readings {
    Ok(vec![reading(Answer::NotApplicable("x".repeat(2_001)))])
}

pub(crate) fn panics() -> Readings {
    panic!("no corner of {} is where it should be", subject())
}

pub(crate) fn panics_with_escapes() -> Readings {
    panic!("\u{1b}[2J\u{1b}]0;all is well\u{7}\r\n{}", "a".repeat(3_000))
}

/// Stops without a word: no panic, so no hook.
pub(crate) fn traps() -> Readings {
    std::process::abort()
}

pub(crate) fn refuses() -> Readings {
    Err("\u{1b}[32mall is well\u{1b}[0m\nset the parameter `side`".to_owned())
}
